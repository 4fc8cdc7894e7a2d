// Package sources draws and tabulates what the sources of source sheets give to resistances.
package sources
