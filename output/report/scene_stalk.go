package report

import (
	"muralheat/output/document"
	"muralheat/thermal"
)

func init() {
	scenes[thermal.AroundStalk] = scene{
		guide: "wire-loop", unsettled: "The depth under a pulled loop does not converge, and whether it gets through may change.",
		shown: gutShown, inwards: "from the lumen outwards", layer: "wall", surface: "free inner surface",
		cuts: true, assumed: gutAssumed,
		limits: func(c *thermal.Case) document.List {
			return gutLimits(c,
				"Whether a pulled loop gets through is the weakest answer: it depends on the mesh and changes erratically with power and diameter. So does the depth under it.",
				"The vessels of the stalk, which the current has to seal, are not computed: a cut that burns nothing is not a safe one.")
		},
	}
}
