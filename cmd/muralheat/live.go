package main

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"muralheat/cmd/muralheat/live"
	"muralheat/output/page"
	"muralheat/output/phrase"
	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
)

const liveHelp = `Prints an address to open in a browser on this machine. The page is that of muralheat page, but a setting that was
not computed yet is computed when its slider is let go, on the mesh of --quality: at draft a stationary case
takes a fraction of a second, a track some seconds, with progress and a button that cancels. "Save what was computed" writes
the page as one file that needs no server.

Sliders are the keys of --vary, those of a plan (or its named cases), or the usual ones that the scenario has: power,
time, speed, duty cycle, limit of the peak voltage, site. A range has 10 values, or N:

   muralheat live --vary current.power_W=1..10/19 --vary wall.site=rectum,right-colon start/ball-touch.yaml

Computed cases are kept in FOLDER and used again by every later page of the same program. The server answers on
127.0.0.1 only, and only under the address it prints, which holds a random word: whoever has it can use the page.
Ctrl-C stops it.

`

func liveCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "live",
		Usage:       "a page to teach with that computes what its sliders ask for",
		UsageText:   "muralheat live [flags] [SCENARIO | PLAN]",
		Description: liveHelp,
		Flags: []cli.Flag{
			&cli.StringSliceFlag{Name: "vary", Usage: "`KEY=FROM..TO[/N]` or KEY=VALUE,...: a slider; repeatable"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "`FOLDER` that keeps what is computed", DefaultText: "muralheat/live in your cache folder"},
			&cli.StringFlag{Name: "page", Usage: "`FILE` that the page is saved to", DefaultText: "named after the file, with -live.html, here"},
			&cli.StringFlag{Name: "quality", Value: "draft", Usage: "`MESH` of the cases: draft or standard"},
			&cli.DurationFlag{Name: "longest", Value: 2 * time.Minute, Usage: "`TIME` that a case may take"},
			&cli.IntFlag{Name: "port", Usage: "`NUMBER` of the port", DefaultText: "any that is free"},
		},
		Before: takes(0, 1, "SCENARIO"),
		Action: func(ctx *cli.Context) error {
			l, err := lessonOf(c, ctx)
			if err != nil {
				return err
			}
			port := ctx.Int("port")
			if port < 0 || port > 65535 {
				return wrong("live: --port is %d; give a number from 1 to 65535, or leave it out", port)
			}
			return l.serve(port)
		},
	}
}

// lessonOf reads what to show, and with which sliders.
func lessonOf(c *console, ctx *cli.Context) (*lesson, error) {
	for _, name := range []string{"output", "page"} {
		if ctx.IsSet(name) && ctx.String(name) == "" {
			return nil, wrong("live: --%s is empty; leave it out, or give a name", name)
		}
	}
	l := &lesson{c: c, quality: ctx.String("quality"), longest: ctx.Duration("longest"), dir: ctx.String("output"), file: ctx.String("page"), program: program()}
	if l.quality != "draft" && l.quality != "standard" {
		return nil, wrong("live: --quality is %q; choose draft or standard", l.quality)
	}
	if l.longest < time.Second || l.longest > time.Hour {
		return nil, wrong("live: --longest is %s; give a time from 1s to 1h", l.longest)
	}
	if l.dir == "" {
		cache, err := os.UserCacheDir()
		if err != nil {
			return nil, wrong("live: there is no cache folder (%v); give a folder with -o", err)
		}
		l.dir = filepath.Join(cache, "muralheat", "live")
	}
	path := ctx.Args().First()
	title, err := l.open(path, ctx.StringSlice("vary"))
	if err != nil {
		return nil, err
	}
	if l.file == "" {
		l.file = folderFor(l.base.Name) + "-live.html"
		if path != "" {
			l.file = folderFor(path) + "-live.html"
		}
	}
	if l.file, err = filepath.Abs(l.file); err != nil {
		return nil, err
	}
	if info, err := os.Stat(filepath.Dir(l.file)); err != nil || !info.IsDir() {
		return nil, wrong("live: --page %s: there is no folder %s; make it, or give another file", l.file, filepath.Dir(l.file))
	}
	var choices []page.Choice
	for _, s := range l.sliders {
		choices = append(choices, s.Choice)
	}
	l.page = page.Grow(title, l.base.Case().Invented, choices)
	return l, nil
}

// open reads a scenario or plan and what varies; no path means the built-in scenario. It returns the title.
func (l *lesson) open(path string, vary []string) (title string, err error) {
	var p *plan.Sweep
	if path == "" {
		l.base, err = open("", nil)
	} else {
		var data []byte
		if data, err = scenarios.Read(path, "scenario"); err != nil {
			return "", err
		}
		if keys.IsPlanText(path, data) {
			if p, err = plan.Parse(path, data, scenarios.Load); err == nil {
				l.base, title = p.Base, p.Title
			}
		} else {
			l.base, err = scenarios.Parse(path, data)
		}
	}
	if err != nil {
		return "", err
	}
	if title == "" {
		title = l.base.Title()
	}
	switch {
	case p != nil && len(vary) > 0:
		return "", wrong("live: --vary together with a plan, which says what varies; give its scenario instead: %s", l.base.Name)
	case p != nil:
		l.sliders, err = slidersOf(p)
	case len(vary) > 0:
		l.sliders, err = askedSliders(l.base, vary)
	default:
		l.sliders, err = usualSliders(l.base)
	}
	return title, err
}

// serve computes the first case and shows the page until a signal comes.
func (l *lesson) serve(port int) error {
	if err := openKept(l.dir); err != nil {
		return wrong("live: folder %s: %v; give another with -o", l.dir, cause(err))
	}
	ctx, release := interruptible(l.c)
	defer release()
	var first []int
	for _, s := range l.sliders {
		first = append(first, s.start)
	}
	p := newProgress(l.c, false)
	_, err := l.Case(ctx, first, 0, func(share float64) { p.show(share, 1) })
	p.clear()
	var refusal live.Refusal
	switch {
	case ctx.Err() != nil:
		return errInterrupted
	case errors.As(err, &refusal):
		return wrong("live: %s: %s", l.base.Name, strings.TrimSuffix(err.Error(), "."))
	case err != nil:
		return err
	}
	server, err := live.Listen(port, l)
	if err != nil {
		return wrong("live: --port %d: %v; give another, or leave it out", port, cause(errors.Unwrap(err)))
	}
	l.c.print("%s\n", server.URL())
	l.c.say("open that address in a browser on this machine; computed on the %s mesh, kept in %s; Ctrl-C stops", l.quality, l.dir)
	l.c.say("%s", phrase.Caution)
	return server.Serve(ctx, l.c.err)
}
