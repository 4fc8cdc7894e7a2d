// Package plan makes many cases of one scenario: designs, draws of what is uncertain, and the limit that is
// sought of a key.
package plan
