package drive

import "math"

// Span is one activation of a source that holds a current, and the rest after it.
type Span struct {
	CurrentA float64 // RMS
	OnS      float64
	RestS    float64
}

// course returns the mode in force from time t on, and when it ends, of spans one after another.
func (d *Drive) course(t float64) (m Mode, until float64) {
	for _, s := range d.Course {
		if until += s.OnS; t < until {
			m = d.Mode
			m.CurrentA = s.CurrentA
			return m, math.Min(until, d.OnS)
		}
		if until += s.RestS; t < until {
			return Mode{}, math.Min(until, d.OnS)
		}
	}
	return Mode{}, d.OnS
}

// CourseS is how long spans last together, the last rest left out.
func CourseS(spans []Span) float64 {
	sum := 0.0
	for i, s := range spans {
		sum += s.OnS
		if i < len(spans)-1 {
			sum += s.RestS
		}
	}
	return sum
}
