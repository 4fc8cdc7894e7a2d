package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"muralheat/output/figures"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/thermal"
)

// Member is one of the results that are put side by side.
type Member struct {
	Title    string // what figures call it
	Result   *thermal.Result
	Settings []record.Setting // of its scenario
}

// Most is how many cross-sections fit side by side.
const Most = 12

// Load reads a member from the folder of a run, whose result must be the one that was computed; an empty title is that of
// its scenario.
func Load(dir, title string) (Member, error) {
	if err := record.Unedited(dir); err != nil {
		return Member{}, err
	}
	r, err := record.Load(dir)
	if err != nil {
		return Member{}, err
	}
	m, err := record.ReadManifest(dir)
	if err != nil {
		return Member{}, err
	}
	if title == "" {
		title = r.Case.Title
	}
	return Member{title, r, m.Settings}, nil
}

// Difference is a key whose value is not the same in all members.
type Difference struct {
	Key, Unit string
	Values    []string // "" where a member has no such key
}

// Differences returns the keys that are written in at least one scenario and not the same in all, in the order of a
// scenario. What only follows from them, as a library's values do from the site, is left out.
func Differences(members []Member) []Difference {
	var all []Difference
	place := map[string]int{}
	given := map[string]bool{}
	for n, m := range members {
		for _, s := range m.Settings {
			i, there := place[s.Key]
			if !there {
				i = len(all)
				place[s.Key], all = i, append(all, Difference{s.Key, s.Unit, make([]string, len(members))})
			}
			all[i].Values[n] = s.Value
			given[s.Key] = given[s.Key] || s.Given
		}
	}
	return slices.DeleteFunc(all, func(d Difference) bool {
		return scenarios.Describes(d.Key) || !given[d.Key] || !slices.ContainsFunc(d.Values, func(v string) bool { return v != d.Values[0] })
	})
}

// said names the key, with a value and the unit.
func (d Difference) said(value string) string {
	return strings.TrimSpace(phrase.Key(d.Key, d.Unit) + " " + value + " " + phrase.UnitText(d.Unit))
}

// OfWall says what member n has of the differences of the wall, in clauses.
func OfWall(differences []Difference, n int) (clauses []string) {
	for _, d := range differences {
		if v := d.Values[n]; v != "" && strings.HasPrefix(d.Key, "wall.") {
			clauses = append(clauses, d.said(v))
		}
	}
	return clauses
}

// mostTold is how many differences a line of a figure names.
const mostTold = 3

// told says what differs.
func told(differences []Difference) string {
	var clauses []string
	for _, d := range differences[:min(len(differences), mostTold)] {
		values := slices.Clone(d.Values)
		for n, v := range values {
			if v == "" {
				values[n] = "none"
			}
		}
		clauses = append(clauses, d.said(strings.Join(values, ", ")))
	}
	if more := len(differences) - mostTold; more > 0 {
		clauses = append(clauses, fmt.Sprintf("%d other settings", more))
	}
	return strings.Join(clauses, "; ")
}

// against says how much deeper, nearer to the muscle and with how much more energy a result came out than another.
func against(r, first *thermal.Result) string {
	energy := fmt.Sprintf("energy %s J", Signed("%+.1f", r.Balance.ElectricJ-first.Balance.ElectricJ))
	if r.Case.Scene() == thermal.OnSkin {
		return fmt.Sprintf("mean rise %s K, %s", Signed("%+.2f", r.Summary.Pad.MeanRiseK-first.Summary.Pad.MeanRiseK), energy)
	}
	out := fmt.Sprintf("depth %s mm", Signed("%+.2f", 1e3*(r.Summary.InjuryDepthM-first.Summary.InjuryDepthM)))
	if d := 1e3 * (r.Summary.MarginToMuscleM - first.Summary.MarginToMuscleM); !math.IsNaN(d) {
		out += fmt.Sprintf(", margin %s mm", Signed("%+.2f", d))
	}
	return out + ", " + energy
}

// Signed prints a number with its sign as figures do.
func Signed(format string, v float64) string {
	s := fmt.Sprintf(format, v)
	if strings.Trim(s, "-0.") == "" { // minus nothing
		return fmt.Sprintf(format, 0.0)
	}
	return strings.Replace(s, "-", "–", 1)
}

// CSV returns a row for each member: its title, what differs between the scenarios, and the columns of summary.csv.
func CSV(members []Member) []byte {
	differences := Differences(members)
	header := []string{"title"}
	for _, d := range differences {
		header = append(header, record.Guarded(d.Key))
	}
	lead := len(header)
	rows := make([][]string, len(members))
	for n, m := range members {
		rows[n] = append(rows[n], record.Guarded(m.Title))
		for _, d := range differences {
			rows[n] = append(rows[n], cell(d.Values[n]))
		}
		for _, c := range record.SummaryColumns(m.Result.Case) {
			i := slices.Index(header[lead:], c.Name)
			if i < 0 {
				i, header = len(header)-lead, append(header, c.Name)
			}
			for len(rows[n]) <= lead+i {
				rows[n] = append(rows[n], "")
			}
			rows[n][lead+i] = c.Cell(m.Result)
		}
	}
	for n := range rows {
		for len(rows[n]) < len(header) {
			rows[n] = append(rows[n], "")
		}
	}
	return record.Table(append([][]string{header}, rows...))
}

// cell returns a value as it stands in a table: a word guarded, a number as it is.
func cell(value string) string {
	if math.IsNaN(record.Parsed(value)) {
		return record.Guarded(value)
	}
	return value
}

// telling is the result whose lines need the most words: one with an injury, or the pad with the highest rise.
func telling(members []Member) *thermal.Result {
	most := members[0].Result
	for _, m := range members {
		if m.Result.Summary.InjuryDepthM > 0 || figures.StalkInjured(m.Result) {
			return m.Result
		}
		if m.Result.Summary.Pad.HighestRiseK > most.Summary.Pad.HighestRiseK {
			most = m.Result
		}
	}
	return most
}

// shared are the marks that are said once of members.
func shared(members []Member) string {
	var each []string
	for _, m := range members {
		each = append(each, record.Marks(m.Result))
	}
	return record.SharedMarks(each)
}
