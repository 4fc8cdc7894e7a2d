package phrase

import (
	"fmt"
	"math"

	"muralheat/thermal"
)

// riseLimitK is the mean rise over any square centimetre of skin that a neutral electrode
// must keep at 0.7 A for 60 s: IEC 60601-2-2:2017 (6th edition), 201.15.101.5; the currents
// for smaller patients are 0.5 and 0.35 A. From memory but for the 6 K and the 60 s.
const (
	RiseLimitK  = 6.0
	LimitClause = "IEC 60601-2-2:2017, 201.15.101.5"
	testA       = 0.7
	testS       = 60.0
)

func init() {
	scenes[thermal.OnSkin] = scene{setting: padSetting, verdict: padVerdict,
		soFar: func(_ *thermal.Result, now thermal.Sample) string {
			return fmt.Sprintf("Mean rise %.1f K over the hottest 1 cm²", now.MeanRiseK)
		},
		answer: func(r *thermal.Result) string { return fmt.Sprintf("%.1f K over 1 cm²", r.Summary.Pad.MeanRiseK) }}
}

// padSetting says what lies on the skin.
func padSetting(c *thermal.Case) string {
	e := c.Electrode
	area := math.Pi * 1e4 * e.TipRadiusM * e.TipRadiusM
	s := fmt.Sprintf("Neutral electrode of %s cm2", Short(area))
	switch {
	case e.InnerRadiusM() > 0:
		s += fmt.Sprintf(", a ring of %s cm2 touches", Short(ContactCM2(c)))
	case e.ContactRadiusM < e.TipRadiusM*(1-1e-9):
		s += fmt.Sprintf(", %s cm2 in the middle touch", Short(ContactCM2(c)))
	}
	if e.Film.OhmM2 > 0 {
		s += fmt.Sprintf(", contact %s ohm cm2", Short(1e4*e.Film.OhmM2))
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
	if p.MeanRiseK > RiseLimitK {
		than = "above"
	}
	s := fmt.Sprintf("Mean rise of the skin up to %s K over 1 cm2, %s the 6 K of %s", Short(p.MeanRiseK), than, LimitClause)
	if !testCase(r.Case) {
		s += " (which are for 0.7 A over 60 s)"
	}
	if r.Summary.InjuryDepthM > 0 {
		s += fmt.Sprintf(". Injury %.2f mm deep", 1e3*r.Summary.InjuryDepthM)
	}
	return s + "."
}

// ContactCM2 returns the area of a pad that touches the skin, cm2.
func ContactCM2(c *thermal.Case) float64 {
	e := c.Electrode
	return math.Round(1e10*math.Pi*(e.ContactRadiusM*e.ContactRadiusM-e.InnerRadiusM()*e.InnerRadiusM())) / 1e6
}
