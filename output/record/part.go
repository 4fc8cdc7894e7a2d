package record

import (
	"os"
	"path/filepath"
	"strings"

	"github.com/gofrs/flock"
)

// A part is the folder beside its final place into which a run writes. The file of its name with
// .lock is locked for as long as the run is at work, so that the next one knows what a kill has left.
type part struct {
	dir  string
	lock *flock.Flock
}

const lockExt = ".lock"

func partPrefix(base string) string { return "." + base + ".part-" }

// newPart makes an empty part for results named base.
func newPart(parent, base string) (*part, error) {
	for {
		file, err := os.CreateTemp(parent, partPrefix(base)+"*"+lockExt)
		if err != nil {
			return nil, err
		}
		file.Close()
		p := &part{strings.TrimSuffix(file.Name(), lockExt), flock.New(file.Name())}
		if held, err := p.hold(); !held && err == nil { // another run has taken it for one that was left
			continue
		} // where nothing can be locked, nothing is cleared either
		// MkdirTemp would make a private folder; results get the usual permissions.
		if err := os.Mkdir(p.dir, 0o755); err != nil {
			p.remove()
			return nil, err
		}
		return p, nil
	}
}

// hold locks the part; false if another process has, or has removed it meanwhile.
func (p *part) hold() (bool, error) {
	if got, err := p.lock.TryLock(); err != nil || !got {
		return false, err
	}
	held, err1 := p.lock.Stat()
	there, err2 := os.Stat(p.lock.Path())
	if err1 != nil || err2 != nil || !os.SameFile(held, there) {
		p.lock.Unlock()
		return false, nil
	}
	return true, nil
}

// remove removes the part, then its lock.
func (p *part) remove() {
	os.RemoveAll(p.dir)
	if os.Remove(p.lock.Path()) != nil { // not every system removes what is open
		p.lock.Unlock()
		os.Remove(p.lock.Path())
		return
	}
	p.lock.Unlock()
}

// clearParts removes the parts of base that no run is at work on.
func clearParts(parent, base string) {
	entries, _ := os.ReadDir(parent)
	for _, e := range entries {
		if dir, ok := strings.CutSuffix(e.Name(), lockExt); ok && strings.HasPrefix(dir, partPrefix(base)) {
			p := &part{filepath.Join(parent, dir), flock.New(filepath.Join(parent, e.Name()))}
			if held, _ := p.hold(); held {
				p.remove()
			}
		}
	}
}
