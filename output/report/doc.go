// Package report says what stands in a credibility report of a run, a sweep or a limit; package document renders
// it.
package report
