package study

// ownQuantity is one that only cases of one scene have. Each scene with one has a file of its own, scene_*.go.
// A sweep knows its scene by the columns of its table.
type ownQuantity struct {
	figure string // its name
	of     func() quantity
	judged *outcome // by it, not by the depth of injury; nil: by that
}

var ownQuantities []ownQuantity
