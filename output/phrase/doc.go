// Package phrase says in words what a case was and what came of it: the setting, the verdict, the
// reasons of its numbers, short numbers, and the readings that words, tables and figures share. It draws nothing and stores nothing.
package phrase
