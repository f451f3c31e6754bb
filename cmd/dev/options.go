package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
)

const usage = `usage: go run ./cmd/dev COMMAND

  run   [-y] [-- ARGS]    install what is missing, build Forkwear, open it
  test  [-y]              every check: format, vet, staticcheck, tests, the real window
  tour  [-y] [--out DIR] [--size 1280x800] [--scale 1] [--dark] [--here] [--program FILE]
                          walk through the window and take its pictures
  rehearse [-y] [--out DIR] [--program FILE]
                          whole visits in the real window, by keyboard and by pointer
  bench [-y] [--bench RE] run the benchmarks

  -y         install without asking
  --out      folder for the pictures and reports
  --here     on your own display, without pictures, instead of a virtual one
  --program  a built forkwear instead of building one
`

// errHelp says that the user asked for the usage text.
var errHelp = errors.New("help asked for")

// options is the command line, checked.
type options struct {
	command string
	yes     bool
	args    []string // run: handed on to forkwear
	out     string
	size    size
	scale   float64
	dark    bool
	here    bool
	program string
	bench   string
}

// size is that of a window, in units before scaling.
type size struct{ w, h int }

func (s size) String() string { return fmt.Sprintf("%dx%d", s.w, s.h) }

// scaled gives the size in pixels at a scale, rounded up.
func (s size) scaled(by float64) size {
	return size{int(math.Ceil(float64(s.w) * by)), int(math.Ceil(float64(s.h) * by))}
}

var sizeForm = regexp.MustCompile(`^([1-9][0-9]{2,4})x([1-9][0-9]{2,4})$`)

// parseSize reads WIDTHxHEIGHT, each 320 to 8192: smaller is no window,
// larger than X servers and software drawing take.
func parseSize(s string) (size, error) {
	m := sizeForm.FindStringSubmatch(s)
	if m == nil {
		return size{}, fmt.Errorf("size %q is not WIDTHxHEIGHT, such as 1280x800", s)
	}
	w, _ := strconv.Atoi(m[1])
	h, _ := strconv.Atoi(m[2])
	if min(w, h) < 320 || max(w, h) > 8192 {
		return size{}, fmt.Errorf("size %q is outside 320 to 8192", s)
	}
	return size{w, h}, nil
}

// parse reads the command line.
func parse(args []string) (options, error) {
	o := options{size: size{1280, 800}, scale: 1, bench: "."}
	if len(args) == 0 {
		return o, errors.New("a command is missing")
	}
	o.command = args[0]
	fs := flag.NewFlagSet(o.command, flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.BoolVar(&o.yes, "y", false, "")
	sizeText := o.size.String()
	switch o.command {
	case "run", "test":
	case "rehearse":
		fs.StringVar(&o.out, "out", "", "")
		fs.StringVar(&o.program, "program", "", "")
	case "tour":
		fs.StringVar(&o.out, "out", "", "")
		fs.StringVar(&sizeText, "size", sizeText, "")
		fs.Float64Var(&o.scale, "scale", 1, "")
		fs.BoolVar(&o.dark, "dark", false, "")
		fs.BoolVar(&o.here, "here", false, "")
		fs.StringVar(&o.program, "program", "", "")
	case "bench":
		fs.StringVar(&o.bench, "bench", ".", "")
	case "help", "-h", "-help", "--help":
		return o, errHelp
	default:
		return o, fmt.Errorf("there is no command %q", o.command)
	}
	if err := fs.Parse(args[1:]); errors.Is(err, flag.ErrHelp) {
		return o, errHelp
	} else if err != nil {
		return o, err
	}
	if o.command == "run" {
		o.args = fs.Args()
	} else if fs.NArg() > 0 {
		return o, fmt.Errorf("%s does not know what to do with %q", o.command, fs.Arg(0))
	}
	return o.checked(sizeText)
}

// checked adds the size and refuses what no window can be.
func (o options) checked(sizeText string) (options, error) {
	var err error
	if o.size, err = parseSize(sizeText); err != nil {
		return o, err
	}
	if !(o.scale >= 0.5 && o.scale <= 4) { // written so that NaN is refused
		return o, fmt.Errorf("scale %v is outside 0.5 to 4", o.scale)
	}
	return o, nil
}
