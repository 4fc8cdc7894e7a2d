package keys

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"
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

// PrintedProblems caps the text: past that many a person looks at the file, not
// at the list.
const PrintedProblems = 50

// Error returns one line per problem.
func (ps Problems) Error() string {
	lines := make([]string, 0, len(ps))
	for i, p := range ps {
		if i == PrintedProblems {
			lines = append(lines, fmt.Sprintf("%s: and %d more problems", p.File, len(ps)-i))
			break
		}
		lines = append(lines, p.Error())
	}
	return strings.Join(lines, "\n")
}

// Sort puts problems in the order of their places in the file.
func (ps Problems) Sort() {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}

// mark is a place in the text, or in what By names instead.
type mark struct {
	Line, Column int
	By           string
}

// Report collects problems while a file is read, and remembers where each given
// value stands and which values must not be looked at again.
type Report struct {
	File     string
	By       string          // what gives the values read now in place of the file, as "--set"
	kind     string          // what the file is: scenario or plan
	root     reflect.Type    // of what is read from it
	Places   map[string]mark // of every key that was given
	Bad      map[string]bool // keys with a problem
	Problems Problems
}

// NewReport starts the report of a file; kind names what it is, root is the type it is read into.
func NewReport(file, kind string, root reflect.Type) *Report {
	return &Report{File: file, kind: kind, root: root, Places: map[string]mark{"": at(1, 1)}, Bad: map[string]bool{}}
}

// Add notes a problem of a key at a place.
func (r *Report) Add(key string, m mark, wrong, right string) {
	r.Bad[key] = true
	r.Problems = append(r.Problems, Problem{cmp.Or(m.By, r.File), m.Line, m.Column, key, wrong, right})
}

// Place returns where a value is.
func (r *Report) Place(n *yaml.Node) mark { return mark{n.Line, n.Column, r.By} }

func at(line, column int) mark { return mark{Line: line, Column: column} }

// At notes a problem where the key stands, or else the nearest key above it.
func (r *Report) At(key, wrong, right string) {
	for above := key; ; above = Parent(above) {
		if m, ok := r.Places[above]; ok {
			r.Add(key, m, wrong, right)
			return
		}
	}
}

// Given reports whether the file holds the key.
func (r *Report) Given(key string) bool { _, ok := r.Places[key]; return ok }

// Spoilt reports whether the key, one above or one below it has a problem, so
// that a further check of it would only repeat the first finding.
func (r *Report) Spoilt(key string) bool {
	for above := key; above != ""; above = Parent(above) {
		if r.Bad[above] {
			return true
		}
	}
	for b := range r.Bad {
		if rest, ok := strings.CutPrefix(b, key); ok && (rest[0] == '.' || rest[0] == '[') {
			return true
		}
	}
	return false
}
