package catalog

import (
	"errors"
	"strings"

	"github.com/BurntSushi/toml"

	"forkwear/inspect"
)

// where says in which file and line a decoder's error lies. The decoder knows
// the line of a syntax error; of a value of the wrong kind only the entry is
// known, whose first line is given.
func where(name string, data []byte, entry *int, err error) error {
	var syntax toml.ParseError
	if errors.As(err, &syntax) && syntax.Position.Line > 0 {
		return inspect.Refuse(inspect.Invalid, "%s line %d: %s", name, syntax.Position.Line, reason(err))
	}
	line := 1
	if entry != nil {
		line = *entry
	} else if key := topLevelKey(err); key != "" {
		line = lineOf(data, toml.Key{key})
	}
	return inspect.Refuse(inspect.Invalid, "%s line %d: %s", name, line, reason(err))
}

func reason(err error) string {
	var syntax toml.ParseError
	if errors.As(err, &syntax) && syntax.Message != "" {
		return syntax.Message
	}
	return strings.TrimPrefix(err.Error(), "toml: ")
}

// topLevelKey finds the list that an error of the outermost table names.
func topLevelKey(err error) string {
	for _, word := range strings.FieldsFunc(err.Error(), func(r rune) bool { return strings.ContainsRune(" \"'.:()", r) }) {
		switch w := strings.ToLower(word); w {
		case "zones", "parts", "kits", "jobs", "checks", "levels", "tasks", "instruments", "symptoms", "causes", "sheets":
			return w
		}
	}
	return ""
}

// entryLine is the line of the header of the n-th entry [[table]], counted from
// 0; 1 where the list is written in another way.
func entryLine(data []byte, table string, n int) int {
	for i, line := range strings.Split(string(data), "\n") {
		if header(line) == table && strings.HasPrefix(strings.TrimSpace(line), "[[") {
			if n == 0 {
				return i + 1
			}
			n--
		}
	}
	return 1
}

// lineOf is the first line on which a key stands under its table: the decoder
// tells unknown keys by name only. 1 where it is not found so.
func lineOf(data []byte, key toml.Key) int {
	table := ""
	for i, line := range strings.Split(string(data), "\n") {
		if h := header(line); h != "" {
			if h == strings.Join(key, ".") {
				return i + 1
			}
			table = h
			continue
		}
		name, _, ok := strings.Cut(line, "=")
		if !ok {
			continue
		}
		path := strings.Trim(strings.TrimSpace(name), `"'`)
		if table != "" {
			path = table + "." + path
		}
		full := strings.Join(key, ".")
		if path == full || strings.HasPrefix(full, path+".") || strings.HasPrefix(path, full+".") {
			return i + 1
		}
	}
	return 1
}

// header is the name in [name] or [[name]], "" on any other line.
func header(line string) string {
	s := strings.TrimSpace(line)
	if s, _, _ = strings.Cut(s, "#"); !strings.HasPrefix(s, "[") {
		return ""
	}
	s = strings.TrimSpace(s)
	if !strings.HasSuffix(s, "]") || strings.ContainsAny(s, "=,") {
		return ""
	}
	return strings.TrimSpace(strings.Trim(s, "[]"))
}
