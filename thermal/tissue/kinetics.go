package tissue

import (
	"strings"

	"math"

	"muralheat/thermal/damage"
)

// KineticsSet is a damage law with what its Omega = 1 marks. No single set is
// supported from 45 to 100 C: fitted constants change with the temperatures of the
// experiment (Qin and others 2014, Ann Biomed Eng, doi 10.1007/s10439-014-1100-y).
type KineticsSet struct {
	damage.Kinetics
	Title string
	Marks string
	// Temperatures of the underlying exposures; 0 where our sources do not say.
	LowC, HighC float64
	Source      string
	Confidence  Confidence
}

// DefaultKinetics names the set that draws the injury line, of what dies within a day, unless another is asked
// for. Two conventions of the 1947 skin data differ fivefold in time, because
// Ea = 6.28e5 J/mol is E = 150 kcal/mol in joules while the original A belongs to
// E/R = 75000 K with R rounded to 2 cal/(mol K):
//
//	skin-1947        A = 3.1e98, E/R = 75000 K       55 C for  5.9 s
//	skin-1947-joule  A = 3.1e98, E/R = 75531 K       55 C for 29.6 s
//
// The second is the default: of the sets for later injury it lies nearest to the one exposure of gut that
// we have, pig oesophagus held at 45 to 49 C for 30 min and read after 48 h (scenarios/experiments/held.yaml,
// TestHeld). Above 49 C nothing of gut is measured. The first errs towards the deeper injury.
const DefaultKinetics = "skin-1947-joule"

// AtOnceKinetics names the set that draws what is coagulated at once unless another is asked for.
const AtOnceKinetics = "liver-whitening"

// DefaultReason says why DefaultKinetics is the default, for a person who reads the
// table.
const DefaultReason = "of the sets for later injury it lies nearest to pig oesophagus held at 45 to 49 C for 30 min and read after 48 h, within a factor of 2.7 in Omega. skin-1947, the original pair of A and E/R, needs a fifth of the time (55 C: 5.9 s against 29.6 s), is 2 to 12 times too strong there and errs towards the deeper injury"

const joulePerCalorie = 4.184

// theta returns one Arrhenius law from A in 1/s and Ea/R in K.
func theta(a, thetaK float64) damage.Segment {
	return damage.Segment{LnA: math.Log(a), ThetaK: thetaK}
}

// joule returns one Arrhenius law from A in 1/s and Ea in J/mol.
func joule(a, ea float64) damage.Segment { return theta(a, ea/damage.GasConstant) }

// from puts the lower end of a segment's range at tC.
func from(tC float64, s damage.Segment) damage.Segment {
	s.FromC = tC
	return s
}

func set(name, title, marks string, lowC, highC float64, c Confidence, source string, segments ...damage.Segment) KineticsSet {
	return KineticsSet{damage.Kinetics{Name: name, Segments: segments}, title, marks, lowC, highC, source, c}
}

var kinetics = []KineticsSet{
	set("skin-1947-joule", "skin 1947, Ea = 6.28e5 J/mol", "second-degree burn of skin, five times slower", 44, 70, High,
		"the pair in common numerical use, after Henriques 1947, Arch Pathol 43:489",
		joule(3.1e98, 6.28e5)),
	set("skin-1947", "skin 1947, E/R = 75000 K", "second-degree burn of skin", 44, 70, High,
		"Henriques 1947, Arch Pathol 43:489; exposures Moritz and Henriques 1947, Am J Pathol 23:695",
		theta(3.1e98, 75000)),
	set("skin-1947-reanalysis", "skin 1947 re-analysed, break at 53 C", "second-degree burn of skin", 44, 70, Medium,
		"re-analysis of the 1947 exposures by Diller and others, from memory",
		joule(1.3e95, 6.04e5), from(53, joule(1.30e31, 2.04e5))),
	set("epidermis-1969", "epidermis 1969, break at 50 C", "second-degree burn of skin", 44, 0, Medium,
		"Weaver and Stoll 1969, as in ASTM F1930, from memory",
		theta(2.185e124, 93534.9), from(50, theta(1.823e51, 39109.8))),
	set("dermis-1974", "dermis 1974, break at 50 C", "third-degree burn of skin", 44, 0, Medium,
		"Takata 1974, as in ASTM F1930, from memory",
		theta(4.322e64, 50000), from(50, theta(9.389e104, 80000))),
	set("gut-crypt", "gut crypt loss, derived", "loss of crypts", 42.3, 44.5, Low,
		"Hume and others 1979, Br J Radiol 52:657: Ea = 600 +- 70 kJ/mol, mouse jejunum; A derived here from ln A = 0.38 Ea/(kJ/mol) - 9.36 (Wright's line, from memory), not published as such",
		damage.Segment{LnA: 0.38*600 - 9.36, ThetaK: 6.00e5 / damage.GasConstant}),
	set("cell-death", "cell death", "death of cultured kidney cells", 0, 0, Medium,
		"Borrelli and others 1990, from memory", joule(2.984e80, 5.064e5)),
	set("vessel-stasis", "vascular stasis", "blood flow stops in small vessels of muscle", 0, 0, Medium,
		"Brown and others 1992, from memory", joule(1.98e106, 6.67e5)),
	set("liver-coagulation", "early coagulation", "low-temperature coagulation of liver, visible pallor", 0, 0, Medium,
		"Jacques 1996, from memory", joule(7.39e39, 2.577e5)),
	set("liver-whitening", "whitening", "half coagulation of pig liver, seen as whitening", 0, 0, Medium,
		"Jacques and others 1991, pig liver, 276.8 kJ/mol and 553.5 J/(mol K), read second-hand; coagulation begins ten times earlier and ends ten times later", joule(5.51e41, 2.769e5)),
	set("egg-whitening", "egg white whitening", "whitening of egg white", 0, 0, Medium,
		"Yang and others 1991, from memory", joule(3.8e57, 3.85e5)),
	set("artery-coagulation", "artery coagulation", "coagulation and loss of birefringence of human artery", 0, 0, Medium,
		"Agah, Pearce and Welch 1994, from memory", joule(5.6e63, 4.3e5)),
	set("tendon-collagen", "tendon collagen", "loss of birefringence of rat tail tendon", 0, 0, High,
		"Maitland and Walsh 1997: ln A = 130, 89 kcal/mol",
		damage.Segment{LnA: 130, ThetaK: 89e3 * joulePerCalorie / damage.GasConstant}),
	set("skin-collagen", "skin collagen", "loss of birefringence of rat skin collagen", 0, 0, Medium,
		"Pearce and others 1993, from memory", joule(1.606e45, 3.06e5)),
	set("liver-conductivity", "lasting rise of conductivity", "irreversible rise of the conductivity of bovine liver at 915 MHz", 0, 0, High,
		"Chin and Sherar 2001: 60.1 kcal/mol", joule(1.95e36, 60.1e3*joulePerCalorie)),
	set("liver-permittivity", "lasting change of permittivity", "irreversible change of the permittivity of bovine liver at 915 MHz", 0, 0, High,
		"Chin and Sherar 2001: 70.7 kcal/mol", joule(1.14e43, 70.7e3*joulePerCalorie)),
	set("kidney-tumour-cells", "kidney tumour cells", "death of renal carcinoma cells", 0, 0, Medium,
		"He and Bischof, from memory", joule(2.99e37, 2.448e5)),
	set("prostate-tumour-cells", "prostate tumour cells", "death of PC3 cells", 0, 0, Low,
		"Rylander and others 2010, from memory", joule(1.19e35, 2.318e5)),
}

// KineticsSets returns all damage laws in stable order, the default first.
func KineticsSets() []KineticsSet { return append([]KineticsSet(nil), kinetics...) }

// KineticsAlike returns the names of the damage kinetics that mark the same injury as those named.
func KineticsAlike(name string) (names []string) {
	of, _ := FindKinetics(name)
	for _, k := range KineticsSets() {
		if strings.HasPrefix(of.Marks, k.Marks) {
			names = append(names, k.Name)
		}
	}
	return names
}

// FindKinetics returns the damage law of a name.
func FindKinetics(name string) (KineticsSet, bool) {
	for _, k := range kinetics {
		if k.Name == name {
			return k, true
		}
	}
	return KineticsSet{}, false
}
