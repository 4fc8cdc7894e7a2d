package keys

import "math"

// OrNone returns 0 for a key that does not apply.
func OrNone(p *float64) float64 {
	if p == nil {
		return 0
	}
	return *p
}

// Num returns NaN for a key that is not given.
func Num(p *float64) float64 {
	if p == nil {
		return math.NaN()
	}
	return *p
}

// Word returns "" for a key that is not given.
func Word(p *string) string {
	if p == nil {
		return ""
	}
	return *p
}

// On returns false for a key that is not given.
func On(p *bool) bool { return p != nil && *p }
