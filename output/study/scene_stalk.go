package study

func init() { ownQuantities = append(ownQuantities, ownQuantity{"cut-time", cutTimeOf, nil}) }

const cutColumn = "cut_through_s"

// cutTimeOf is how long a loop takes through its stalk.
func cutTimeOf() quantity {
	return quantity{
		name: "time to cut through the stalk", label: "time to cut (s)", column: cutColumn, of: spread, mid: "median", shade: "5 to 95 %",
		extent: func(_, high float64) (float64, float64) { return 0, max(1.3*high, 0.1) }, // room for what never came
		never:  "not cut through before the current ended",
	}
}
