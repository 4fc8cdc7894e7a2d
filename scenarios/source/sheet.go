package source

import (
	"cmp"
	"reflect"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios/keys"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

// Sheet is a source sheet that has been read and checked.
type Sheet struct {
	Name    string // of its file
	Title   string
	Sources []*keys.Source
}

// Parse reads a sheet; name stands for its file in problems. What is wrong returns keys.Problems.
func Parse(name string, data []byte) (*Sheet, error) {
	if len(data) > keys.MaxBytes {
		return nil, keys.Problems{{File: name, Wrong: "larger than 1 MB", Right: "a source sheet fits on a few pages"}}
	}
	r := keys.NewReport(name, "source sheet", reflect.TypeFor[keys.SheetFile]())
	f := &keys.SheetFile{}
	if root := keys.Parse(r, data); root != nil {
		if root.Kind == yaml.MappingNode && !has(root, "sources") && (has(root, "wall") || has(root, "scenario")) {
			r.Add("", r.Place(root), "a scenario or plan where a source sheet is needed", "name a file with the key sources")
		} else {
			r.Mapping(root, reflect.ValueOf(f).Elem(), "")
		}
	}
	for i, s := range f.Sources {
		examine(r, s, keys.Item("sources", i, keys.Word(s.Name)))
	}
	if len(r.Problems) > 0 {
		r.Problems.Sort()
		return nil, r.Problems
	}
	return &Sheet{name, *f.Title, f.Sources}, nil
}

// has reports whether a mapping has a key.
func has(root *yaml.Node, key string) bool {
	for i := 0; i+1 < len(root.Content); i += 2 {
		if root.Content[i].Value == key {
			return true
		}
	}
	return false
}

// examine notes what is wrong between the keys of one source.
func examine(r *keys.Report, s *keys.Source, path string) {
	if !r.Given(path) {
		return // two of one name, and said so
	}
	note := func(key, wrong, right string) {
		if at := keys.Join(path, key); !r.Spoilt(at) {
			r.At(at, wrong, right)
		}
	}
	one := func(below string, m *keys.Mode, needed bool) {
		given := Given(m)
		switch {
		case len(given) > 1:
			note(below+given[1], "is given together with "+given[0], "give only one of "+keys.List(Held, "and"))
		case len(given) == 0 && needed && !r.Spoilt(path):
			r.At(path, "none of "+keys.List(Held, "or"), "give one of them: what the source holds")
		}
	}
	one("", &s.Mode, true)
	if p := s.Pulses; p != nil && p.LengthMS == nil {
		note("pulses.length_ms", "missing", "give the length of a pulse in ms")
	} else if p != nil && p.PeriodMS == nil {
		note("pulses.period_ms", "missing", "give the time from pulse to pulse in ms")
	}
	if s.Pulses != nil && s.Pulses.Between != nil {
		one("pulses.between.", s.Pulses.Between, true)
	}
	switch limited := s.Limits != nil && s.Limits.PeakVoltageV != nil; {
	case s.PeakVoltageV != nil && limited:
		note("limits.peak_voltage_V", "is given together with peak_voltage_V", "give one of them: a voltage is either held or limited")
	case s.PeakVoltageV == nil && !limited && !r.Spoilt(path):
		note("limits.peak_voltage_V", "missing", "give the highest peak voltage of the source in V (0: no limit)")
	}
	for _, f := range Findings(path, &s.Output) {
		if !slices.ContainsFunc(f.Keys, r.Spoilt) {
			r.At(f.Keys[0], f.Wrong, f.Right)
		}
	}
	for i, o := range s.Except {
		here := keys.Item("origins", i, "") + ".key"
		if o.Key != nil && !r.Given(keys.Join(path, *o.Key)) {
			note(here, keys.Quote(*o.Key)+" is not given in this source", "name one of its keys")
		}
	}
}

// Given returns which of the quantities that can be held a mode gives.
func Given(m *keys.Mode) []string {
	var given []string
	for i, p := range []*float64{m.PowerW, m.BurstPowerW, m.PeakVoltageV, m.CurrentA} {
		if p != nil {
			given = append(given, Held[i])
		}
	}
	return given
}

// Find returns the source of a name, nil if the sheet has none.
func (s *Sheet) Find(name string) *keys.Source {
	if i := slices.IndexFunc(s.Sources, func(x *keys.Source) bool { return *x.Name == name }); i >= 0 {
		return s.Sources[i]
	}
	return nil
}

// Names returns the names of the sources in the order of the sheet.
func (s *Sheet) Names() []string {
	var names []string
	for _, x := range s.Sources {
		names = append(names, *x.Name)
	}
	return names
}

// OriginOf says where the number of a key of a source comes from: its own origin, or that of the nearest key above it.
func OriginOf(s *keys.Source, key string) string {
	origin, most := *s.Origin, -1
	for _, o := range s.Except {
		if rest, ok := strings.CutPrefix(key, *o.Key); ok && (rest == "" || rest[0] == '.' || rest[0] == '[') && len(*o.Key) > most {
			origin, most = *o.Origin, len(*o.Key)
		}
	}
	return origin
}

// TitleOf returns what figures call a source.
func TitleOf(s *keys.Source) string { return cmp.Or(keys.Word(s.Title), *s.Name) }

// Drive returns what a source gives, on for onS seconds; what its sheet leaves out is as in a scenario.
func Drive(s *keys.Source, onS float64) drive.Drive {
	o := s.Output
	if p := o.Pulses; p != nil && p.Between != nil && Flows(p.Between) {
		between, pulses := Between(&o), *p
		pulses.Between, o.Pulses = &between, &pulses
	}
	kHz := tissue.Frequency.Value
	if o.FrequencyKHz != nil {
		kHz = *o.FrequencyKHz
	}
	return drive.Drive{Mode: Mode(&o.Mode, Path(&o)), FrequencyHz: kHz * 1000, OnS: onS, Pulses: Pulses(&o)}
}

// Between returns what flows between pulses, with duty cycle and limits of the pulses where it has none of its own.
func Between(o *keys.Output) keys.Mode {
	m, l := *o.Pulses.Between, keys.Limits{}
	if m.Limits != nil {
		l = *m.Limits
	}
	if m.DutyCyclePercent == nil {
		m.DutyCyclePercent = o.DutyCyclePercent
	}
	if of := o.Limits; of != nil {
		l.CurrentA, l.PowerW = cmp.Or(l.CurrentA, of.CurrentA), cmp.Or(l.PowerW, of.PowerW)
		if l.LoadLine == nil {
			l.LoadLine = of.LoadLine
		}
		if m.PeakVoltageV == nil {
			l.PeakVoltageV = cmp.Or(l.PeakVoltageV, of.PeakVoltageV)
		}
	}
	if m.PeakVoltageV == nil {
		l.PeakVoltageV = cmp.Or(l.PeakVoltageV, o.PeakVoltageV)
	}
	m.Limits = &l
	return m
}
