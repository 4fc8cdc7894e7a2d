package report

import (
	"muralheat/output/document"
	"muralheat/thermal"
)

func init() {
	scenes[thermal.OnWall] = scene{
		guide: "accuracy", shown: gutShown, inwards: "from the lumen outwards", layer: "wall", surface: "free inner surface",
		along: true, assumed: gutAssumed,
		limits: func(c *thermal.Case) document.List {
			l := gutLimits(c)
			if c.Cuts() {
				l = append(l, "The width of injury behind a "+string(c.Electrode.Tip)+" that drags through wet tissue does not converge with the mesh.")
			}
			return l
		},
	}
}
