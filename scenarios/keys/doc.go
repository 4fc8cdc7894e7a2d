// Package keys is what a person writes: the keys of scenarios and plans with their units, ranges and
// choices, read strictly from YAML. What is wrong becomes Problems, each with file, line, column, key, what
// is wrong and what would be right.
package keys
