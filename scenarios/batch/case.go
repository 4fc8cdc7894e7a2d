package batch

import (
	"errors"
	"fmt"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
)

// Column is one quantity of the result of a case.
type Column struct {
	Name string `json:"name"` // with its unit
	Unit string `json:"unit,omitempty"`
	Text string `json:"text"` // what it is
	Word bool   `json:"word,omitempty"`
}

// Tell puts a result into columns, a cell for each. Doubt says which self-check failed,
// "" if none did.
type Tell func(*thermal.Result) (columns []Column, cells []string, doubt string)

// outcome is a finished case.
type outcome struct {
	i       int
	status  status
	first   int // the identical case, of a copy
	id      identity
	columns []Column
	row
}

// tooLarge is a case that needs more memory than there is. It is no row: another machine
// may have it.
type tooLarge struct {
	i    int
	need float64
	may  float64
}

func (e tooLarge) Error() string {
	return fmt.Sprintf("case %d needs %.2g GB of memory, %.2g GB may be used", e.i, e.need/1e9, e.may/1e9)
}

// reason says what is wrong with a case whose values do not go together.
func reason(err error) string {
	var ps keys.Problems
	if !errors.As(err, &ps) {
		return err.Error()
	}
	p := ps[0]
	return p.Key + ": " + p.Wrong + "; " + p.Right
}
