package batch

import (
	"bufio"
	"bytes"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"strconv"

	"muralheat/scenarios"
	"muralheat/scenarios/disk"
)

// A journal is a file of lines that is only ever added to:
//
//	checksum case word number identity {"in": [...], ...}
//
// checksum is the CRC-32C of the rest of the line. Words are the status of a case (ok,
// doubtful, failed; number is its schema), same (number is an identical case, whose line
// holds the result) and columns (number is that of the schema it describes; case is 0).
// The last line of a case counts. A line that is torn or spoilt counts for nothing, its
// case is computed again; what is torn at the end is cut off.
type journal struct {
	file    *os.File
	size    int64 // up to the end of the last whole line
	slice   Slice
	cases   int     // of the sweep
	rows    []entry // of case i at i / slice.Of
	schemas [][]Column
	seen    map[string]int // number of a schema by its text
	firsts  map[identity]int
	spoilt  int // lines that count for nothing
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
func line(i int, s status, number int, id identity, v any) []byte {
	text, err := json.Marshal(v)
	if err != nil {
		panic("batch: " + err.Error()) // plain text does not fail
	}
	rest := fmt.Appendf(nil, "%d %s %d %x %s", i, words[s], number, id, text)
	return append(fmt.Appendf(nil, "%08x ", crc32.Checksum(rest, castagnoli)), append(rest, '\n')...)
}

// split reads a line back; false if it is not whole.
func split(b []byte) (i int, s status, number int, id identity, text []byte, whole bool) {
	sum, rest, _ := bytes.Cut(bytes.TrimSuffix(b, []byte("\n")), []byte(" "))
	want, err := strconv.ParseUint(string(sum), 16, 32)
	if err != nil || b[len(b)-1] != '\n' || crc32.Checksum(rest, castagnoli) != uint32(want) {
		return
	}
	parts := bytes.SplitN(rest, []byte(" "), 5)
	if len(parts) != 5 {
		return
	}
	i, err1 := strconv.Atoi(string(parts[0]))
	number, err2 := strconv.Atoi(string(parts[2]))
	for k, w := range words {
		if w == string(parts[1]) && err1 == nil && err2 == nil {
			s, whole = status(k), true
		}
	}
	if n, err := hex.Decode(id[:], parts[3][:min(len(parts[3]), 2*len(id))]); err != nil || n != len(id) {
		whole = false
	}
	return i, s, number, id, parts[4], whole
}

// openJournal reads the journal of a slice of a sweep and makes ready to add to it.
func openJournal(path string, slice Slice, cases int) (*journal, error) {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, refuse("%s: %v; give another folder with -o", path, cause(err))
	}
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() {
		file.Close()
		return nil, refuse("%s is not a file; give another folder with -o", path)
	}
	j := &journal{file: file, slice: slice, cases: cases, rows: make([]entry, slice.cases(cases)), seen: map[string]int{}, firsts: map[identity]int{}}
	if err := j.read(); err != nil {
		return nil, errors.Join(err, file.Close())
	}
	return j, nil
}

// entry returns that of case i.
func (j *journal) entry(i int) *entry { return &j.rows[i/max(1, j.slice.Of)] }

// has reports whether case i is finished.
func (j *journal) has(i int) bool { return j.entry(i).length > 0 }

// mine reports whether a number is that of a case of this slice.
func (j *journal) mine(i int) bool { return i >= 0 && i < j.cases && j.slice.holds(i) }

// close gives the file back.
func (j *journal) close() error { return j.file.Close() }

func (j *journal) read() error {
	r := bufio.NewReaderSize(j.file, 1<<20)
	at := int64(0)
	for {
		b, err := r.ReadBytes('\n')
		if err != nil && err != io.EOF {
			return err
		}
		if len(b) > 0 {
			if j.take(b, at) {
				j.size = at + int64(len(b))
			} else {
				j.spoilt++
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
	if at == j.size {
		return nil
	}
	return j.file.Truncate(j.size)
}

// take notes what a line holds; false if it counts for nothing.
func (j *journal) take(b []byte, at int64) bool {
	i, s, number, id, text, whole := split(b)
	switch {
	case !whole:
		return false
	case s == columns:
		var cols []Column
		if number != len(j.schemas) || json.Unmarshal(text, &cols) != nil {
			return false
		}
		j.schemas, j.seen[string(text)] = append(j.schemas, cols), number
		return true
	case !j.mine(i), s == same && !j.mine(number), s < failed && (number < 0 || number >= len(j.schemas)):
		return false
	}
	*j.entry(i) = entry{at, int32(len(b)), s, int32(number)}
	if s != same && id != (identity{}) {
		j.firsts[id] = i
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
		b, at := line(o.i, o.status, number, o.id, o.row), j.size
		if err := j.write(b); err != nil {
			return err
		}
		*j.entry(o.i) = entry{at, int32(len(b)), o.status, int32(number)}
	}
	return disk.Sync(j.file)
}

// schema returns the number of a list of columns, written down when it is new.
func (j *journal) schema(list []Column) (int, error) {
	b := line(0, columns, len(j.schemas), identity{}, list)
	_, _, number, _, text, _ := split(b)
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
	_, _, _, _, text, whole := split(b)
	if !whole {
		return r, errors.New("a line has changed since it was read")
	}
	return r, json.Unmarshal(text, &r)
}

// count counts the finished cases.
func (j *journal) count() Count {
	c := Count{Of: len(j.rows)}
	for _, e := range j.rows {
		if e.length > 0 {
			c.add(e, j)
		}
	}
	return c
}
