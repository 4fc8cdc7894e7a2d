package output

import (
	"fmt"
	"math"
	"strings"

	"muralheat/thermal"
)

// riseLimitK is the mean rise over any square centimetre of skin that a neutral electrode
// must keep at 0.7 A for 60 s: IEC 60601-2-2:2017 (6th edition), 201.15.101.5; the currents
// for smaller patients are 0.5 and 0.35 A. From memory but for the 6 K and the 60 s.
const (
	riseLimitK  = 6.0
	limitClause = "IEC 60601-2-2:2017, 201.15.101.5"
	testA       = 0.7
	testS       = 60.0
)

// padSetting says what lies on the skin.
func padSetting(c *thermal.Case) string {
	e := c.Electrode
	area := math.Pi * 1e4 * e.TipRadiusM * e.TipRadiusM
	s := fmt.Sprintf("Neutral electrode of %s cm2", short(area))
	switch {
	case e.InnerRadiusM > 0:
		s += fmt.Sprintf(", a ring of %s cm2 touches", short(contactCM2(c)))
	case e.ContactRadiusM < e.TipRadiusM*(1-1e-9):
		s += fmt.Sprintf(", %s cm2 in the middle touch", short(contactCM2(c)))
	}
	if e.Film.OhmM2 > 0 {
		s += fmt.Sprintf(", contact %s ohm cm2", short(1e4*e.Film.OhmM2))
	}
	return s
}

// testCase reports whether current and time are those of the standard's test.
func testCase(c *thermal.Case) bool {
	d := c.Drive
	return d.Pulses == nil && math.Abs(d.CurrentA-testA) < 1e-6 && math.Abs(d.OnS-testS) < 1e-6
}

// padVerdict says how warm the skin gets, beside the limit of the standard.
func padVerdict(r *thermal.Result) string {
	p := r.Summary.Pad
	than := "below"
	if p.MeanRiseK > riseLimitK {
		than = "above"
	}
	s := fmt.Sprintf("Mean rise of the skin up to %s K over 1 cm2, %s the 6 K of %s", short(p.MeanRiseK), than, limitClause)
	if !testCase(r.Case) {
		s += " (which are for 0.7 A over 60 s)"
	}
	if r.Summary.InjuryDepthM > 0 {
		s += fmt.Sprintf(". Injury %.2f mm deep", 1e3*r.Summary.InjuryDepthM)
	}
	return s + "."
}

// padLines answers what a pad is asked.
func padLines(b *strings.Builder, r *thermal.Result) {
	p, row := r.Summary.Pad, rowsOf(b)
	row("mean rise over 1 cm2", "%s K at most, its centre %.1f mm from that of the pad; limit 6 K (%s; a model is no substitute for that test)", short(p.MeanRiseK), 1e3*p.MeanRiseAtM, limitClause)
	row("highest rise", "%s K anywhere", short(p.HighestRiseK))
	row("rise of the skin", "%s K at the rim of the contact, %s K at the centre of the pad", short(p.RimRiseK), short(p.CentreRiseK))
	row("hottest skin", "%.1f °C", p.SkinPeakC)
	row("contact", "%s cm2 of %s cm2", short(contactCM2(r.Case)), short(math.Pi*1e4*math.Pow(r.Case.Electrode.TipRadiusM, 2)))
	omega := r.Summary.Layers[0].OmegaMax
	if omega < 1e-3 {
		row("injury of the skin", "none: Arrhenius integral below 0.001 (%s)", r.Case.Damage.Kinetics.Name)
	} else {
		row("injury of the skin", "Arrhenius integral up to %s, injury from 1 (%s)", short(omega), r.Case.Damage.Kinetics.Name)
	}
}
