package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output"
	"muralheat/thermal/checks"
)

// errDiffers ends a verification in which a check differs.
var errDiffers = errors.New("the solver differs from what is known from outside: do not use this program")

func verifyCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "verify",
		Usage:     "hold the solver against closed forms, standards and tables",
		UsageText: "muralheat verify [flags] [GROUP]",
		Description: "Every check with its source, what is expected, what this program computes here and now,\n" +
			"and how far apart they may be; all of them in some seconds. GROUP picks one group.\n" +
			"The tests of the program run the same checks. Comparison with experiments is another\n" +
			"matter: see DEVELOPERS.md.\n\n" + exitHelp,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "format", Usage: "`HOW` it is written: " + strings.Join(output.VerifyFormats, ", "), Value: output.VerifyFormats[0]},
			&cli.BoolFlag{Name: "json", Usage: "the same as --format json", DisableDefaultText: true},
		},
		Before: takes(0, 1, "GROUP"),
		Action: func(ctx *cli.Context) error {
			format := ctx.String("format")
			if ctx.Bool("json") {
				format = "json"
			}
			if !slices.Contains(output.VerifyFormats, format) {
				return wrong("verify: --format %q is not known; choose %s", format, strings.Join(output.VerifyFormats, ", "))
			}
			groups := checks.Groups()
			if name := ctx.Args().First(); name != "" {
				i := slices.IndexFunc(groups, func(g checks.Group) bool { return g.Name == name })
				if i < 0 {
					var names []string
					for _, g := range groups {
						names = append(names, g.Name)
					}
					return wrong("verify: no group %q; %s", name, guess(name, names, "groups are "+strings.Join(names, ", ")))
				}
				groups = groups[i : i+1]
			}
			interrupted, release := interruptible(c)
			defer release()
			p := newProgress(c, false)
			ran, err := checks.Run(interrupted, groups, func(n int) { p.show(float64(n), float64(len(groups))) })
			p.clear()
			if err != nil {
				return errInterrupted
			}
			b, err := output.Verification(ran, format)
			if err != nil {
				return err
			}
			c.print("%s", b)
			if failed, _ := output.Failed(ran); len(failed) > 0 {
				return fmt.Errorf("%w (%s)", errDiffers, failed[0].What)
			}
			return nil
		},
	}
}
