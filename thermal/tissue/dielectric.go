package tissue

// Dielectric is one row of the library of dielectric spectra.
type Dielectric struct {
	Name  string
	Title string
	ColeCole
	// Relative spread of the conductivity below and from 1 MHz.
	SpreadBelow, SpreadAbove float64
	Source                   string
	Confidence               Confidence
}

const gabriel = "S. Gabriel, Lau and C. Gabriel 1996, Phys Med Biol 41:2271; parameters C. Gabriel 1996, report AL/OE-TR-1996-0037, Appendix C"

// row builds a measured tissue from the units of the published table: relaxation
// times in ps, ns, us and ms.
func row(name, title string, inf, d1, t1ps, a1, d2, t2ns, a2, sigmaI, d3, t3us, a3, d4, t4ms, a4 float64) Dielectric {
	return Dielectric{
		Name: name, Title: title,
		ColeCole: ColeCole{
			Inf:    inf,
			Terms:  [4]Dispersion{{d1, t1ps * 1e-12, a1}, {d2, t2ns * 1e-9, a2}, {d3, t3us * 1e-6, a3}, {d4, t4ms * 1e-3, a4}},
			SigmaI: sigmaI,
		},
		// The authors' own statement, from memory.
		SpreadBelow: 0.25, SpreadAbove: 0.10,
		Source: gabriel, Confidence: High,
	}
}

var dielectrics = []Dielectric{
	row("stomach", "stomach, oesophagus, duodenum", 4, 60, 7.958, .10, 2000, 79.577, .10, .5, 1e5, 159.155, .20, 4e7, 15.915, 0),
	row("colon", "colon", 4, 50, 7.958, .10, 3000, 159.155, .20, .01, 1e5, 159.155, .20, 4e7, 1.592, 0),
	row("small-intestine", "small intestine", 4, 50, 7.958, .10, 10000, 159.155, .10, .5, 5e5, 159.155, .20, 4e7, 15.915, 0),
	row("muscle", "skeletal muscle, across the fibres", 4, 50, 7.234, .10, 7000, 353.678, .10, .2, 1.2e6, 318.310, .10, 2.5e7, 2.274, 0),
	row("fat", "fat, average infiltrated", 2.5, 9, 7.958, .20, 35, 15.915, .10, .035, 3.3e4, 159.155, .05, 1e7, 15.915, .01),
	row("fat-pure", "fat, not infiltrated", 2.5, 3, 7.958, .20, 15, 15.915, .10, .01, 3.3e4, 159.155, .05, 1e7, 7.958, .01),
	row("skin-dry", "skin, dry", 4, 32, 7.234, 0, 1100, 32.481, .20, .0002, 0, 0, .20, 0, 0, .20),
	row("skin-wet", "skin, wet", 4, 39, 7.958, .10, 280, 79.577, 0, .0004, 3e4, 1.592, .16, 3e4, 1.592, .20),
	row("blood", "blood", 4, 56, 8.377, .10, 5200, 132.629, .10, .7, 0, 0, .20, 0, 0, 0),
	row("tongue", "tongue", 4, 50, 7.958, .10, 4000, 159.155, .10, .25, 1e5, 159.155, .20, 4e7, 15.915, 0),
	row("tendon", "tendon, a proxy for collagen-rich tissue", 4, 42, 12.243, .10, 60, 6.366, .10, .25, 6e4, 318.310, .22, 2e7, 1.326, 0),
	row("liver", "liver", 4, 39, 8.842, .10, 6000, 530.516, .20, .02, 5e4, 22.736, .20, 3e7, 15.915, .05),
	{
		Name: "saline", Title: "0.9 % sodium chloride in water",
		// Flat below 100 MHz: an ionic conductor with the permittivity of water.
		ColeCole:    ColeCole{Inf: 74, SigmaI: 2.0},
		SpreadBelow: 0.05, SpreadAbove: 0.05,
		Source:     "common electrolyte data at 37 C, from memory: 2.0-2.1 S/m, permittivity 74",
		Confidence: Medium,
	},
	{
		Name: "glucose", Title: "5 % glucose in water",
		ColeCole:    ColeCole{Inf: 72, SigmaI: 0.01},
		SpreadBelow: 0.9, SpreadAbove: 0.9,
		Source:     "assumption: sugar in water without salt hardly conducts, 0.01 S/m or less, from memory; tissue fluid that mixes in raises it; permittivity 72, a little below water, from memory",
		Confidence: Low,
	},
	{
		Name: "water", Title: "water from the tap",
		ColeCole:    ColeCole{Inf: 74, SigmaI: 0.05},
		SpreadBelow: 0.9, SpreadAbove: 1,
		Source:     "conductivity of drinking water 0.005 to 0.08 S/m at 25 C, from memory, and what it washes off tissue; distilled water 0.0001 S/m; permittivity 74 at 37 C, from memory",
		Confidence: Low,
	},
}

// Dielectrics returns all dielectric spectra in stable order.
func Dielectrics() []Dielectric { return append([]Dielectric(nil), dielectrics...) }

// dielectric returns a row by name; the names in this package are all known.
func dielectric(name string) Dielectric {
	for _, d := range dielectrics {
		if d.Name == name {
			return d
		}
	}
	panic("tissue: no dielectric " + name)
}
