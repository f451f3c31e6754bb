package heic

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"strings"
	"testing"
	"time"
)

const photos = "../../testdata/photos/"

// TestMain lets the test program be the second process of Child, a good one
// and several bad ones.
func TestMain(m *testing.M) {
	switch os.Getenv("FORKWEAR_TEST_CONVERTER") {
	case "":
		os.Exit(m.Run())
	case "good":
		os.Exit(Serve(os.Stdin, os.Stdout, os.Stderr))
	case "hangs":
		time.Sleep(time.Minute)
	case "hungry":
		limitProcess(number(envMemory, DefaultMemoryMB), 30)
		var kept [][]byte
		for range 400 { // 12.5 GB
			b := make([]byte, 32<<20)
			for i := 0; i < len(b); i += 4096 {
				b[i] = 1
			}
			kept = append(kept, b)
			time.Sleep(time.Millisecond)
		}
		os.Exit(len(kept) % 2)
	case "dies":
		os.Stderr.WriteString("SIGSEGV\n")
		os.Exit(139)
	case "garbage":
		os.Stdout.WriteString("PASS\n")
	case "floods":
		chunk := make([]byte, 1<<20)
		for {
			if _, err := os.Stdout.Write(chunk); err != nil {
				os.Exit(1)
			}
		}
	}
	os.Exit(0)
}

func sample(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(photos + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// child is the test program itself as the second process.
func child(t *testing.T, kind string) Child {
	t.Helper()
	me, err := os.Executable()
	if err != nil {
		t.Skip("this system does not say where the test program lies: ", err)
	}
	return Child{Program: me, Env: []string{"FORKWEAR_TEST_CONVERTER=" + kind}}
}

// TestWorkingCopy: the size is exiftool 12.57's (testdata/photos/SOURCES.md);
// the child and the own process must give the same bytes.
func TestWorkingCopy(t *testing.T) {
	data := sample(t, "test8.heic")
	got, err := child(t, "good").JPEG(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(bytes.NewReader(got))
	if err != nil || img.Bounds() != image.Rect(0, 0, 512, 512) {
		t.Fatalf("%v %v", img.Bounds(), err)
	}
	direct, err := Direct{}.JPEG(t.Context(), data)
	if err != nil || !bytes.Equal(direct, got) {
		t.Errorf("in the own process %d bytes, in a second one %d: %v", len(direct), len(got), err)
	}
	// means of R, G, B over the four quarters by vips 8.14.1 with libheif 1.15.1:
	// vips extract_area test8.heic q.png X Y 256 256; vips stats q.png s.csv
	for q, want := range [][3]float64{{191.7087, 95.2565, 98.1986}, {188.1560, 114.7102, 116.8955},
		{149.1048, 71.2820, 94.2913}, {192.1842, 114.9022, 112.6857}} {
		x, y := q%2*256, q/2*256
		if m := mean(img, image.Rect(x, y, x+256, y+256)); distance(m, want) > 2 {
			t.Errorf("quarter %d: mean %v, vips %v", q, m, want)
		}
	}
}

func mean(img image.Image, r image.Rectangle) (m [3]float64) {
	n := float64(r.Dx() * r.Dy())
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			c := color.RGBAModel.Convert(img.At(x, y)).(color.RGBA)
			m[0] += float64(c.R) / n
			m[1] += float64(c.G) / n
			m[2] += float64(c.B) / n
		}
	}
	return m
}

func distance(a, b [3]float64) (d float64) {
	for i := range a {
		d = max(d, math.Abs(a[i]-b[i]))
	}
	return d
}

// TestGeneralBrandFirst: mif1 in front and heic in the list is HEIC all the
// same (ISO/IEC 23008-12, brands, from memory).
func TestGeneralBrandFirst(t *testing.T) {
	data := sample(t, "test8.heic")
	want, err := Direct{}.JPEG(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	renamed := bytes.Clone(data)
	copy(renamed[8:], "mif1")
	got, err := Direct{}.JPEG(t.Context(), renamed)
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("%d bytes, %v", len(got), err)
	}
	if string(renamed[8:12]) != "mif1" {
		t.Error("the caller's bytes were changed")
	}
}

// TestRefused: broken and foreign files, by construction.
func TestRefused(t *testing.T) {
	whole := sample(t, "test8.heic")
	scrambled := bytes.Clone(whole)
	for i := 2000; i < len(scrambled); i++ {
		scrambled[i] ^= byte(i)
	}
	huge := bytes.Clone(whole)
	at := bytes.Index(huge, []byte("ispe"))
	copy(huge[at+8:], []byte{0, 1, 0, 0, 0, 1, 0, 0}) // 65536 x 65536
	for _, c := range []struct {
		name string
		data []byte
		want error
	}{
		{"half", whole[:len(whole)/2], ErrDamaged},
		{"iphone-xs-cut.heic", sample(t, "iphone-xs-cut.heic"), ErrDamaged},
		{"head", whole[:40], ErrDamaged},
		{"huge", huge, ErrTooLarge},
		{"AVIF.avif", sample(t, "AVIF.avif"), ErrNotHEIC},
		{"gps.jpg", sample(t, "gps.jpg"), ErrNotHEIC},
		{"nothing", nil, ErrNotHEIC},
	} {
		got, err := child(t, "good").JPEG(t.Context(), c.data)
		if !errors.Is(err, c.want) || got != nil || strings.Count(err.Error(), "damaged") > 1 {
			t.Errorf("%s: %d bytes, %v, want %v", c.name, len(got), err, c.want)
		}
	}
	// wrong pixels or an error, never a crash
	if got, err := (child(t, "good")).JPEG(t.Context(), scrambled); (err == nil) == (got == nil) {
		t.Errorf("scrambled: %d bytes, %v", len(got), err)
	}
}

// TestBadChildren: what a second process can do wrong.
func TestBadChildren(t *testing.T) {
	data := sample(t, "test8.heic")
	for _, c := range []struct {
		kind string
		want error
		says string
	}{
		{"hangs", ErrTooSlow, "300ms"},
		{"hungry", ErrTooLarge, "64 MB"},
		{"dies", ErrDamaged, "ended with 139"},
		{"garbage", ErrNoChild, "gave no picture"},
		{"floods", ErrTooLarge, "100 MB"},
	} {
		k := child(t, c.kind)
		k.Timeout, k.MemoryMB = 10*time.Second, 64
		if c.kind == "hangs" {
			k.Timeout = 300 * time.Millisecond
		}
		begun := time.Now()
		got, err := k.JPEG(t.Context(), data)
		if !errors.Is(err, c.want) || got != nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %d bytes, %v, want %v", c.kind, len(got), err, c.want)
		}
		if d := time.Since(begun); d > 5*time.Second {
			t.Errorf("%s: %v", c.kind, d)
		}
	}
	if _, err := (Child{Program: "no such program"}).JPEG(t.Context(), data); !errors.Is(err, ErrNoChild) {
		t.Errorf("no program: %v", err)
	}
}

func TestCancelledChildIsEnded(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	time.AfterFunc(100*time.Millisecond, cancel)
	begun := time.Now()
	_, err := child(t, "hangs").JPEG(ctx, sample(t, "test8.heic"))
	if !errors.Is(err, context.Canceled) || time.Since(begun) > 3*time.Second {
		t.Errorf("%v after %v", err, time.Since(begun))
	}
}

// TestNeverItself: a process that is a converter already starts no other.
func TestNeverItself(t *testing.T) {
	t.Setenv(envChild, "1")
	if _, err := child(t, "good").JPEG(t.Context(), sample(t, "test8.heic")); !errors.Is(err, ErrNoChild) {
		t.Errorf("%v", err)
	}
}

// TestOneLine: the reader's inside is not shown to people.
func TestOneLine(t *testing.T) {
	err := damaged(errors.New("decode: out of bounds\nstack trace:\n\t.$11(i32,i32) i32"))
	if !errors.Is(err, ErrDamaged) || strings.Contains(err.Error(), "trace") || !strings.Contains(err.Error(), "(decode: out of bounds); copy it again") {
		t.Error(err)
	}
	if long := damaged(errors.New(strings.Repeat("x", 9000))); len(long.Error()) > 400 {
		t.Errorf("%d letters", len(long.Error()))
	}
}

// TestSizeStatedFalsely: a head that claims more pixels than the picture has
// does not bring the second process's trace into the words.
func TestSizeStatedFalsely(t *testing.T) {
	data := bytes.Clone(sample(t, "test8.heic"))
	at := bytes.Index(data, []byte("ispe")) + 8 // 32 bits each: width, height (ISO/IEC 23008-12, 6.5.3)
	copy(data[at:], "\x00\x00\x27\x10\x00\x00\x27\x10")
	_, err := child(t, "good").JPEG(t.Context(), data)
	if err == nil || strings.ContainsAny(err.Error(), "\n$") || !strings.HasSuffix(err.Error(), "copy it again from the phone") {
		t.Errorf("%v", err)
	}
}
