package scenarios

import (
	"fmt"
	"math"

	"muralheat/scenarios/keys"
	"muralheat/thermal/drive"
)

// activations puts in how long a list of activations lasts: the current is on and off as it says.
func activations(f *keys.File, r *keys.Report, sources map[string]string) {
	const key = "current.activations"
	if f.Current.Activations == nil || r.Spoilt(key) {
		return
	}
	for _, other := range []string{"pulses", "rest_s", "duty_cycle_percent"} {
		if r.Given("current."+other) && !(other == "duty_cycle_percent" && keys.Num(f.Current.DutyCyclePercent) == 100) {
			r.At("current."+other, "is given together with activations", "leave it out: each activation has a current and a time of its own")
			return
		}
	}
	seconds := drive.CourseS(course(f))
	switch on := f.Current.OnS; {
	case seconds > 3600:
		r.At(key, fmt.Sprintf("%.4g s in all", seconds), "at most 3600 s: leave activations out, or shorten the rests")
	case on == nil:
		f.Current.OnS = &seconds
		sources["current.on_s"] = "until the end of the last activation"
	case math.Abs(*on-seconds) > 1e-9*seconds:
		r.At("current.on_s", fmt.Sprintf("%g s, but the activations last %.6g s", *on, seconds), "leave it out")
	}
}

// course returns the activations of a scenario.
func course(f *keys.File) []drive.Span {
	var spans []drive.Span
	for _, a := range f.Current.Activations {
		spans = append(spans, drive.Span{CurrentA: keys.Num(a.CurrentA), OnS: keys.Num(a.OnS), RestS: keys.OrNone(a.RestS)})
	}
	return spans
}
