package scenarios

import (
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// Whatever the text, reading it ends in problems or in a case, never in a panic;
// and a case survives being written out and read again.
func FuzzParse(f *testing.F) {
	for _, e := range Examples() {
		f.Add(e.Text)
	}
	for _, c := range yamlProblems {
		f.Add([]byte(strings.Replace(sound, c.old, c.new, 1)))
	}
	for _, s := range spoils {
		for _, c := range s.rows {
			f.Add([]byte(strings.Replace(s.sound, c.old, c.new, 1)))
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := Parse("s.yaml", text)
		if err != nil {
			if err.Error() == "" {
				t.Error("a problem without words")
			}
			return
		}
		s.Notes()
		resolved(t, s)
	})
}

// Several faults at once must neither panic nor hide that there is a fault.
func TestFaultsTogether(t *testing.T) {
	r, n := rand.New(rand.NewPCG(1, 1)), 1000
	if os.Getenv("MURALHEAT_LONG") != "" { // .ci/run sets it
		n = 3000
	}
	for _, s := range spoils {
		for range n {
			text := s.sound
			var names []string
			for range 3 {
				c := s.rows[r.IntN(len(s.rows))]
				text = strings.Replace(text, c.old, c.new, 1)
				names = append(names, c.name)
			}
			if s, err := Parse("s.yaml", []byte(text)); err == nil {
				s.Case()
				t.Errorf("no problem found with %q:\n%s", names, text)
			}
		}
	}
}
