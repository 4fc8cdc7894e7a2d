// Package binomial says what n draws tell of a probability: intervals around a share, the exact test of pairs, the ranks
// between which a median lies, and how many draws a statement takes. It knows nothing of what is drawn.
package binomial

// Confidence is that of every interval: common practice, no source.
const Confidence = 0.95

// Interval is what holds a quantity with Confidence.
type Interval struct{ Low, High float64 }
