// Package report says what stands in a credibility report of a run or a sweep; package document renders
// it.
package report
