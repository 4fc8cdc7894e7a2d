package tissue

import "strings"

// Confidence says how far a number can be trusted.
type Confidence string

const (
	High   Confidence = "high"   // read in the source, or confirmed twice
	Medium Confidence = "medium" // read second-hand, or recalled and cross-checked
	Low    Confidence = "low"    // recalled, derived here, or assumed
)

// Value is a number with where it comes from. Low and High span the range in use
// or in the literature; both equal Value where no range is known, so that
// Low <= Value <= High always holds.
//
// Source names the paper, book, standard or data set. It says "from memory" where
// the number was recalled and not read again, and begins with "assumption:" where
// nobody measured it.
type Value struct {
	Value, Low, High float64
	Unit             string // "1" for a pure number
	Source           string
	Confidence       Confidence
}

// Cited returns the source followed by how far it can be trusted.
func (v Value) Cited() string { return v.Source + " [confidence: " + string(v.Confidence) + "]" }

// Assumed reports whether the number is an assumption.
func (v Value) Assumed() bool { return strings.HasPrefix(v.Source, "assumption:") }

// exact is a Value without a known range.
func exact(value float64, unit string, c Confidence, source string) Value {
	return Value{value, value, value, unit, source, c}
}

// within is a Value with a range.
func within(value, low, high float64, unit string, c Confidence, source string) Value {
	return Value{value, low, high, unit, source, c}
}
