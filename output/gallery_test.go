package output

import (
	"bytes"
	"context"
	"flag"
	"os"
	"runtime"
	"testing"

	"muralheat/scenarios"
	"muralheat/thermal"
)

var regen = flag.Bool("regen", false, "write the pictures of the gallery anew")

// TestGallery holds the pictures of README.md to what the program draws today.
func TestGallery(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round differently in the last digit")
	}
	e, ok := scenarios.FindExample(scenarios.BuiltIn)
	if !ok {
		t.Fatal("no built-in example")
	}
	s, err := scenarios.Parse(e.Name, e.Text)
	if err != nil {
		t.Fatal(err)
	}
	c := s.Case()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	files, err := drawings(r)
	if err != nil {
		t.Fatal(err)
	}
	const name = "gallery/ball-touch.png"
	for _, f := range files {
		if f.name != "wall.png" {
			continue
		}
		if *regen {
			if err := os.WriteFile(name, f.data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(f.data, want) {
			t.Errorf("%s is not what is drawn today; look at the new picture, then go test ./output -run Gallery -regen", name)
		}
		return
	}
	t.Fatal("no wall.png drawn")
}
