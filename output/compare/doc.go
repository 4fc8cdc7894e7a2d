// Package compare puts results side by side: one figure at one scale, one table, and what differs between
// their scenarios.
package compare
