package vault

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"

	"forkwear/media/format"
)

const photos = "../../testdata/photos/"

func open(t *testing.T) *Vault {
	t.Helper()
	v, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func add(t *testing.T, v *Vault, name string) Original {
	t.Helper()
	o, existed, err := v.Add(t.Context(), photos+name)
	if err != nil || existed {
		t.Fatalf("%s: existed %v, %v", name, existed, err)
	}
	return o
}

func TestAddAndRead(t *testing.T) {
	v := open(t)
	o := add(t, v, "test_exif_canon.jpg")
	// sha256sum testdata/photos/test_exif_canon.jpg (GNU coreutils)
	const sum = "6bfdabd4fc33d112283c147acccc574e770bbe6fbdbc3d4da968ba7b606ecc2f"
	if o.SHA256 != sum || o.Format != format.JPEG || o.Bytes != 7958 {
		t.Errorf("%+v", o)
	}
	want, _ := os.ReadFile(photos + "test_exif_canon.jpg")
	got, err := v.Read(t.Context(), sum)
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("read back %d bytes, %v", len(got), err)
	}
	path, err := v.Path(sum)
	if err != nil || !strings.HasSuffix(filepath.ToSlash(path), "/originals/"+sum[:2]+"/"+sum[2:]+".jpg") {
		t.Errorf("path %s, %v", path, err)
	}
	if st, err := os.Stat(path); err != nil || runtime.GOOS != "windows" && st.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", st.Mode(), err)
	}
	if left, _ := os.ReadDir(filepath.Join(v.Dir(), "tmp")); len(left) != 0 {
		t.Errorf("%d temporary files left", len(left))
	}
}

func TestSameBytesTwice(t *testing.T) {
	v := open(t)
	o := add(t, v, "gps.jpg")
	again := filepath.Join(t.TempDir(), "another name.png")
	data, _ := os.ReadFile(photos + "gps.jpg")
	if err := os.WriteFile(again, data, 0o600); err != nil {
		t.Fatal(err)
	}
	o2, existed, err := v.Add(t.Context(), again)
	if err != nil || !existed || o2 != o {
		t.Errorf("%+v existed %v, %v", o2, existed, err)
	}
}

func TestManyAtOnce(t *testing.T) {
	v := open(t)
	data, _ := os.ReadFile(photos + "test.webp")
	var wg sync.WaitGroup
	var mu sync.Mutex
	fresh := 0
	for range 16 {
		wg.Go(func() {
			_, existed, err := v.Put(t.Context(), data)
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				t.Error(err)
			}
			if !existed {
				fresh++
			}
		})
	}
	wg.Wait()
	if fresh != 1 {
		t.Errorf("%d of 16 say that it was new", fresh)
	}
}

func TestDamageIsSeenAndRepaired(t *testing.T) {
	v := open(t)
	o := add(t, v, "gps.jpg")
	good := add(t, v, "test.webp")
	path, _ := v.Path(o.SHA256)
	data, _ := os.ReadFile(path)
	data[1000] ^= 1
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if got, err := v.Read(t.Context(), o.SHA256); !errors.Is(err, ErrCorrupt) || got != nil {
		t.Errorf("read: %d bytes, %v", len(got), err)
	}
	r, err := v.Open(o.SHA256)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(io.Discard, r); !errors.Is(err, ErrCorrupt) {
		t.Errorf("stream: %v", err)
	}
	r.Close()
	n, faults, err := v.Check(t.Context(), nil)
	if err != nil || n != 2 || len(faults) != 1 || !errors.Is(faults[0].Err, ErrCorrupt) || faults[0].Path != path {
		t.Errorf("check: %d, %v, %v", n, faults, err)
	}
	if _, existed, err := v.Add(t.Context(), photos+"gps.jpg"); err != nil || !existed {
		t.Errorf("repair: existed %v, %v", existed, err)
	}
	for _, sum := range []string{o.SHA256, good.SHA256} {
		if _, err := v.Read(t.Context(), sum); err != nil {
			t.Error(err)
		}
	}
	if err := os.Truncate(path, 10); err != nil {
		t.Fatal(err)
	}
	if _, err := v.Read(t.Context(), o.SHA256); !errors.Is(err, ErrCorrupt) {
		t.Errorf("cut off: %v", err)
	}
}

func TestRefused(t *testing.T) {
	v := open(t)
	large := filepath.Join(t.TempDir(), "large.jpg")
	f, err := os.Create(large)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(f.Truncate(MaxBytes+1), f.Close()); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]error{
		large: ErrTooLarge, photos + "text.jpg": ErrNotPhoto, photos + "empty.jpg": ErrNotPhoto,
		photos: ErrNotPhoto, photos + "no such file.jpg": os.ErrNotExist,
	} {
		_, _, err := v.Add(t.Context(), path)
		if !errors.Is(err, want) || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: %v, want %v", path, err, want)
		}
	}
	if _, err := v.Read(t.Context(), strings.Repeat("ab", 32)); !errors.Is(err, ErrMissing) {
		t.Errorf("unknown sum: %v", err)
	}
	for _, sum := range []string{"", "../../etc/passwd", strings.Repeat("AB", 32), strings.Repeat("/", 64)} {
		if _, err := v.Read(t.Context(), sum); !errors.Is(err, ErrSum) {
			t.Errorf("sum %q: %v", sum, err)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := v.Add(ctx, photos+"gps.jpg"); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if n, _, _ := v.Check(t.Context(), nil); n != 0 {
		t.Errorf("%d files kept", n)
	}
}

func TestFullAndReadOnlyInWords(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the numbers differ there")
	}
	for err, want := range map[error]error{
		syscall.ENOSPC: ErrFull, syscall.EDQUOT: ErrFull, syscall.EROFS: ErrReadOnly, syscall.EACCES: ErrReadOnly,
	} {
		got := inWords("write into /library", &os.PathError{Op: "write", Path: "/library/x", Err: err})
		if !errors.Is(got, want) || !strings.HasPrefix(got.Error(), "write into /library: ") {
			t.Errorf("%v: %v", err, got)
		}
	}
	if _, err := Open(""); err == nil {
		t.Error("a vault in no folder")
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(file); err == nil {
		t.Error("a vault in a file")
	}
}

// TestFullDisk writes to a device that is always full.
func TestFullDisk(t *testing.T) {
	f, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no such device here: ", err)
	}
	defer f.Close()
	_, err = f.Write([]byte("x"))
	if got := inWords("write", err); !errors.Is(got, ErrFull) {
		t.Errorf("%v", got)
	}
}

func TestPreviews(t *testing.T) {
	v := open(t)
	o := add(t, v, "gps.jpg")
	if _, ok := v.Preview(o.SHA256, 512); ok {
		t.Error("a preview before there is one")
	}
	jpeg, _ := os.ReadFile(photos + "with_exif_orientation_bottom_right.jpg")
	if err := v.PutPreview(t.Context(), o.SHA256, 512, jpeg); err != nil {
		t.Fatal(err)
	}
	if got, ok := v.Preview(o.SHA256, 512); !ok || !bytes.Equal(got, jpeg) {
		t.Error("the preview is not the one kept")
	}
	if err := v.PutPreview(t.Context(), o.SHA256, 64, jpeg[:500]); err != nil {
		t.Fatal(err)
	}
	if _, ok := v.Preview(o.SHA256, 64); ok {
		t.Error("half a preview was given")
	}
	if err := v.DropPreviews(); err != nil {
		t.Fatal(err)
	}
	if _, ok := v.Preview(o.SHA256, 512); ok {
		t.Error("a preview after all were dropped")
	}
	if _, err := v.Read(t.Context(), o.SHA256); err != nil {
		t.Errorf("the original went with them: %v", err)
	}
}

// TestCache: what is kept beside the originals comes back whole or not at all,
// by construction, and goes with the previews.
func TestCache(t *testing.T) {
	v := open(t)
	sum := strings.Repeat("ab", 32)
	jpeg, _ := os.ReadFile(photos + "test_exif_canon.jpg")
	if _, ok := v.WorkingCopy(sum); ok || v.HasPreview(sum, 512) {
		t.Error("something is there before anything was kept")
	}
	err := errors.Join(v.PutWorkingCopy(t.Context(), sum, jpeg), v.PutPreview(t.Context(), sum, 512, jpeg), v.PutFacts(t.Context(), sum, []byte(`{"a":1}`)))
	if err != nil {
		t.Fatal(err)
	}
	if got, ok := v.WorkingCopy(sum); !ok || !bytes.Equal(got, jpeg) || !v.HasPreview(sum, 512) || v.HasPreview(sum, 1600) {
		t.Error("the working copy or the preview is not there")
	}
	if got, ok := v.Facts(sum); !ok || string(got) != `{"a":1}` {
		t.Errorf("facts %q", got)
	}
	if err := v.PutFacts(t.Context(), sum, []byte(`{"a":`)); err != nil {
		t.Fatal(err)
	}
	if _, ok := v.Facts(sum); ok {
		t.Error("half the facts were given")
	}
	if err := v.PutWorkingCopy(t.Context(), "../x", jpeg); !errors.Is(err, ErrSum) {
		t.Errorf("%v", err)
	}
	if _, _, err := v.PutSummed(t.Context(), jpeg, "../x"); !errors.Is(err, ErrSum) {
		t.Errorf("%v", err)
	}
	if _, ok := v.Facts("x"); ok || v.HasPreview("x", 512) {
		t.Error("something is kept under no sum")
	}
	if err := v.DropPreviews(); err != nil {
		t.Fatal(err)
	}
	if _, ok := v.WorkingCopy(sum); ok {
		t.Error("the working copy outlived the cache")
	}
}
