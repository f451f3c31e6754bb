package media

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"forkwear/media/vault"
)

// BenchmarkRead12MP is one photo on one core: hash, EXIF, pixels, both
// previews, quality.
func BenchmarkRead12MP(b *testing.B) {
	picture, thumb := encoded(b, 4032, 3024, 1)
	data := withEXIF(picture, thumb, "1")
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	before := processorTime()
	for b.Loop() {
		if _, err := (Importer{}).read(b.Context(), data, sumOf(data), []int{PreviewSmall, PreviewLarge}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((processorTime()-before).Seconds()*1000/float64(b.N), "cpu-ms/op")
}

// script is the best pipeline of general tools: each started once for many
// files, two at a time. It keeps no original and flushes nothing.
const script = `cd "$IN" && exiftool -csv -n -fast -DateTimeOriginal -OffsetTimeOriginal -Orientation -Make -Model -FocalLengthIn35mmFormat . >"$OUT/exif.csv" 2>/dev/null
ls *.jpg | xargs -P "$JOBS" -n "$EACH" sha256sum >"$OUT/sums"
ls *.jpg | xargs -P "$JOBS" -n "$EACH" vipsthumbnail -s 512 -o "$OUT/%s-512.jpg[Q=85]"
ls *.jpg | xargs -P "$JOBS" -n "$EACH" vipsthumbnail -s 1600 -o "$OUT/%s-1600.jpg[Q=85]"`

// oneByOne is the same with each tool started for each file.
const oneByOne = `cd "$IN" && ls *.jpg | xargs -P "$JOBS" -I{} sh -c 'exiftool -n -fast -DateTimeOriginal -OffsetTimeOriginal -Orientation -Make -Model {} >"$OUT/{}.exif" 2>/dev/null; sha256sum {} >"$OUT/{}.sum"; vipsthumbnail -s 512 -o "$OUT/%s-512.jpg[Q=85]" {}; vipsthumbnail -s 1600 -o "$OUT/%s-1600.jpg[Q=85]" {}'`

// BenchmarkImportBesideTools compares the import with exiftool + sha256sum +
// vipsthumbnail on the same files and cores, in turn, and logs the medians:
//
//	go test -run xxx -bench ImportBesideTools -benchtime 5x ./media
//
// FORKWEAR_BENCH_PHOTOS sets the number of photos (24).
func BenchmarkImportBesideTools(b *testing.B) {
	for _, tool := range []string{"exiftool", "sha256sum", "vipsthumbnail", "xargs"} {
		if _, err := exec.LookPath(tool); err != nil {
			b.Skip("not here: ", tool)
		}
	}
	n, _ := strconv.Atoi(os.Getenv("FORKWEAR_BENCH_PHOTOS"))
	if n <= 0 {
		n = 24
	}
	in := shots(b, n, 4032, 3024)
	jobs := runtime.GOMAXPROCS(0)
	shell := func(text string) time.Duration {
		cmd := exec.Command("sh", "-c", text)
		cmd.Env = append(os.Environ(), "IN="+in, "OUT="+b.TempDir(), fmt.Sprint("JOBS=", jobs), fmt.Sprint("EACH=", (n+jobs-1)/jobs), "VIPS_CONCURRENCY=1")
		begun := time.Now()
		if out, err := cmd.CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		return time.Since(begun)
	}
	ways := []struct {
		name string
		run  func() time.Duration
	}{
		{"import", func() time.Duration { return importAll(b, in, n) }},
		{"tools, many files each", func() time.Duration { return shell(script) }},
		{"tools, one file each", func() time.Duration { return shell(oneByOne) }},
	}
	took, used := make([][]time.Duration, len(ways)), make([][]time.Duration, len(ways))
	for b.Loop() {
		for i, w := range ways {
			before := processorTime()
			took[i] = append(took[i], w.run())
			used[i] = append(used[i], processorTime()-before)
		}
	}
	for i, w := range ways {
		slices.Sort(took[i])
		slices.Sort(used[i])
		med, cpu := took[i][len(took[i])/2], used[i][len(used[i])/2]
		b.Logf("%-24s median %6.2f s of %d rounds (%.2f to %.2f), %5.2f photos/s, %4.0f ms of processor a photo", w.name, med.Seconds(), len(took[i]),
			took[i][0].Seconds(), took[i][len(took[i])-1].Seconds(), float64(n)/med.Seconds(), cpu.Seconds()*1000/float64(n))
		b.ReportMetric(float64(n)/med.Seconds(), strings.Fields(w.name)[0]+strconv.Itoa(i)+"/s")
	}
}

func importAll(b *testing.B, in string, n int) time.Duration {
	v, err := vault.Open(b.TempDir())
	if err != nil {
		b.Fatal(err)
	}
	begun := time.Now()
	results := Import(b.Context(), v, []string{in}, nil)
	took := time.Since(begun)
	for _, r := range results {
		if r.Err != nil {
			b.Fatal(r.Err)
		}
	}
	if len(results) != n {
		b.Fatalf("%d results", len(results))
	}
	return took
}

// BenchmarkImportMemory takes FORKWEAR_BENCH_PHOTOS photos of 12 MP in and logs
// the most memory the process ever held (VmHWM, Linux only).
func BenchmarkImportMemory(b *testing.B) {
	n, _ := strconv.Atoi(os.Getenv("FORKWEAR_BENCH_PHOTOS"))
	if n <= 0 {
		n = 200
	}
	in := shots(b, n, 4032, 3024)
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) // the making of the photos does not count
	var took time.Duration
	for b.Loop() {
		took = importAll(b, in, n)
	}
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		b.Skip("no such figure here")
	}
	_, after, _ := bytes.Cut(status, []byte("VmHWM:"))
	line, _, _ := strings.Cut(string(after), "\n")
	b.Logf("%d photos in %.1f s, %.2f photos/s, at most %s in memory; %s", n, took.Seconds(), float64(n)/took.Seconds(), strings.TrimSpace(line), filepath.Base(in))
}
