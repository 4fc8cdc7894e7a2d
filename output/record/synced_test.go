package record

import (
	"os"
	"path/filepath"
	"testing"

	"muralheat/scenarios/disk"
)

// A file that is written, or put in the place of another, is on disk.
func TestFilesAreSynced(t *testing.T) {
	n, was := 0, disk.Sync
	disk.Sync = func(f *os.File) error { n++; return was(f) }
	defer func() { disk.Sync = was }()
	name := filepath.Join(t.TempDir(), "a")
	if err := write(name, []byte("a")); err != nil || n != 1 {
		t.Errorf("written, synced %d times (%v)", n, err)
	}
	if err := Replace(name, []byte("b")); err != nil || n != 2 {
		t.Errorf("replaced, synced %d times (%v)", n, err)
	}
}
