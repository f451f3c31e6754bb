package main

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestParse(t *testing.T) {
	tests := []struct {
		args string
		want string // part of the error; "" for none
		ok   func(options) bool
	}{
		{"run", "", func(o options) bool { return o.command == "run" && !o.yes }},
		{"run -y", "", func(o options) bool { return o.yes }},
		{"run -- --library /x", "", func(o options) bool { return slices.Equal(o.args, []string{"--library", "/x"}) }},
		{"run --library /x", "library", nil},
		{"test -y", "", func(o options) bool { return o.command == "test" && o.yes }},
		{"test extra", "extra", nil},
		{"tour", "", func(o options) bool { return o.size == size{1280, 800} && o.scale == 1 && !o.dark && o.out == "" }},
		{"tour --out d --size 1600x1000 --scale 2 --dark", "", func(o options) bool {
			return o.out == "d" && o.size == size{1600, 1000} && o.scale == 2 && o.dark
		}},
		{"tour --size 1280", "WIDTHxHEIGHT", nil},
		{"tour --size 1280x800x24", "WIDTHxHEIGHT", nil},
		{"tour --size 100x100", "outside", nil},
		{"tour --size 9999x9999", "outside", nil},
		{"tour --scale NaN", "scale", nil},
		{"tour --scale +Inf", "scale", nil},
		{"tour --scale 0", "scale", nil},
		{"tour --scale big", "scale", nil},
		{"bench --bench Wear", "", func(o options) bool { return o.bench == "Wear" }},
		{"walk", "no command", nil},
		{"", "missing", nil},
	}
	for _, tt := range tests {
		t.Run(tt.args, func(t *testing.T) {
			o, err := parse(strings.Fields(tt.args))
			switch {
			case tt.want == "" && (err != nil || !tt.ok(o)):
				t.Errorf("parsed as %+v, %v", o, err)
			case tt.want != "" && (err == nil || !strings.Contains(err.Error(), tt.want)):
				t.Errorf("error %v, want one about %q", err, tt.want)
			}
		})
	}
	for _, help := range []string{"help", "--help", "tour -h"} {
		if _, err := parse(strings.Fields(help)); !errors.Is(err, errHelp) {
			t.Errorf("%s: %v, want help", help, err)
		}
	}
}

func TestScaledRoundsUp(t *testing.T) {
	if got := (size{1281, 801}).scaled(1.5); got != (size{1922, 1202}) { // 1921.5, 1201.5
		t.Error(got)
	}
}
