package main

import (
	"time"

	"github.com/schollz/progressbar/v3"
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
