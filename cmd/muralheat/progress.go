package main

import (
	"fmt"
	"math"
	"time"

	"github.com/schollz/progressbar/v3"

	"muralheat/scenarios/batch"
)

// A bar is drawn once a run has taken barAfter and looks as if it would take
// longerThan in all.
const (
	barAfter   = 500 * time.Millisecond
	longerThan = 2 * time.Second
	barSteps   = 1000
)

// progress is a bar over simulated time, from which the time left is estimated.
type progress struct {
	bar   *progressbar.ProgressBar // nil: none
	start time.Time
	drawn bool
}

func newProgress(c *console, quiet bool) *progress {
	p := &progress{start: time.Now()}
	if !c.live || quiet {
		return p
	}
	p.bar = progressbar.NewOptions(barSteps,
		progressbar.OptionSetWriter(c.err),
		progressbar.OptionSetDescription("computing"),
		progressbar.OptionSetWidth(30),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionClearOnFinish(),
		progressbar.OptionSetTheme(progressbar.ThemeASCII))
	p.bar.StartWithoutRender() // the time left counts from here
	return p
}

// show brings the bar to the simulated time.
func (p *progress) show(doneS, totalS float64) {
	if p.bar == nil {
		return
	}
	took := time.Since(p.start)
	if !p.drawn && (took < barAfter || took.Seconds()*totalS/doneS < longerThan.Seconds()) {
		return
	}
	p.drawn = true
	p.bar.Set(int(barSteps * doneS / totalS)) // a bar that cannot be drawn is no failure
}

func (p *progress) clear() {
	if p.drawn {
		p.bar.Clear()
	}
}

// caseProgress is a bar over the cases of a sweep; where messages go to a file, a line at
// times.
type caseProgress struct {
	c     *console
	quiet bool
	bar   *progressbar.ProgressBar // nil: none yet
	start time.Time
	first int // cases that were there
	said  time.Time
}

// sayEvery is how often a sweep that is not watched says how far it is.
const sayEvery = 30 * time.Second

func newCaseProgress(c *console, quiet bool) *caseProgress {
	now := time.Now()
	return &caseProgress{c: c, quiet: quiet, start: now, said: now, first: -1}
}

func (p *caseProgress) show(n batch.Count) {
	if p.first < 0 {
		if p.first = n.Done; n.Done > 0 && n.Done < n.Of && !p.quiet {
			p.c.say("resuming: %d of %d cases are finished", n.Done, n.Of)
		}
	}
	switch {
	case p.quiet:
	case !p.c.live:
		if time.Since(p.said) >= sayEvery {
			p.said = time.Now()
			p.c.say("%s", p.text(n))
		}
	case p.bar == nil && (time.Since(p.start) < barAfter || n.Complete()):
	default:
		if p.bar == nil {
			p.bar = progressbar.NewOptions(n.Of,
				progressbar.OptionSetWriter(p.c.err),
				progressbar.OptionSetWidth(20),
				progressbar.OptionSetElapsedTime(false),
				progressbar.OptionSetPredictTime(false), // it would count what was there as computed
				progressbar.OptionThrottle(100*time.Millisecond),
				progressbar.OptionClearOnFinish(),
				progressbar.OptionSetTheme(progressbar.ThemeASCII))
		}
		p.bar.Describe(p.text(n))
		p.bar.Set(n.Done) // a bar that cannot be drawn is no failure
	}
}

// text says how far a sweep is, how fast and how long it will take.
func (p *caseProgress) text(n batch.Count) string {
	text := fmt.Sprintf("%d of %d", n.Done, n.Of)
	if n.Failed > 0 {
		text += fmt.Sprintf(", %d failed", n.Failed)
	}
	if n.Doubtful > 0 {
		text += fmt.Sprintf(", %d doubtful", n.Doubtful)
	}
	if rate := float64(n.Done-p.first) / time.Since(p.start).Seconds(); rate > 0 {
		text += fmt.Sprintf(", %s/min, %s left", digits(math.Round(60*rate)), about(float64(n.Of-n.Done)/rate))
	}
	return text
}

func (p *caseProgress) clear() {
	if p.bar != nil {
		p.bar.Clear()
	}
}
