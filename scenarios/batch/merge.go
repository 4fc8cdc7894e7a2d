package batch

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
)

// Merge puts the slices of a sweep together in the folder dir: the same bytes as those of a
// sweep that was never cut. It may be called again. Slices of different plans or programs,
// slices that are missing, given twice or not finished are a Refusal.
func Merge(dir string, parts []string) (Count, error) {
	var first Record
	of := 0
	given := map[int]string{}
	for k, part := range parts {
		r, err := readRecord(part)
		if err != nil {
			return Count{}, refuse("%s is not the folder of a sweep: %v", part, cause(err))
		}
		if r.Slice == "" {
			return Count{}, refuse("%s holds a whole sweep, not a slice of one", part)
		}
		s, err := ParseSlice(r.Slice)
		if err != nil {
			return Count{}, refuse("%s: %v", part, err)
		}
		if k == 0 {
			first, of = r, s.Of
		}
		switch {
		case s.Of != of:
			return Count{}, refuse("%s is slice %s, but %s is one of %d; give the slices of one sweep", part, s, parts[0], of)
		case r.Digest != first.Digest:
			return Count{}, refuse("%s holds results of another plan or scenario than %s", part, parts[0])
		case r.Program != first.Program:
			return Count{}, refuse("%s holds results of another program than %s (%s, %s)", part, parts[0], r.Program, first.Program)
		case given[s.Index] != "":
			return Count{}, refuse("%s and %s are both slice %s", given[s.Index], part, s)
		}
		if _, err := os.Stat(filepath.Join(part, tableName)); err != nil {
			return Count{}, refuse("%s is not finished; resume it with the command that started it", part)
		}
		given[s.Index] = part
	}
	for i := range of {
		if given[i] == "" {
			return Count{}, refuse("slice %s is missing; give all %d", Slice{i, of}, of)
		}
	}
	sweep, err := Load(given[0])
	if err != nil {
		return Count{}, err
	}
	if sweep.Digest() != first.Digest {
		return Count{}, refuse("%s: its plan or scenario has changed since, or this program reads it differently from the one that computed it", given[0])
	}
	f, err := open(sweep, dir, Options{Program: first.Program})
	if err != nil {
		return Count{}, err
	}
	defer f.close()
	for i := range of {
		if err := f.copy(given[i], Slice{i, of}); err != nil {
			return f.journal.count(), err
		}
	}
	return f.journal.count(), f.finish()
}

// Load reads the plan that a folder holds.
func Load(dir string) (*plan.Sweep, error) {
	r, err := readRecord(dir)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(dir, recordName), err)
	}
	var sets []scenarios.Set
	for _, x := range r.Set {
		s, err := scenarios.ParseSet(x.Key+"="+x.Value, x.By)
		if err != nil {
			return nil, err
		}
		sets = append(sets, s)
	}
	return plan.LoadWith(filepath.Join(dir, planName), filepath.Join(dir, scenarioName), sets, r.Sheets)
}

// copied is how many cases are copied with one sync.
const copied = 1000

// copy takes the finished cases of a slice over.
func (f *folder) copy(part string, slice Slice) error {
	lock, err := hold(part)
	if err != nil {
		return err
	}
	defer lock.Unlock()
	from, err := openJournal(filepath.Join(part, journalName), f.journal.sweep, slice, f.sweep.Len())
	if err != nil {
		return err
	}
	defer from.close()
	f.journal.damaged += from.damaged
	if c := from.count(); !c.Complete() {
		return refuse("%s: %d of its %d cases are missing; finish it with the command that started it", part, c.Of-c.Done, c.Of)
	}
	var cases []int
	for i := range f.sweep.Len() {
		if from.mine(i) && !f.journal.has(i) {
			cases = append(cases, i)
		}
	}
	for some := range slices.Chunk(cases, copied) {
		var finished []outcome
		for _, i := range some {
			r, e, err := from.row(i)
			if err != nil {
				return err
			}
			o := outcome{i: i, status: e.status, row: r}
			if e.status != failed {
				o.columns = from.schemas[e.number]
			}
			finished = append(finished, o)
		}
		if err := f.journal.add(finished); err != nil {
			return err
		}
	}
	return nil
}
