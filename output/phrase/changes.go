package phrase

import (
	"strings"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// Changes says in clauses what is put at keys: the last part of each key, its value and unit.
func Changes(sets []scenarios.Set) string {
	var clauses []string
	above := ""
	for _, s := range sets {
		unit := keys.UnitOf(s.Key)
		clause := Key(s.Key, unit) + " " + strings.TrimSpace(s.Value.String()+" "+UnitText(unit))
		up := keys.Parent(s.Key)
		of := up[strings.LastIndexByte(up, '.')+1:] + " "
		clause = strings.TrimPrefix(clause, of)
		if up != "wall" && up != above { // of what it is
			clause, above = of+clause, up
		}
		if s.Key == "wall.from" {
			clause = "cut open down to the " + s.Value.String()
		}
		clauses = append(clauses, clause)
	}
	return strings.Join(clauses, ", ")
}
