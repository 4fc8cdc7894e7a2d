package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"

	"golang.org/x/term"

	"muralheat/scenarios/keys"
)

// A console is where results and messages go: results to standard output, all else
// to standard error as "muralheat: message".
type console struct {
	out, err io.Writer
	live     bool // standard error is a terminal: a line may be drawn over
	colour   bool
	args     []string // the command line
	failed   error    // first failure to write a result
}

func newConsole(args []string, out, err io.Writer) *console {
	c := &console{out: out, err: err, args: args}
	if f, ok := err.(*os.File); ok {
		c.live = term.IsTerminal(int(f.Fd())) && os.Getenv("TERM") != "dumb"
	}
	c.colour = c.live && os.Getenv("NO_COLOR") == ""
	return c
}

// print writes a result.
func (c *console) print(format string, args ...any) {
	if _, err := fmt.Fprintf(c.out, format, args...); err != nil && c.failed == nil {
		c.failed = err
	}
}

// json writes a result for a script.
func (c *console) json(v any) {
	e := json.NewEncoder(c.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil && c.failed == nil {
		c.failed = err
	}
}

// say writes a message.
func (c *console) say(format string, args ...any) {
	name := "muralheat:"
	if c.colour {
		name = "\x1b[1m" + name + "\x1b[0m"
	}
	if c.live {
		name = "\r\x1b[K" + name // over a progress bar
	}
	fmt.Fprintf(c.err, "%s %s\n", name, fmt.Sprintf(format, args...))
}

// report writes why a command failed. Problems of a scenario start with
// file:line:column, as editors look for.
func (c *console) report(err error) {
	var problems keys.Problems
	if errors.As(err, &problems) {
		fmt.Fprintln(c.err, problems)
		return
	}
	c.say("%v", err)
}
