package phrase

import (
	"fmt"
	"math"
	"strings"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// reasons are the rules that say why the numbers of a result are what they are. Each returns a sentence, or "" where
// it has nothing to say; those that explain most come first.
var reasons = []func(*thermal.Result) string{short, lost, ended, heldUp, dragged, inexact, sparked, wentOn}

// mostReasons is how many sentences stand beside a number.
const mostReasons = 3

// Reasons says in a few sentences, mostReasons at most, why the numbers of a result are what they are.
func Reasons(r *thermal.Result) []string {
	var out []string
	for _, rule := range reasons {
		if s := rule(r); s != "" && len(out) < mostReasons {
			out = append(out, s)
		}
	}
	return out
}

// Remark is the reasons in one text.
func Remark(r *thermal.Result) string { return strings.Join(Reasons(r), " ") }

// What counts as worth a sentence; assumptions.
const (
	shortBelow = 0.95    // delivered power over that set
	longShare  = 0.05    // of the time with current, or of a path
	grownM     = 0.05e-3 // of depth, after the current
	grownShare = 0.05    // and of the whole depth
)

// SetPowerW returns the power that was set, W, mean over the time that the current was on; NaN if the source holds a
// voltage or a current.
func SetPowerW(r *thermal.Result) float64 {
	d := r.Case.Drive
	_, d.OnS = r.Case.ActivationAt(OffS(r))
	return d.SetPowerW()
}

// FellShort reports whether less than shortBelow of the power set was delivered.
func FellShort(deliveredW, setW float64) bool { return deliveredW < shortBelow*setW } // NaN is not

// Delivered names the power that reached the tissue, beside that set where it fell short of it and that at the
// terminals where some was lost on the way.
func Delivered(r *thermal.Result) string {
	if r.Balance.LeadsJ > 0 {
		return fmt.Sprintf("%s (%s W at the terminals)", Reached(r), Short(TerminalPowerW(r)))
	}
	return Reached(r)
}

// Reached names the power that reached the tissue, beside that set where it fell short of it.
func Reached(r *thermal.Result) string {
	got, set := r.Summary.MeanPowerW, SetPowerW(r)
	if FellShort(got, set) {
		return fmt.Sprintf("%s of %s W", Short(got), Short(set))
	}
	return Short(got) + " W"
}

// TerminalPowerW returns the power that the source gave at its terminals, W, mean over the time that the current was on.
func TerminalPowerW(r *thermal.Result) float64 {
	b := r.Balance
	if !(b.LeadsJ > 0) || !(b.ElectricJ > 0) {
		return r.Summary.MeanPowerW
	}
	return r.Summary.MeanPowerW * b.TerminalJ / b.ElectricJ
}

// short says what kept the source from giving what was set: a contact that dried, a limit.
func short(r *thermal.Result) string {
	s := r.Summary
	var clauses []string
	dried := !math.IsNaN(s.DryOutS)
	if dried {
		clauses = append(clauses, "the contact dried after "+ShortTime(s.DryOutS))
	}
	limited := len(s.Limited) > 0 && s.LimitedShare > longShare
	if limited {
		l := s.Limited[0]
		name := limitName(r.Case.Drive, l.By)
		clause := "the source reached " + name + " after " + ShortTime(l.FromS)
		if l.FromS == 0 {
			clause = "the source was at " + name + " from the start"
		}
		if !dried || l.FromS < s.DryOutS {
			clauses = append([]string{clause}, clauses...)
		} else {
			clauses = append(clauses, clause)
		}
	}
	what := strings.Join(clauses, " and ")
	switch got, set := TerminalPowerW(r), SetPowerW(r); {
	case FellShort(got, set):
		came := fmt.Sprintf("%s of the %s W set were delivered", Short(got), Short(set))
		if r.Balance.LeadsJ > 0 {
			came = fmt.Sprintf("%s of the %s W set left the terminals", Short(got), Short(set))
		}
		if what == "" {
			return "Only " + came + "."
		}
		what += ": " + came
	case limited:
		what += fmt.Sprintf(", for %.0f %% of the time with current", 100*s.Limited[0].Share)
	case dried && s.SparkShare == 0 && s.ResistanceRise > 2:
		what += fmt.Sprintf(", no sparks crossed it, and the resistance rose %s-fold", Short(s.ResistanceRise))
	}
	if what == "" {
		return ""
	}
	return Capital(what) + "."
}

// lost says what did not get from the terminals to the tissue.
func lost(r *thermal.Result) string {
	b, path := r.Balance, r.Case.Drive.Path
	terminal, set := TerminalPowerW(r), SetPowerW(r)
	if !(b.LeadsJ > longShare*b.TerminalJ) && !(FellShort(r.Summary.MeanPowerW, set) && !FellShort(terminal, set)) {
		return ""
	}
	var where []string
	beside := path.LostShare * b.TerminalJ
	for _, part := range []struct {
		j    float64
		name string
	}{{b.LeadsJ - beside, "in the " + Short(path.SeriesOhm) + " ohm in series"}, {beside, "beside the tissue"}} {
		if part.j > 0.005*b.TerminalJ {
			where = append(where, fmt.Sprintf("%s W %s", Short(terminal*part.j/b.TerminalJ), part.name))
		}
	}
	if len(where) == 0 {
		return ""
	}
	return fmt.Sprintf("Of %s W at the terminals %s were lost.", Short(terminal), strings.Join(where, " and "))
}

// limitName names a limit of the source with its value, where it is the same all the time.
func limitName(d drive.Drive, by drive.Limit) string {
	l := d.Limits
	if p := d.Pulses; p != nil && Runs(p.Between) { // which of two it was is not recorded
		l = drive.Limits{}
	}
	switch {
	case by == drive.PeakVoltage && l.PeakVoltageV > 0:
		return "its limit of " + Short(l.PeakVoltageV) + " V peak"
	case by == drive.Current && l.CurrentA > 0:
		return "its limit of " + Short(l.CurrentA) + " A"
	case by == drive.Power && l.PowerW > 0:
		return "its limit of " + Short(l.PowerW) + " W"
	case by == drive.LoadLine:
		return "its load line"
	}
	return "its limit of " + string(by)
}

// ended says that a loop ended the current.
func ended(r *thermal.Result) string {
	off, on := OffS(r), r.Case.Drive.OnS
	if !(off < (1-longShare)*on) {
		return ""
	}
	return fmt.Sprintf("The stalk was cut through after %s of %s, and the current ended with it.", ShortTime(off), ShortTime(on))
}

// heldUp says that tissue in its way slowed a needle.
func heldUp(r *thermal.Result) string {
	if !(r.Summary.Cut.HeldShare > longShare) {
		return ""
	}
	return fmt.Sprintf("Wet tissue held the needle up: it made %.0f %% of the path that the push alone would have made.", 100*(1-r.Summary.Cut.HeldShare))
}

// dragged says that a needle went faster than its heat.
func dragged(r *thermal.Result) string {
	cut := r.Summary.Cut
	if cut.Sustained || !(cut.RemovedM3 > 0) {
		return ""
	}
	return fmt.Sprintf("The needle was faster than its heat: it dragged %.0f %% of the tissue in its way.", math.Ceil(100*(1-cut.PartedShare)))
}

// inexact says that the mesh was not made for an injury as large.
func inexact(r *thermal.Result) string {
	if !r.Summary.BeyondFine {
		return ""
	}
	return "The injury left the zone of fine cells: its edge is less exact."
}

// sparked says that sparks carried current, and from when.
func sparked(r *thermal.Result) string {
	s := r.Summary
	if !(s.SparkShare > 0) {
		return ""
	}
	what, when := "Sparks bridged the dried layer", "from "+ShortTime(s.SparkFromS)+" on"
	if r.Balance.CuttingJ > 0 {
		what = "Sparks struck the tissue before the metal"
	}
	if s.SparkFromS == 0 {
		when = "from the start"
	}
	return fmt.Sprintf("%s %s, for %.0f %% of the time with current.", what, when, 100*s.SparkShare)
}

// wentOn says how far the burn grew after the current.
func wentOn(r *thermal.Result) string {
	off, depth := OffS(r), r.Summary.InjuryDepthM
	then, until := 0.0, off
	for _, h := range r.History {
		if h.TimeS <= off {
			then = h.DepthM
		} else if until == off && h.DepthM > depth-grownM/5 {
			until = h.TimeS
		}
	}
	gained := depth - then
	if until == off || !(gained > grownM) || !(gained > grownShare*depth) {
		return ""
	}
	return fmt.Sprintf("After the current stopped the burn went on for %s and gained %.2f mm.", ShortTime(until-off), 1e3*gained)
}
