package scenarios

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// Problem is one thing wrong in a scenario. Line and Column count from 1 and
// point at the offending value; 0 means the file as a whole.
type Problem struct {
	File         string
	Line, Column int
	Key          string // path of the key, "" for the file as a whole
	Wrong        string // what is wrong
	Right        string // what would be right
}

// Error returns the problem on one line:
//
//	file:line:column: key: what is wrong; what would be right
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", p.Line, p.Column)
	}
	if p.Key != "" {
		b.WriteString(": " + p.Key)
	}
	b.WriteString(": " + p.Wrong)
	if p.Right != "" {
		b.WriteString("; " + p.Right)
	}
	return b.String()
}

// Problems are all problems of a file, in the order of its lines.
type Problems []Problem

// printedProblems caps the text: past that many a person looks at the file, not
// at the list.
const printedProblems = 50

// Error returns one line per problem.
func (ps Problems) Error() string {
	lines := make([]string, 0, len(ps))
	for i, p := range ps {
		if i == printedProblems {
			lines = append(lines, fmt.Sprintf("%s: and %d more problems", p.File, len(ps)-i))
			break
		}
		lines = append(lines, p.Error())
	}
	return strings.Join(lines, "\n")
}

func (ps Problems) sort() {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}

// mark is a place in the text.
type mark struct{ line, column int }

// report collects problems while a file is read, and remembers where each given
// value stands and which values must not be looked at again.
type report struct {
	file     string
	kind     string          // what the file is: scenario or plan
	root     reflect.Type    // of what is read from it
	places   map[string]mark // of every key that was given
	bad      map[string]bool // keys with a problem
	problems Problems
}

func newReport(file, kind string, root reflect.Type) *report {
	return &report{file: file, kind: kind, root: root, places: map[string]mark{"": {1, 1}}, bad: map[string]bool{}}
}

// add notes a problem of a key at a place.
func (r *report) add(key string, m mark, wrong, right string) {
	r.bad[key] = true
	r.problems = append(r.problems, Problem{r.file, m.line, m.column, key, wrong, right})
}

// at notes a problem where the key stands, or else the nearest key above it.
func (r *report) at(key, wrong, right string) {
	for above := key; ; above = parent(above) {
		if m, ok := r.places[above]; ok {
			r.add(key, m, wrong, right)
			return
		}
	}
}

// given reports whether the file holds the key.
func (r *report) given(key string) bool { _, ok := r.places[key]; return ok }

// spoilt reports whether the key, one above or one below it has a problem, so
// that a further check of it would only repeat the first finding.
func (r *report) spoilt(key string) bool {
	for above := key; above != ""; above = parent(above) {
		if r.bad[above] {
			return true
		}
	}
	for b := range r.bad {
		if rest, ok := strings.CutPrefix(b, key); ok && (rest[0] == '.' || rest[0] == '[') {
			return true
		}
	}
	return false
}
