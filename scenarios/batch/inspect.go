package batch

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"

	"muralheat/scenarios/plan"
)

// Inspection is what the journal of a folder says beside its record.
type Inspection struct {
	Damaged int    // lines that count for nothing
	Foreign int    // whole lines of another plan, scenario or program than sweep.json names
	Missing int    // cases without a line
	SHA256  string // of the table that the journal makes; "" if it makes none, or s is not the plan of the record
}

// Inspect reads the journal of the sweep in dir and changes nothing; s is the plan that the folder
// holds. A folder without a journal returns os.ErrNotExist.
func Inspect(dir string, s *plan.Sweep) (Inspection, error) {
	r, err := readRecord(dir)
	if err != nil {
		return Inspection{}, fmt.Errorf("%s: %w", filepath.Join(dir, recordName), err)
	}
	slice := Slice{}
	if r.Slice != "" {
		if slice, err = ParseSlice(r.Slice); err != nil {
			return Inspection{}, fmt.Errorf("%s: %w", filepath.Join(dir, recordName), err)
		}
	}
	path := filepath.Join(dir, journalName)
	file, err := os.Open(path)
	if err != nil {
		return Inspection{}, err
	}
	defer file.Close()
	j, _, err := readJournal(file, path, bound(r.Digest, r.Program), slice, s.Len())
	if err != nil {
		return Inspection{}, err
	}
	c := j.count()
	found := Inspection{Damaged: j.damaged, Foreign: j.foreign, Missing: c.Of - c.Done}
	if !c.Complete() || s.Digest() != r.Digest {
		return found, nil
	}
	sum := sha256.New()
	f := &folder{dir: dir, sweep: s, record: newRecord(s, r.Program, slice), journal: j}
	if err := f.table(sum); err != nil {
		return found, fmt.Errorf("%s: %w", path, err)
	}
	found.SHA256 = hex.EncodeToString(sum.Sum(nil))
	return found, nil
}
