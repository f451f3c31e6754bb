package catalog

import (
	"strings"
	"testing"

	"forkwear/inspect"
)

func TestStrictDecodeNamesFileAndLine(t *testing.T) {
	for _, row := range []struct{ name, text, want string }{
		{"unknown key", "[[checks]]\nid = \"seals.weep\"\nlimit_grad = 2\n", `shop.toml line 3: "checks.limit_grad" is not a key`},
		{"unknown key in the second entry", "[[checks]]\nid = \"seals.weep\"\n\n[[checks]]\nid = \"seals.lip\"\ncolour = 1\n", `shop.toml line 6: "checks.colour"`},
		{"unknown list", "# mine\n\n[[check]]\nid = \"a\"\n", `shop.toml line 3: "check`},
		{"unknown table in an entry", "[[sheets]]\nid = \"mine\"\n[sheets.life]\n\"seals.weep\" = 3\n", `shop.toml line 3: "sheets.life`},
		{"syntax", "[[checks]]\nid = \"seals.weep\"\nlimit_grade = = 2\n", "shop.toml line 3: "},
		{"kind of value", "\n[[checks]]\nid = \"seals.weep\"\nlimit_grade = \"two\"\n", "shop.toml line 2: "},
		{"list that is none", "\n\nchecks = 3\n", "shop.toml line 3: "},
		{"no id", "[[parts]]\nname = \"a\"\n", "shop.toml line 1: this entry of parts has no id"},
		{"twice", "[[checks]]\nid = \"seals.weep\"\n\n[[checks]]\nid = \"seals.weep\"\n", `shop.toml line 4: the id "seals.weep" stands twice`},
	} {
		_, err := Load(map[string][]byte{"shop.toml": []byte(row.text)})
		if err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: error %v, want one with %q", row.name, err, row.want)
		}
		if inspect.CodeOf(err) != inspect.Invalid {
			t.Errorf("%s: code %q", row.name, inspect.CodeOf(err))
		}
	}
}

func TestAllErrorsOfAllFilesAreTold(t *testing.T) {
	_, err := Load(map[string][]byte{"a.toml": []byte("[[checks]]\nid = \"seals.weep\"\nx = 1\ny = 2\n"), "b.toml": []byte("what\n")})
	for _, want := range []string{"a.toml line 3", "a.toml line 4", "b.toml line 1"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("no %q in %v", want, err)
		}
	}
}

func TestShopOverridesByID(t *testing.T) {
	before := shippedCatalog(t)
	after, err := Load(map[string][]byte{"shop.toml": []byte(`
[[checks]]
id = "seals.weep"
limit_grade = 2.5
levels = []
opened_by = ["symptom:weeping"]
words.3 = "our own word"

[[checks]]
id = "bushings.rock"
limit = 0.30

[[kits]]
id = "seal_kit"
price = 3900

[[sheets]]
id = "generic_36_air_bladder"
limits."bushings.rock" = 0.27

[[sheets]]
id = "our_36"
name = "Our own sheet"
spring = "air"
damper = "bladder"
source = "maker's manual, page 12"
targets."fluid.left" = 20.0
`)})
	if err != nil {
		t.Fatal(err)
	}
	was, _ := before.Check("seals.weep")
	is, _ := after.Check("seals.weep")
	if is.LimitGrade != 2.5 || len(is.Levels) != 0 || is.Words["3"] != "our own word" {
		t.Errorf("override not taken: %+v", is)
	}
	if is.Name != was.Name || is.Words["0"] != was.Words["0"] || is.How != was.How || was.Words["3"] == "our own word" {
		t.Error("an override changed a field that it does not name, or the shipped entry")
	}
	if k, _ := after.Kit("seal_kit"); k.Price != 3900 || k.Name == "" {
		t.Errorf("kit is %+v", k)
	}
	rock, _ := after.Check("bushings.rock")
	s, _ := after.Sheet("generic_36_air_bladder")
	if _, limit := rock.Bounds(s); limit == nil || *limit != 0.27 {
		t.Errorf("limit with the sheet is %v, want the sheet's 0.27", limit)
	}
	if _, limit := rock.Bounds(Sheet{}); limit == nil || *limit != 0.30 {
		t.Errorf("limit without a sheet is %v, want the shop's 0.30", limit)
	}
	if s.Lives["seals.weep"] == 0 || len(after.Sheets) != len(before.Sheets)+1 {
		t.Error("the sheet lost its lives, or the new sheet is not there")
	}
	if before.Hash == after.Hash || len(after.Hash) != 64 {
		t.Errorf("hash %q and %q", before.Hash, after.Hash)
	}
	if again := shippedCatalog(t); again.Hash != before.Hash {
		t.Error("the hash of the same catalog differs")
	}
}

// An override that leaves a hole is refused, with the hole.
func TestOverrideWithAHoleIsRefused(t *testing.T) {
	_, err := Load(map[string][]byte{"shop.toml": []byte("[[checks]]\nid = \"spring.hold\"\nlimit = -5.0\n")})
	if err == nil || !strings.Contains(err.Error(), "wrong side of new") {
		t.Errorf("error %v", err)
	}
}

func FuzzRead(f *testing.F) {
	base, err := Shipped()
	if err != nil {
		f.Fatal(err)
	}
	f.Add([]byte("[[checks]]\nid = \"seals.weep\"\nlimit = 3.0\nwords.3 = \"x\"\n"))
	f.Add([]byte("checks = [{id = \"a\"}]\n[zones]\n"))
	f.Add([]byte("[[sheets]]\nid = \"a\"\n[sheets.new]\n\"b\" = nan\n[[causes]]\nid=\"c\"\nfindings=[\"|\"]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Read(map[string][]byte{"12_bushings.toml": base["12_bushings.toml"]}, map[string][]byte{"shop.toml": data})
		if err != nil {
			if !strings.Contains(err.Error(), "shop.toml line ") {
				t.Fatalf("no line in %v", err)
			}
			return
		}
		c.Validate()
		Causes(c, Sheet{}, Evidence{})
		for _, l := range c.Levels {
			Positions(c, Sheet{}, l.ID, inspect.Received, Evidence{})
		}
	})
}
