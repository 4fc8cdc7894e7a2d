package page

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"muralheat/output/internal/browser"
)

func TestZZ(t *testing.T) {
	path := os.Getenv("ZZ")
	if path == "" {
		t.Skip()
	}
	path, _ = filepath.Abs(path)
	out := os.Getenv("ZZOUT")
	b := browser.Open(t)
	b.Size(1280, 800, "screen")
	b.Show(path)
	var steps []struct {
		W, H        int
		Media, Name string
		Do          string
	}
	if err := json.Unmarshal([]byte(os.Getenv("ZZDO")), &steps); err != nil {
		t.Fatal(err)
	}
	time.Sleep(1500 * time.Millisecond)
	for _, s := range steps {
		if s.W > 0 {
			b.Size(s.W, s.H, s.Media)
		}
		if s.Do != "" {
			var v any
			b.Ask("(()=>{"+s.Do+";return 1})()", &v)
		}
		time.Sleep(600 * time.Millisecond)
		if s.Name != "" {
			b.Shot(filepath.Join(out, s.Name+".png"))
		}
	}
	for _, c := range b.Complaints(path) {
		t.Error(c)
	}
}
