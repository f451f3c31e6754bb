package vault

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"forkwear/media/format"
)

// PutPreview keeps a preview of the original, px pixels along its longer side,
// in the cache.
func (v *Vault) PutPreview(ctx context.Context, sum string, px int, jpeg []byte) error {
	return v.putCached(ctx, sum, previewName(px), jpeg)
}

// Preview gives the cached preview; ok is false when there is none, or none
// that is a JPEG, and it must be made again from the original.
func (v *Vault) Preview(sum string, px int) (jpeg []byte, ok bool) {
	return v.cachedJPEG(sum, previewName(px))
}

// HasPreview tells whether there is a preview without reading it.
func (v *Vault) HasPreview(sum string, px int) bool {
	if !isSum(sum) {
		return false
	}
	st, err := os.Stat(v.cachePath(sum, previewName(px)))
	return err == nil && st.Size() > 0
}

// PutWorkingCopy keeps the upright JPEG of an original whose own format is slow
// to read.
func (v *Vault) PutWorkingCopy(ctx context.Context, sum string, jpeg []byte) error {
	return v.putCached(ctx, sum, "full.jpg", jpeg)
}

// WorkingCopy gives it back; ok is false when it must be made again.
func (v *Vault) WorkingCopy(sum string) (jpeg []byte, ok bool) {
	return v.cachedJPEG(sum, "full.jpg")
}

// PutFacts keeps what reading the original once found out, as JSON.
func (v *Vault) PutFacts(ctx context.Context, sum string, facts []byte) error {
	return v.putCached(ctx, sum, "facts.json", facts)
}

// Facts gives them back; ok is false when there are none or half of them.
func (v *Vault) Facts(sum string) (facts []byte, ok bool) {
	if !isSum(sum) {
		return nil, false
	}
	data, err := os.ReadFile(v.cachePath(sum, "facts.json"))
	return data, err == nil && json.Valid(data)
}

// putCached writes into the cache without flushing it to the disk: half a file
// after a power cut is noticed on reading and made again.
func (v *Vault) putCached(ctx context.Context, sum, name string, data []byte) error {
	if !isSum(sum) {
		return fmt.Errorf("keep a preview of %.80q: %w", sum, ErrSum)
	}
	tmp, err := writeNew(ctx, filepath.Join(v.dir, "tmp"), data, false)
	if err != nil {
		return err
	}
	defer os.Remove(tmp) // nothing there after the rename
	return place(tmp, v.cachePath(sum, name))
}

func (v *Vault) cachedJPEG(sum, name string) (jpeg []byte, ok bool) {
	if !isSum(sum) {
		return nil, false
	}
	data, err := os.ReadFile(v.cachePath(sum, name))
	if err != nil || format.Sniff(data) != format.JPEG || !bytes.HasSuffix(data, []byte{0xFF, 0xD9}) {
		return nil, false
	}
	return data, true
}

// DropPreviews empties the cache.
func (v *Vault) DropPreviews() error {
	dir := filepath.Join(v.dir, "previews")
	if err := os.RemoveAll(dir); err != nil {
		return inWords("empty "+dir, err)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return inWords("make the folder "+dir, err)
	}
	return nil
}

func previewName(px int) string { return strconv.Itoa(px) + ".jpg" }

func (v *Vault) cachePath(sum, name string) string {
	return filepath.Join(v.dir, "previews", sum[:2], sum[2:]+"-"+name)
}
