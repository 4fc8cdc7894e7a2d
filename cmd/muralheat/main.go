// Muralheat computes how deep a high-frequency burn goes in a layered gut wall: from
// a scenario file to tables, figures and a record of what was computed.
//
//	muralheat run               the built-in scenario
//	muralheat run case.yaml     a scenario of one's own
//	muralheat --help            everything else
//
// This command holds flags, exit codes, progress and signals; the physics is in
// package thermal, what a person writes in scenarios, what a person reads in output.
package main

import (
	"fmt"
	"io"
	"os"
)

func main() {
	os.Exit(execute(os.Args, os.Stdout, os.Stderr))
}

// execute runs one command line and returns its exit code.
func execute(args []string, stdout, stderr io.Writer) (code int) {
	c := newConsole(args, stdout, stderr)
	defer func() {
		if p := recover(); p != nil {
			c.say("a bug: %v; nothing was kept; please report it with the scenario and the output of muralheat --version", p)
			code = exitFailed
		}
	}()
	err := newApp(c).Run(args)
	if err != nil {
		c.report(err)
	}
	if c.failed != nil {
		c.report(fmt.Errorf("cannot write to standard output: %w", c.failed))
		return exitFailed
	}
	return exitCode(err)
}
