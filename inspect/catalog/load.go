package catalog

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"reflect"
	"sort"
	"strings"

	"github.com/BurntSushi/toml"

	"forkwear/inspect"
)

//go:embed data/*.toml
var shipped embed.FS

// Embedded returns the catalog as it is shipped.
func Embedded() (*Catalog, error) { return Load(nil) }

// Load returns the shipped catalog with a shop's own files laid over it: file
// name to TOML bytes, read in the order of their names. An entry with a known
// id changes only the fields that it names; an entry with a new id is added. A
// file that can't be read, or a catalog with holes, is refused with all of the
// reasons.
func Load(overrides map[string][]byte) (*Catalog, error) {
	base, err := Shipped()
	if err != nil {
		return nil, err
	}
	c, err := Read(base, overrides)
	if err != nil {
		return nil, err
	}
	if holes := c.Validate(); len(holes) > 0 {
		return nil, inspect.Refuse(inspect.Invalid, "the catalog has %d holes: %w", len(holes), errors.Join(holes...))
	}
	return c, nil
}

// Shipped returns the embedded files by name, for a shop that wants to see what
// its own files are laid over. The bytes are copies.
func Shipped() (map[string][]byte, error) {
	entries, err := shipped.ReadDir("data")
	if err != nil {
		return nil, inspect.Refuse(inspect.Internal, "the embedded catalog can't be listed: %w", err)
	}
	files := make(map[string][]byte, len(entries))
	for _, e := range entries {
		b, err := shipped.ReadFile("data/" + e.Name())
		if err != nil {
			return nil, inspect.Refuse(inspect.Internal, "the embedded file %s can't be read: %w", e.Name(), err)
		}
		files[e.Name()] = b
	}
	return files, nil
}

// Read decodes base files and then overrides, each in the order of their names,
// strictly, and without looking for holes. All errors of all files are told.
func Read(base, overrides map[string][]byte) (*Catalog, error) {
	c := &Catalog{}
	sum := sha256.New()
	var errs []error
	for _, layer := range []struct {
		files map[string][]byte
		over  bool
	}{{base, false}, {overrides, true}} {
		for _, name := range sortedNames(layer.files) {
			data := layer.files[name]
			fmt.Fprintf(sum, "%s %d\n", name, len(data))
			sum.Write(data)
			errs = append(errs, c.add(name, data, layer.over)...)
		}
	}
	if len(errs) > 0 {
		return nil, inspect.Refuse(inspect.Invalid, "the catalog can't be read: %w", errors.Join(errs...))
	}
	c.Hash = hex.EncodeToString(sum.Sum(nil))
	return c, nil
}

// file is one TOML file: any of the lists, entries still undecoded so that an
// override changes only what it names.
type file struct {
	Zones       []toml.Primitive `toml:"zones"`
	Parts       []toml.Primitive `toml:"parts"`
	Kits        []toml.Primitive `toml:"kits"`
	Jobs        []toml.Primitive `toml:"jobs"`
	Checks      []toml.Primitive `toml:"checks"`
	Levels      []toml.Primitive `toml:"levels"`
	Tasks       []toml.Primitive `toml:"tasks"`
	Instruments []toml.Primitive `toml:"instruments"`
	Symptoms    []toml.Primitive `toml:"symptoms"`
	Causes      []toml.Primitive `toml:"causes"`
	Sheets      []toml.Primitive `toml:"sheets"`
}

func (c *Catalog) add(name string, data []byte, over bool) []error {
	var f file
	md, err := toml.NewDecoder(bytes.NewReader(data)).Decode(&f)
	if err != nil {
		return []error{where(name, data, nil, err)}
	}
	in := source{name, data, &md, over}
	errs := merge(&c.Zones, f.Zones, in, "zones")
	errs = append(errs, merge(&c.Parts, f.Parts, in, "parts")...)
	errs = append(errs, merge(&c.Kits, f.Kits, in, "kits")...)
	errs = append(errs, merge(&c.Jobs, f.Jobs, in, "jobs")...)
	errs = append(errs, merge(&c.Checks, f.Checks, in, "checks")...)
	errs = append(errs, merge(&c.Levels, f.Levels, in, "levels")...)
	errs = append(errs, merge(&c.Tasks, f.Tasks, in, "tasks")...)
	errs = append(errs, merge(&c.Instruments, f.Instruments, in, "instruments")...)
	errs = append(errs, merge(&c.Symptoms, f.Symptoms, in, "symptoms")...)
	errs = append(errs, merge(&c.Causes, f.Causes, in, "causes")...)
	errs = append(errs, merge(&c.Sheets, f.Sheets, in, "sheets")...)
	for _, key := range md.Undecoded() {
		errs = append(errs, inspect.Refuse(inspect.Invalid, "%s line %d: %q is not a key of the catalog: look at its spelling",
			name, lineOf(data, key), strings.Join(key, ".")))
	}
	return errs
}

// source is the file that entries come from.
type source struct {
	name string
	data []byte
	md   *toml.MetaData
	over bool
}

// merge lays entries over a list by id. In a base file every id stands once;
// in an override it may be known, and then only the named fields change.
func merge[T any](list *[]T, entries []toml.Primitive, in source, table string) []error {
	var errs []error
	inFile := map[string]bool{}
	for i, p := range entries {
		line := entryLine(in.data, table, i)
		var head struct {
			ID string `toml:"id"`
		}
		if err := in.md.PrimitiveDecode(p, &head); err != nil {
			errs = append(errs, where(in.name, in.data, &line, err))
			continue
		}
		at := indexOf(*list, head.ID)
		switch {
		case head.ID == "":
			errs = append(errs, inspect.Refuse(inspect.Invalid, "%s line %d: this entry of %s has no id", in.name, line, table))
			continue
		case inFile[head.ID] || at >= 0 && !in.over:
			errs = append(errs, inspect.Refuse(inspect.Invalid, "%s line %d: the id %q stands twice in %s", in.name, line, head.ID, table))
			continue
		}
		inFile[head.ID] = true
		var entry T
		if at >= 0 {
			entry = clone(reflect.ValueOf((*list)[at])).Interface().(T)
		}
		if err := in.md.PrimitiveDecode(p, &entry); err != nil {
			errs = append(errs, where(in.name, in.data, &line, err))
			continue
		}
		if at >= 0 {
			(*list)[at] = entry
		} else {
			*list = append(*list, entry)
		}
	}
	return errs
}

func indexOf[T any](list []T, id string) int {
	for i := range list {
		if reflect.ValueOf(list[i]).FieldByName("ID").String() == id {
			return i
		}
	}
	return -1
}

// clone copies a value with its maps, slices and pointers: the decoder writes
// into those that it finds, and an override must not reach what it came from.
func clone(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			out.Field(i).Set(clone(v.Field(i)))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(clone(v.Elem()))
		}
	case reflect.Slice:
		if !v.IsNil() {
			out.Set(reflect.AppendSlice(reflect.MakeSlice(v.Type(), 0, v.Len()), v))
		}
	case reflect.Map:
		if !v.IsNil() {
			out.Set(reflect.MakeMapWithSize(v.Type(), v.Len()))
			for _, k := range v.MapKeys() {
				out.SetMapIndex(k, clone(v.MapIndex(k)))
			}
		}
	}
	return out
}

func sortedNames(files map[string][]byte) []string {
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}
