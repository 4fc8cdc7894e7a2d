package stated

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"time"

	"muralheat/scenarios"
)

// LogName is the file of a folder that holds what was stated.
const LogName = "stated.json"

// Log is what was stated of a folder, the first statement first: a later one replaces it, and shows when it came.
type Log struct {
	Caution string  `json:"caution"`
	Entries []Entry `json:"stated"`
}

// Entry is a statement with its time.
type Entry struct {
	Time      time.Time `json:"time_utc"`
	Of        string    `json:"of"`         // digest of the scenario or plan
	Done      int       `json:"cases_done"` // how many cases had been computed then
	Statement Statement `json:"statement"`
	SHA256    string    `json:"sha256"` // of the entry before and of all this
}

// Sum is the checksum that an entry must have after one with the checksum before.
func (e Entry) Sum(before string) string {
	e.SHA256 = before
	text, err := json.Marshal(e)
	if err != nil {
		panic("stated: " + err.Error()) // plain text does not fail
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// Add returns the log with a statement, if it is not the last one already.
func (l Log) Add(s Statement, of string, done int, now time.Time) Log {
	l.Caution = scenarios.Caution
	before := ""
	if n := len(l.Entries); n > 0 {
		if l.States(s, of) {
			return l
		}
		before = l.Entries[n-1].SHA256
	}
	e := Entry{Time: now.UTC().Truncate(time.Second), Of: of, Done: done, Statement: s}
	e.SHA256 = e.Sum(before)
	l.Entries = append(l.Entries[:len(l.Entries):len(l.Entries)], e)
	return l
}

// Whole reports whether every entry has the checksum that it must have.
func (l Log) Whole() bool {
	before := ""
	for _, e := range l.Entries {
		if e.SHA256 != e.Sum(before) {
			return false
		}
		before = e.SHA256
	}
	return true
}

// States reports whether the last entry is a statement on what has the digest of.
func (l Log) States(s Statement, of string) bool {
	n := len(l.Entries)
	return n > 0 && reflect.DeepEqual(l.Entries[n-1].Statement, s) && l.Entries[n-1].Of == of
}

// Encode returns the log as the text of its file.
func (l Log) Encode() []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(l); err != nil {
		panic("stated: " + err.Error())
	}
	return b.Bytes()
}

// Read reads the log of a folder, an empty one if it has none.
func Read(dir string) (l Log, err error) {
	name := filepath.Join(dir, LogName)
	data, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return l, nil
	}
	if err == nil {
		err = json.Unmarshal(data, &l)
	}
	if err != nil {
		return l, fmt.Errorf("%s: %w", name, err)
	}
	return l, nil
}
