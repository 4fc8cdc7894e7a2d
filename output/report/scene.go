package report

import (
	"muralheat/output/document"
	"muralheat/thermal"
)

// scene is what a report says of one scene alone. Each has a file of its own, scene_*.go, where it enters
// itself into scenes.
type scene struct {
	guide     string            // page of the guide with what a finer mesh changes
	unsettled string            // what of it does not converge
	shown     string            // in the cross-section
	inwards   string            // direction in which layers are counted
	layer     string            // role of a layer
	surface   string            // the free inner surface
	cuts      bool              // the electrode cuts even if it does not move through the wall
	along     bool              // a moving electrode goes along a track
	figures   map[string]string // what is seen in a figure of its own, by its name
	assumed   document.List
	limits    func(*thermal.Case) document.List
}

var scenes = map[thermal.Scene]scene{}

func sceneOf(c *thermal.Case) scene { return scenes[c.Scene()] }

// gutAssumed is what is taken for granted of every electrode in the gut.
var gutAssumed = document.List{"Assumption: power is what reaches the tissue; leads, contacts and the path to the neutral electrode take none of it."}

const gutShown = "Cross-section: the highest temperature at each point, the injury line, dried tissue, and the layers."

// gutLimits must not be read out of a report on an injury of the gut wall; more are those of one scene.
func gutLimits(c *thermal.Case, more ...string) document.List {
	l := document.List{
		"Foreseeable misuse: to take the power set for the power delivered (coagulum in animals holds a few per cent of the energy set), a mean wall for the thinnest, a depth without its uncertainty, or a limit of the model for a safe limit.",
		"The conductivity of the separate layers of gut wall has not been measured: that of the whole wall stands for each.",
		"The thickness of single layers has low confidence; that of the whole wall is better known.",
		"Not computed: perforation, bleeding, healing, delayed necrosis beyond the damage integral, flow of injected fluid, toughness of scars.",
	}
	l = append(l, more...)
	if c.Physics.Boiling {
		l = append(l, "The constants of drying and of sparks are guesses over a wide range, and above the onset of sparks the depth depends on them.")
	}
	return l
}
