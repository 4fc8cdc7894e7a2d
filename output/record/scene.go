package record

import (
	"strings"

	"muralheat/thermal"
)

// scene is what the tables have of one scene alone. Each has a file of its own, scene_*.go, where it
// enters itself into scenes.
type scene struct {
	judged  string                                  // the column of the quantity a case is judged by
	columns func(*thermal.Case) []Column            // of summary.csv, before those that every case has
	history []historyColumn                         // of history.csv, besides those that every case has
	lines   func(*strings.Builder, *thermal.Result) // of the printed table, under the verdict
	touched func(*thermal.Case) string              // name of the layer on which metal ends
}

var scenes = map[thermal.Scene]scene{}

// MainColumn is the quantity a case is judged by.
func MainColumn(c *thermal.Case) string { return scenes[c.Scene()].judged }

// innermost is the layer next to the lumen or the skin.
func innermost(c *thermal.Case) string { return c.Layers[0].Name }
