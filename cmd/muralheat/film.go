package main

import (
	"fmt"
	"strconv"

	"github.com/urfave/cli/v2"
)

// Moments that a film keeps: ten seconds at six a second, and at most at twelve. History has 200 rows while current
// flows and 100 after, so each is one of them; drawing the most takes some 80 MB.
const (
	usualMoments = 60
	leastMoments = 2
	mostMoments  = 120
)

// moments is the value of --film, which may be left out.
type moments int

// Set takes what the flag parser hands over: a number, or "true" where there is none.
func (m *moments) Set(text string) error {
	if text == "true" {
		*m = usualMoments
		return nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < leastMoments || n > mostMoments {
		return fmt.Errorf("give a whole number of moments from %d to %d, such as --film=%d", leastMoments, mostMoments, usualMoments)
	}
	*m = moments(n)
	return nil
}

func (m *moments) String() string { return "" }

// IsBoolFlag lets the flag stand alone.
func (m *moments) IsBoolFlag() bool { return true }

func filmFlag() cli.Flag {
	return &cli.GenericFlag{Name: "film", Value: new(moments),
		Usage: fmt.Sprintf("keep moments of the run (film.npz) and draw them as a film (film.gif); --film=`N` keeps at most N, else %d", usualMoments)}
}

// filmAlone refuses a number that stands behind the flag, where the flag parser takes it for the scenario.
func filmAlone(next cli.BeforeFunc) cli.BeforeFunc {
	return func(ctx *cli.Context) error {
		if n, err := strconv.Atoi(ctx.Args().First()); err == nil && ctx.IsSet("film") {
			return wrong("run: --film %d: the number of moments goes with an equals sign: --film=%d", n, n)
		}
		return next(ctx)
	}
}
