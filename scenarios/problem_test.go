package scenarios

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"muralheat/scenarios/keys"
)

// sound is a scenario without fault; each row of its tables spoils it by replacing one
// piece of text.
const sound = `title: Case
wall:
  site: rectum
electrode:
  tip: disc
  radius_mm: 1
current:
  sparks: false
  power_W: 10
  on_s: 2
`

const (
	ball   = "tip: ball\n  radius_mm: 1"
	disc   = "tip: disc\n  radius_mm: 1"
	needle = "tip: needle\n  radius_mm: 0.2\n  insertion_mm: 1"
	end    = "  on_s: 2\n"
	site   = "  site: rectum\n"
	hand   = "material: {sigma_S_m: 0.4, k_W_mK: 0.5, density_kg_m3: 1050, heat_capacity_J_kgK: 3600, water_fraction: 0.75}"
	layer  = "  layers:\n    - {name: a, thickness_mm: 2, tissue: muscle}\n"
)

type spoilt struct {
	name     string
	old, new string
	want     string // all lines
}

// keyTables are the faults of single keys, those of the text as a whole left out.
var keyTables = slices.Concat(keyProblems, valueProblems, wallProblems, deviceProblems, sourceProblems, modelProblems, probeProblems, handProblems)

// spoils are the sound scenario of each scene and the faults of its keys.
var spoils = []struct {
	sound string
	rows  []spoilt
}{{sound, keyTables}, {padText, padProblems}, {stalkText, stalkProblems}}

func TestProblems(t *testing.T) {
	test := func(sound string, rows []spoilt) {
		if _, err := Parse("s.yaml", []byte(sound)); err != nil {
			t.Fatal(err)
		}
		for _, c := range rows {
			t.Run(c.name, func(t *testing.T) {
				if !strings.Contains(sound, c.old) {
					t.Fatalf("%q is not in the sound scenario", c.old)
				}
				text := strings.Replace(sound, c.old, c.new, 1)
				_, err := Parse("s.yaml", []byte(text))
				if err == nil {
					t.Fatal("no problem found")
				}
				if d := cmp.Diff(c.want, err.Error()); d != "" {
					t.Errorf("%s\n(-want +got)\n%s\ngot:\n%s", text, d, err)
				}
			})
		}
	}
	test(sound, yamlProblems)
	for _, s := range spoils {
		test(s.sound, s.rows)
	}
}

// Line and column point at the value that is wrong, or at its key: what stands
// there begins with the key's name, or follows it.
func TestProblemsPointAtTheValue(t *testing.T) {
	for _, s := range spoils {
		for _, c := range s.rows {
			text := strings.Replace(s.sound, c.old, c.new, 1)
			_, err := Parse("s.yaml", []byte(text))
			var ps keys.Problems
			if !errors.As(err, &ps) {
				t.Fatal(c.name)
			}
			for _, p := range ps {
				key := p.Key[strings.LastIndexByte(p.Key, '.')+1:]
				key = strings.TrimSuffix(strings.TrimRight(key, "[]0123456789"), "...")
				if p.Wrong == "missing" || !strings.Contains(text, key) { // some key above it is meant
					continue
				}
				line := strings.Split(text, "\n")[p.Line-1]
				before, at := line[:p.Column-1], line[p.Column-1:]
				if !strings.HasPrefix(at, key) && !strings.Contains(before, key) && !strings.Contains(at, "name: "+key) {
					t.Errorf("%s: %s points at %q", c.name, p, at)
				}
			}
		}
	}
}

// Unusual but sound ways to write a scenario.
func TestAccepts(t *testing.T) {
	for name, text := range map[string]string{
		"as it is":      sound,
		"CRLF":          strings.ReplaceAll(sound, "\n", "\r\n"),
		"BOM":           "\ufeff" + sound,
		"no end":        strings.TrimSpace(sound),
		"quoted keys":   strings.Replace(sound, "power_W:", "'power_W':", 1),
		"exponent":      strings.Replace(sound, "power_W: 10", "power_W: +1.0e1", 1),
		"no power":      strings.Replace(sound, "power_W: 10", "power_W: 0", 1),
		"one document":  "---\n" + sound + "...\n",
		"adds up":       strings.Replace(sound, site, "  thickness_mm: 2\n"+layer, 1),
		"quoted number": strings.Replace(sound, "title: Case", "title: '12'", 1),
		"other letters": strings.Replace(sound, "title: Case", "title: Ösophagus µ", 1),
	} {
		s, err := Parse("s.yaml", []byte(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		resolved(t, s)
	}
}

// What is wrong with the file itself.
func TestUnreadableFiles(t *testing.T) {
	dir := t.TempDir()
	huge := filepath.Join(dir, "huge.yaml")
	if err := os.WriteFile(huge, []byte(strings.Repeat("# nothing\n", 1<<17)), 0o600); err != nil {
		t.Fatal(err)
	}
	none := filepath.Join(dir, "none.yaml")
	for path, want := range map[string]string{
		dir:  ": a folder, not a file; name a scenario file that can be read",
		none: ": no such file or directory; name a scenario file that can be read",
		huge: ": larger than 1 MB; a scenario fits on a few pages",
	} {
		_, err := Load(path)
		var ps keys.Problems
		if !errors.As(err, &ps) || err.Error() != path+want {
			t.Errorf("Load(%q) = %v, want %q", path, err, path+want)
		}
	}
	locked := filepath.Join(dir, "locked.yaml")
	if err := os.WriteFile(locked, []byte(sound), 0o000); err != nil {
		t.Fatal(err)
	}
	if _, err := os.ReadFile(locked); err != nil { // not so for the superuser
		if _, err := Load(locked); err == nil || !strings.Contains(err.Error(), "permission denied") {
			t.Errorf("Load of an unreadable file: %v", err)
		}
	}
}

// A thousand problems do not fill the screen.
func TestProblemsAreCapped(t *testing.T) {
	_, err := Parse("s.yaml", []byte(sound+strings.Repeat("wrong: 1\n", 1000)))
	if n := strings.Count(err.Error(), "\n") + 1; n != keys.PrintedProblems+1 {
		t.Errorf("%d lines, want %d", n, keys.PrintedProblems+1)
	}
	if !strings.HasSuffix(err.Error(), "s.yaml: and 950 more problems") {
		t.Errorf("the last line does not count the rest:\n%s", err)
	}
}
