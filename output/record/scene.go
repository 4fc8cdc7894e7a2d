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
	touched func(*thermal.Case) []string            // names of the layers on or in which metal ends
}

var scenes = map[thermal.Scene]scene{}

// MainColumn is the quantity a case is judged by.
func MainColumn(c *thermal.Case) string { return scenes[c.Scene()].judged }

// fromSurface lists the first layer of the wall or the skin, a liquid that lies on it, and the layers that a needle goes
// through.
func fromSurface(c *thermal.Case) []string {
	var names []string
	topM := 0.0 // below the surface
	for _, l := range c.Layers {
		if topM > 0 && topM >= c.Electrode.InsertionM {
			break
		}
		names = append(names, l.Name)
		if !l.Above {
			topM += l.ThicknessM
		}
	}
	return names
}
