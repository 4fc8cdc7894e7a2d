package scenarios

import (
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"strings"

	"muralheat/scenarios/keys"
	"muralheat/scenarios/source"
	"muralheat/thermal/tissue"
)

// SheetKey names the source sheet of a current.
const SheetKey = "current.sheet"

const setKey = "current.set"

// sheetSource begins the source of a value that a source sheet gives.
const sheetSource = "source sheet "

// fromSheet puts in what the scenario leaves open of its current and a source sheet says: what is given beside the
// sheet stands over what is set on the source, and that over the sheet. It reports whether the file can be looked at
// further.
func fromSheet(f *keys.File, r *keys.Report, sets []Set, shelf *source.Shelf, sources sources) bool {
	c := f.Current
	if c == nil || r.Spoilt("current") {
		return true
	}
	if c.Sheet == nil {
		if c.Set != nil && r.Given(setKey) {
			r.At(setKey, "belongs to sheet", "give the value beside it, as in current.power_W, or name a sheet")
		}
		return true
	}
	if c.AsRun != nil {
		r.At("current.as_run", "is given together with sheet", "give one of them")
		return false
	}
	sheet, from := sheetOf(f, r, sets, shelf)
	if sheet == nil {
		return false
	}
	if c.Source == nil {
		r.At(SheetKey, "no source of it is named", "give current.source: "+keys.List(some(sheet.Names()), "or"))
		return false
	}
	s := sheet.Find(*c.Source)
	if s == nil {
		right := *c.Sheet + " has " + keys.List(some(sheet.Names()), "and")
		if near := keys.Near(*c.Source, sheet.Names()); near != "" {
			right = "did you mean " + near + "? " + right
		}
		r.At("current.source", keys.Quote(*c.Source)+" is not a source of "+*c.Sheet, right)
		return false
	}
	o := copied(s).Output
	if !setOnSource(f, r, sets, &o, sources) {
		return false
	}
	if c.Sparks != nil && !*c.Sparks {
		quiet(f, &o)
	}
	origin := func(path string) string {
		return from + ", " + *c.Source + ": " + source.OriginOf(s, strings.TrimPrefix(path, "current."))
	}
	overlay(reflect.ValueOf(&c.Output).Elem(), reflect.ValueOf(&o).Elem(), "current", origin, sources)
	return true
}

// sheetOf reads the sheet and says how sources of its values begin; nil if it cannot be used, which is noted.
func sheetOf(f *keys.File, r *keys.Report, sets []Set, shelf *source.Shelf) (*source.Sheet, string) {
	name, beside := *f.Current.Sheet, r.File
	for _, s := range sets {
		if s.Key == SheetKey && s.Beside != "" {
			beside = s.Beside
		}
	}
	sheet, err := shelf.Sheet(beside, name)
	var ps keys.Problems
	switch {
	case errors.As(err, &ps):
		r.Bad[SheetKey] = true
		r.Problems = append(r.Problems, ps...)
	case err != nil:
		folder := "the folder of " + filepath.Base(beside)
		if strings.HasPrefix(beside, "--") { // a flag
			folder = "the folder that you are in"
		}
		r.At(SheetKey, keys.Quote(name)+": "+err.Error(), "name a source sheet, relative to "+folder)
	}
	return sheet, sheetSource + name
}

// some returns names cut to what fits on a line.
func some(names []string) []string {
	const most = 12
	if len(names) > most {
		return append(slices.Clone(names[:most]), "...")
	}
	return names
}

// setOnSource brings what is set on the source, or given beside it, in place of what the sheet holds.
func setOnSource(f *keys.File, r *keys.Report, sets []Set, o *keys.Output, sources sources) bool {
	c := f.Current
	oneOf(r, setKey, true, source.Held...)
	if r.Spoilt(setKey) {
		return false
	}
	beside, held := source.Given(&c.Mode), keys.Mode{}
	if c.Set != nil {
		held = keys.Mode{PowerW: c.Set.PowerW, BurstPowerW: c.Set.BurstPowerW, PeakVoltageV: c.Set.PeakVoltageV, CurrentA: c.Set.CurrentA}
	}
	set := source.Given(&held)
	if len(set) > 0 && len(beside) > 0 && !slices.ContainsFunc(sets, func(s Set) bool { return s.Key == "current."+beside[0] }) {
		r.At("current."+beside[0], "is given together with set."+set[0], "give one of them")
		return false
	}
	if len(set)+len(beside) > 0 {
		o.PowerW, o.BurstPowerW, o.PeakVoltageV, o.CurrentA = nil, nil, nil, nil
	}
	if len(beside) == 0 && len(set) > 0 {
		c.PowerW, c.BurstPowerW, c.PeakVoltageV, c.CurrentA = held.PowerW, held.BurstPowerW, held.PeakVoltageV, held.CurrentA
		sources["current."+set[0]] = sheetSource + *c.Sheet + ", " + *c.Source + ": set to this by " + setKey
	}
	if p := c.Pulses; p != nil && p.Between != nil && o.Pulses != nil && o.Pulses.Between != nil && len(source.Given(p.Between)) > 0 {
		b := o.Pulses.Between
		b.PowerW, b.BurstPowerW, b.PeakVoltageV, b.CurrentA = nil, nil, nil, nil
	}
	if v := c.PeakVoltageV; v != nil && o.Limits != nil && o.Limits.PeakVoltageV != nil {
		if most := *o.Limits.PeakVoltageV; most > 0 && *v > most {
			r.At(placed(r, "current.peak_voltage_V", setKey+".peak_voltage_V"), fmt.Sprintf("%g V is above what the source can give", *v), fmt.Sprintf("at most %g, its limits.peak_voltage_V", most))
			return false
		}
		o.Limits.PeakVoltageV = nil // a voltage that is held is not limited
	}
	return true
}

// placed returns the first of two keys that is given.
func placed(r *keys.Report, key, or string) string {
	if r.Given(key) {
		return key
	}
	return or
}

// quiet leaves out limits of the peak voltage above the onset of sparks, below which the source is to stay.
func quiet(f *keys.File, o *keys.Output) {
	onset := tissue.SparkOnset.Value
	if f.Physics != nil && f.Physics.SparkOnsetV != nil {
		onset = *f.Physics.SparkOnsetV
	}
	lower := func(l *keys.Limits) {
		if l != nil && l.PeakVoltageV != nil && (*l.PeakVoltageV == 0 || *l.PeakVoltageV > onset) {
			l.PeakVoltageV = nil
		}
	}
	lower(o.Limits)
	if o.Pulses != nil && o.Pulses.Between != nil {
		lower(o.Pulses.Between.Limits)
	}
}

// overlay puts into the keys of a that are left out those of b, and notes where they come from.
func overlay(a, b reflect.Value, path string, origin func(path string) string, sources sources) {
	for _, k := range keys.KeysOf(a.Type()) {
		to, from, here := a.FieldByIndex(k.Index), b.FieldByIndex(k.Index), keys.Join(path, k.Name)
		switch {
		case from.IsZero():
		case to.IsZero():
			to.Set(from)
			keys.Walk(from, here, func(path string, _ reflect.Value) { sources[path] = origin(path) })
		case to.Kind() == reflect.Pointer && to.Elem().Kind() == reflect.Struct:
			overlay(to.Elem(), from.Elem(), here, origin, sources)
		}
	}
}

// copied returns a copy of a source, whose mappings belong to one scenario.
func copied(s *keys.Source) *keys.Source {
	c := *s
	c.Limits = limitsOf(s.Limits)
	if p := s.Pulses; p != nil {
		pulses := *p
		if p.Between != nil {
			between := *p.Between
			between.Limits = limitsOf(between.Limits)
			pulses.Between = &between
		}
		c.Pulses = &pulses
	}
	return &c
}

// limitsOf returns a copy of limits.
func limitsOf(l *keys.Limits) *keys.Limits {
	if l == nil {
		return nil
	}
	c := *l
	c.LoadLine = nil
	for _, p := range l.LoadLine {
		point := *p
		c.LoadLine = append(c.LoadLine, &point)
	}
	return &c
}

// ReadSheet reads a source sheet for cases of this scenario, relative to the folder of the file beside.
func (s *Scenario) ReadSheet(beside, name string) error {
	_, err := s.shelf.Sheet(beside, name)
	return err
}

// Sheets returns the texts of the source sheets that this scenario and its kin have used, by name.
func (s *Scenario) Sheets() map[string]string { return s.shelf.Texts() }
