package main

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"muralheat/output/record"
	"muralheat/thermal/checks"
)

// errDiffers ends a verification in which a check differs.
var errDiffers = errors.New("the solver does not reproduce known values: do not use this program")

func verifyCommand(c *console) *cli.Command {
	groups := checks.Groups()
	var names []string
	for _, g := range groups {
		names = append(names, g.Name)
	}
	return &cli.Command{
		Name:      "verify",
		Usage:     "compare the solver with closed-form solutions, standards and published tables",
		UsageText: "muralheat verify [flags] [GROUP]",
		Description: "Every check is shown with its source, the expected value, the value that this program computes\n" +
			"now, and the tolerance. All checks take less than a minute; the tests of the program run them\n" +
			"too. --against experiments compares the model with published experiments.\n\n" +
			"GROUP picks one group, in quotes if its name has spaces:\n   " + strings.Join(names, "\n   ") + "",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "`FORMAT` of the output: " + strings.Join(record.VerifyFormats, ", "), Value: record.VerifyFormats[0]},
			&cli.StringFlag{Name: "against", Usage: "compare with `WHAT` instead: experiments (published, with the model as last computed)"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "with --against: `FOLDER` for a figure of ours against measured"},
			&cli.BoolFlag{Name: "json", Usage: "the same as --format json", DisableDefaultText: true},
		},
		Before: takes(0, 1, "GROUP"),
		Action: func(ctx *cli.Context) error {
			if ctx.IsSet("against") {
				return against(c, ctx)
			}
			if ctx.IsSet("output") {
				return wrong("verify: --output belongs to --against experiments; leave it out, or give both")
			}
			format := ctx.String("format")
			switch {
			case ctx.Bool("json") && ctx.IsSet("format") && format != "json":
				return wrong("verify: --json and --format %s exclude each other", format)
			case ctx.Bool("json"):
				format = "json"
			case !slices.Contains(record.VerifyFormats, format):
				return wrong("verify: --format %q is not known; choose %s", format, strings.Join(record.VerifyFormats, ", "))
			}
			if name := ctx.Args().First(); name != "" {
				i := slices.Index(names, name)
				if i < 0 {
					return wrong("verify: no group %q; %s", name, guess(name, names, "groups are "+strings.Join(names, ", ")))
				}
				groups = groups[i : i+1]
			}
			return verify(c, groups, format)
		},
	}
}

// verify computes groups of checks and prints them.
func verify(c *console, groups []checks.Group, format string) error {
	ctx, release := interruptible(c)
	defer release()
	start := time.Now()
	p := newProgress(c, false)
	ran, err := checks.Run(ctx, groups, func(n int) { p.show(float64(n), float64(len(groups))) })
	p.clear()
	if err != nil {
		return errUnverified
	}
	text, err := record.Verification(buildInfo(), ran, format)
	if err != nil {
		return err
	}
	c.print("%s", text)
	if c.live { // not among the results, which are the same each time
		c.say("took %s on %d processors", about(time.Since(start).Seconds()), runtime.GOMAXPROCS(0))
	}
	failed, all := record.Failed(ran)
	if len(failed) == 0 {
		return nil
	}
	var which []string
	for _, f := range failed {
		which = append(which, f.What)
	}
	return fmt.Errorf("%d of %d checks differ: %w (%s)", len(failed), all, errDiffers, strings.Join(which, "; "))
}
