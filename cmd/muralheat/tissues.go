package main

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/urfave/cli/v2"

	"muralheat/output/phrase"
	"muralheat/thermal/tissue"
)

func tissuesCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "tissues",
		Usage:     "show the library: every number with range, unit, confidence and source",
		UsageText: "muralheat tissues [flags] [NAME]",
		Description: "Without flags: the tissues. NAME picks one entry. Each number has the range in use or in\n" +
			"the literature, and how far it can be trusted: high (read in the source, or confirmed\n" +
			"twice), medium (second-hand, or recalled and cross-checked), low (recalled, derived or\n" +
			"assumed; then its source begins with \"assumption:\").",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "sites", Usage: "walls of the gut and their layers", DisableDefaultText: true},
			&cli.BoolFlag{Name: "kinetics", Usage: "damage kinetics", DisableDefaultText: true},
			&cli.BoolFlag{Name: "constants", Usage: "constants and physical defaults", DisableDefaultText: true},
			&cli.Float64Flag{Name: "frequency-kHz", Usage: "`F` of the electrical values, from 10 to 10000 kHz", Value: tissue.Frequency.Value},
			&cli.BoolFlag{Name: "json", Usage: "print JSON", DisableDefaultText: true},
		},
		Before: takes(0, 1, "NAME"),
		Action: func(ctx *cli.Context) error {
			kHz := ctx.Float64("frequency-kHz")
			if !(kHz >= 10 && kHz <= 10000) {
				return wrong("tissues: --frequency-kHz %g is out of range; give a number from 10 to 10000", kHz)
			}
			kind, list := "tissue", tissueEntries(kHz)
			chosen := 0
			for _, k := range []struct {
				flag, kind string
				list       func() []entry
			}{{"sites", "site", siteEntries}, {"kinetics", "damage kinetics", kineticsEntries}, {"constants", "constant", constantEntries}} {
				if ctx.Bool(k.flag) {
					kind, list = k.kind, k.list()
					chosen++
				}
			}
			if chosen > 1 {
				return wrong("tissues: give one of --sites, --kinetics and --constants")
			}
			if name := ctx.Args().First(); name != "" {
				if chosen == 0 {
					kind, list = "entry", slices.Concat(list, siteEntries(), kineticsEntries(), constantEntries())
				}
				if err := known(kind, name, list); err != nil {
					return err
				}
				list = slices.DeleteFunc(list, func(e entry) bool { return e.Name != name }) // a tissue and a site may share it
			}
			if ctx.Bool("json") {
				c.json(list)
				return nil
			}
			printEntries(c, list)
			return nil
		},
	}
}

// An entry is one item of the library.
type entry struct {
	Name    string     `json:"name"`
	Title   string     `json:"title"`
	Values  []quantity `json:"values"`
	Remarks []string   `json:"remarks,omitempty"`
}

// A quantity is one number of an entry.
type quantity struct {
	Name       string  `json:"name"`
	Value      float64 `json:"value"`
	Low        float64 `json:"low"`
	High       float64 `json:"high"`
	Unit       string  `json:"unit"`
	Confidence string  `json:"confidence"`
	Source     string  `json:"source"`
}

func of(name string, v tissue.Value) quantity {
	return quantity{name, v.Value, v.Low, v.High, v.Unit, string(v.Confidence), v.Source}
}

// plain is a quantity without a range.
func plain(name string, value float64, unit string, confidence tissue.Confidence, source string) quantity {
	return quantity{name, value, value, value, unit, string(confidence), source}
}

func tissueEntries(kHz float64) []entry {
	var list []entry
	for _, t := range tissue.Tissues() {
		hz := kHz * 1000
		share, poor := t.ResistiveError(hz)
		if poor == "" {
			poor = fmt.Sprintf("purely resistive treatment leaves out %.1f %% of the current at %g kHz", 100*share, kHz)
		}
		list = append(list, entry{t.Name, t.Title, []quantity{
			of("sigma_S_m", t.Sigma(hz)),
			plain("permittivity", t.Dielectric.Epsilon(hz), "1", t.DielectricConfidence, t.Dielectric.Source),
			of("k_W_mK", t.K),
			of("density_kg_m3", t.Density),
			of("heat_capacity_J_kgK", t.HeatCapacity),
			of("perfusion_kg_m3s", t.Perfusion),
			of("water_fraction", t.Water),
			of("metabolic_W_m3", t.Metabolic),
		}, []string{fmt.Sprintf("electrical values at %g kHz from the spectrum of %s", kHz, t.Dielectric.Title), poor}})
	}
	return list
}

func siteEntries() []entry {
	var list []entry
	for _, s := range tissue.Sites() {
		e := entry{Name: s.Name, Title: s.Title}
		for _, l := range s.Layers {
			q := of(l.Name+" ("+l.Tissue+")", l.ThicknessMM)
			e.Values = append(e.Values, q)
			if l.Muscle {
				e.Remarks = append(e.Remarks, "the injury of its "+l.Name+" is judged")
			}
		}
		for _, m := range s.Measured {
			e.Values = append(e.Values, of("whole wall as measured", m))
		}
		e.Remarks = append(e.Remarks, fmt.Sprintf("the layers add up to %.4g mm", s.ThicknessMM()))
		list = append(list, e)
	}
	return list
}

func kineticsEntries() []entry {
	var list []entry
	for _, k := range tissue.KineticsSets() {
		e := entry{Name: k.Name, Title: k.Title}
		for i, s := range k.Segments {
			part := ""
			if len(k.Segments) > 1 {
				part = fmt.Sprintf(" from %g C", s.FromC)
				if i == 0 {
					part = fmt.Sprintf(" below %g C", k.Segments[1].FromC)
				}
			}
			e.Values = append(e.Values,
				plain("ln A"+part+" (A in 1/s)", s.LnA, "1", k.Confidence, k.Source),
				plain("E/R"+part, s.ThetaK, "K", k.Confidence, k.Source))
		}
		e.Remarks = append(e.Remarks, "Omega = 1 marks: "+k.Marks)
		if k.LowC > 0 && k.HighC > 0 {
			e.Remarks = append(e.Remarks, fmt.Sprintf("from exposures of %g to %g C", k.LowC, k.HighC))
		}
		if k.Name == tissue.DefaultKinetics {
			e.Remarks = append(e.Remarks, "the default: "+tissue.DefaultReason)
		}
		list = append(list, e)
	}
	return list
}

func constantEntries() []entry {
	var list []entry
	for _, k := range tissue.Constants() {
		list = append(list, entry{Name: k.Name, Title: k.Title, Values: []quantity{of("value", k.Value)}})
	}
	return list
}

// known is an error unless an entry has the name.
func known(kind, name string, list []entry) error {
	var names []string
	for _, e := range list {
		if e.Name == name {
			return nil
		}
		names = append(names, e.Name)
	}
	return wrong("tissues: no %s %q; %s", kind, name, guess(name, names, "leave the name out for a list"))
}

func printEntries(c *console, list []entry) {
	for _, e := range list {
		c.print("%s: %s\n", e.Name, e.Title)
		t := newTable(c)
		for _, q := range e.Values {
			between := ""
			if q.Low < q.High {
				between = digits(q.Low) + " to " + digits(q.High)
			}
			unit := q.Unit
			if unit == "1" { // a pure number
				unit = ""
			}
			t.row("  "+q.Name, digits(q.Value), between, unit, q.Confidence, q.Source)
		}
		t.end()
		for _, r := range e.Remarks {
			c.print("  - %s\n", r)
		}
		c.print("\n")
	}
	c.print("%s\n", phrase.Caution)
}

// digits prints a number of the library as a person reads it.
func digits(v float64) string { return strconv.FormatFloat(v, 'g', 5, 64) }
