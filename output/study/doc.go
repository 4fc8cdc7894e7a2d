// Package study reads the table of a sweep back, tells from it what varies, and draws its figures; and
// it writes the answers of a limit search.
package study
