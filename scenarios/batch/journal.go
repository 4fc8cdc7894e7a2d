package batch

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"muralheat/scenarios"
	"muralheat/scenarios/disk"
)

// A journal is a file of lines that is only ever added to:
//
//	checksum sweep case word number identity {"in": [...], ...}
//
// checksum is the CRC-32C of the rest of the line, sweep what it was computed of: plan, scenario and
// program. A journal with a whole line of another sweep is refused. Words are the status of a case (ok,
// doubtful, failed; number is its schema), same (number is an identical case, whose line
// holds the result) and columns (number is that of the schema it describes; case is 0).
// The last line of a case counts. A line that is torn or spoilt counts for nothing, its
// case is computed again; what is torn at the end is cut off.
type journal struct {
	file    *os.File
	size    int64  // up to the end of the last whole line
	sweep   string // what its lines are bound to
	slice   Slice
	cases   int     // of the sweep
	rows    []entry // of case i at i / slice.Of
	schemas [][]Column
	seen    map[string]int // number of a schema by its text
	firsts  map[identity]int
	damaged int // lines that count for nothing
	foreign int // whole lines of another sweep
}

// bound is what the lines of a journal say of the sweep that they were computed of.
func bound(digest, program string) string {
	sum := sha256.Sum256([]byte(digest + "\n" + program))
	return hex.EncodeToString(sum[:6])
}

// entry is where the line of a case is, zero if there is none; rows stay on disk.
type entry struct {
	offset int64
	length int32
	status status
	number int32 // schema, or the identical case
}

type status byte

const (
	ok status = iota
	doubtful
	failed
	same
	columns
)

var words = [...]string{"ok", "doubtful", "failed", "same", "columns"}

// identity is Scenario.Identity; zero for a case without a scenario.
type identity [16]byte

func identityOf(s *scenarios.Scenario) (id identity) {
	if _, err := hex.Decode(id[:], []byte(s.Identity())); err != nil {
		panic("batch: " + err.Error())
	}
	return id
}

// row is what a line says of a case.
type row struct {
	Inputs []string `json:"in"`
	Reason string   `json:"reason,omitempty"`
	Cells  []string `json:"cells,omitempty"`
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// line writes one line.
func line(sweep string, i int, s status, number int, id identity, v any) []byte {
	text, err := json.Marshal(v)
	if err != nil {
		panic("batch: " + err.Error()) // plain text does not fail
	}
	rest := fmt.Appendf(nil, "%s %d %s %d %x %s", sweep, i, words[s], number, id, text)
	return append(fmt.Appendf(nil, "%08x ", crc32.Checksum(rest, castagnoli)), append(rest, '\n')...)
}

// written is a line that was read back.
type written struct {
	sweep  string
	i      int
	status status
	number int
	id     identity
	text   []byte
}

// split reads a line back; false if it is not whole.
func split(b []byte) (w written, whole bool) {
	sum, rest, _ := bytes.Cut(bytes.TrimSuffix(b, []byte("\n")), []byte(" "))
	want, err := strconv.ParseUint(string(sum), 16, 32)
	if err != nil || b[len(b)-1] != '\n' || crc32.Checksum(rest, castagnoli) != uint32(want) {
		return w, false
	}
	parts := bytes.SplitN(rest, []byte(" "), 6)
	if len(parts) != 6 {
		return w, false
	}
	w.sweep, w.text = string(parts[0]), parts[5]
	var err1, err2 error
	w.i, err1 = strconv.Atoi(string(parts[1]))
	w.number, err2 = strconv.Atoi(string(parts[3]))
	k := slices.Index(words[:], string(parts[2]))
	n, err3 := hex.Decode(w.id[:], parts[4][:min(len(parts[4]), 2*len(w.id))])
	if k < 0 || n != len(w.id) || errors.Join(err1, err2, err3) != nil {
		return w, false
	}
	w.status = status(k)
	return w, true
}

// openJournal reads the journal of a slice of a sweep and makes ready to add to it.
func openJournal(path, sweep string, slice Slice, cases int) (*journal, error) {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, refuse("%s: %v; give another folder with -o", path, cause(err))
	}
	j, end, err := readJournal(file, path, sweep, slice, cases)
	switch {
	case err != nil:
	case j.foreign > 0:
		err = refuse("%s: %d lines of its journal are of another plan, scenario or program; give another folder with -o, or --fresh to start over there (what it holds is kept under another name)", filepath.Dir(path), j.foreign)
	case end > j.size:
		err = j.file.Truncate(j.size)
	}
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	return j, nil
}

// readJournal reads a journal and returns where its file ends.
func readJournal(file *os.File, path, sweep string, slice Slice, cases int) (j *journal, end int64, err error) {
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, 0, refuse("%s is not a file; give another folder with -o", path)
	}
	j = &journal{file: file, sweep: sweep, slice: slice, cases: cases, rows: make([]entry, slice.cases(cases)), seen: map[string]int{}, firsts: map[identity]int{}}
	end, err = j.read()
	return j, end, err
}

// entry returns that of case i.
func (j *journal) entry(i int) *entry { return &j.rows[i/max(1, j.slice.Of)] }

// has reports whether case i is finished.
func (j *journal) has(i int) bool { return j.entry(i).length > 0 }

// mine reports whether a number is that of a case of this slice.
func (j *journal) mine(i int) bool { return i >= 0 && i < j.cases && j.slice.holds(i) }

// close gives the file back.
func (j *journal) close() error { return j.file.Close() }

// read notes what the lines hold and returns where the file ends.
func (j *journal) read() (at int64, err error) {
	r := bufio.NewReaderSize(j.file, 1<<20)
	for {
		b, err := r.ReadBytes('\n')
		if err != nil && err != io.EOF {
			return at, err
		}
		if len(b) > 0 {
			switch w, whole := split(b); {
			case whole && w.sweep != j.sweep:
				j.foreign++
			case whole && j.take(w, at, len(b)):
				j.size = at + int64(len(b))
			default:
				j.damaged++
			}
			at += int64(len(b))
		}
		if err == io.EOF {
			break
		}
	}
	for k := range j.rows { // copies of what was lost are lost
		if e := &j.rows[k]; e.status == same {
			if first := j.entry(int(e.number)); first.length == 0 || first.status == same {
				*e = entry{}
			}
		}
	}
	return at, nil
}

// take notes what a line holds; false if it counts for nothing.
func (j *journal) take(w written, at int64, length int) bool {
	switch {
	case w.status == columns:
		var cols []Column
		if w.number != len(j.schemas) || json.Unmarshal(w.text, &cols) != nil {
			return false
		}
		j.schemas, j.seen[string(w.text)] = append(j.schemas, cols), w.number
		return true
	case !j.mine(w.i), w.status == same && !j.mine(w.number), w.status < failed && (w.number < 0 || w.number >= len(j.schemas)):
		return false
	}
	*j.entry(w.i) = entry{at, int32(length), w.status, int32(w.number)}
	if w.status != same && w.id != (identity{}) {
		j.firsts[w.id] = w.i
	}
	return true
}

// add appends the lines of finished cases and makes sure that they are on disk.
func (j *journal) add(finished []outcome) error {
	for _, o := range finished {
		number := o.first
		if o.status == ok || o.status == doubtful {
			var err error
			if number, err = j.schema(o.columns); err != nil {
				return err
			}
		}
		b, at := line(j.sweep, o.i, o.status, number, o.id, o.row), j.size
		if err := j.write(b); err != nil {
			return err
		}
		*j.entry(o.i) = entry{at, int32(len(b)), o.status, int32(number)}
	}
	return disk.Sync(j.file)
}

// schema returns the number of a list of columns, written down when it is new.
func (j *journal) schema(list []Column) (int, error) {
	b := line(j.sweep, 0, columns, len(j.schemas), identity{}, list)
	w, _ := split(b)
	number, text := w.number, w.text
	if n, there := j.seen[string(text)]; there {
		return n, nil
	}
	if err := j.write(b); err != nil {
		return 0, err
	}
	j.schemas, j.seen[string(text)] = append(j.schemas, list), number
	return number, nil
}

// write adds a whole line, or nothing.
func (j *journal) write(b []byte) error {
	if _, err := j.file.WriteAt(b, j.size); err != nil {
		return errors.Join(err, j.file.Truncate(j.size))
	}
	j.size += int64(len(b))
	return nil
}

// row reads the line of case i. A copy has the result of the case it is one of.
func (j *journal) row(i int) (r row, e entry, err error) {
	e = *j.entry(i)
	if r, err = j.at(e); err != nil || e.status != same {
		return r, e, err
	}
	inputs := r.Inputs
	e = *j.entry(int(e.number))
	r, err = j.at(e)
	r.Inputs = inputs
	return r, e, err
}

func (j *journal) at(e entry) (r row, err error) {
	b := make([]byte, e.length)
	if _, err = j.file.ReadAt(b, e.offset); err != nil {
		return r, err
	}
	w, whole := split(b)
	if !whole {
		return r, errors.New("a line has changed since it was read")
	}
	return r, json.Unmarshal(w.text, &r)
}

// count counts the finished cases.
func (j *journal) count() Count {
	c := Count{Of: len(j.rows), Damaged: j.damaged}
	for _, e := range j.rows {
		if e.length > 0 {
			c.add(e, j)
		}
	}
	return c
}
