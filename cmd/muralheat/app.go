package main

import (
	"fmt"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios/keys"
)

const description = `How deep a high-frequency burn goes in a layered gut wall.

Examples:
   muralheat run                        the built-in scenario
   muralheat examples -o start          starter files to change
   muralheat check start/incision-pulses.yaml
   muralheat run -o result start/incision-pulses.yaml
   muralheat figures result             draw again, computing nothing
   muralheat report result              for a reviewer: HTML and Markdown
   muralheat compare slow.yaml fast.yaml
                                        side by side: one figure, what differs and why
   muralheat procedure mine.yaml hers.yaml
                                        step after step, two lists side by side
   muralheat source start/unit-stronger.yaml
                                        what a source gives into any load
   muralheat sweep plan.yaml            many cases; the same line resumes them
   muralheat page plan                  the sweep as one HTML file to teach with
   muralheat live                       the same, computed as its sliders are moved
   muralheat guide                      how to write, read and trust all of it

Flags come before the file. Results go to standard output, messages to standard
error; NO_COLOR and a standard error that is no terminal are respected.

` + exitHelp + "\n\n" + phrase.Caution

// newApp puts the commands together.
func newApp(c *console) *cli.App {
	cli.VersionFlag = &cli.BoolFlag{Name: "version", Usage: "print the version", DisableDefaultText: true}
	app := &cli.App{
		Name:                 "muralheat",
		Usage:                "high-frequency burns in a layered gut wall",
		UsageText:            "muralheat COMMAND [flags] [FILE]",
		Description:          description,
		Version:              version(),
		HideHelpCommand:      true,
		EnableBashCompletion: true,
		// A comma belongs to a value.
		DisableSliceFlagSeparator: true,
		Writer:                    c.out,
		ErrWriter:                 c.err,
		OnUsageError:              usageError,
		// Exit codes are given in one place, execute.
		ExitErrHandler: func(*cli.Context, error) {},
		Action:         noCommand,
		Commands: []*cli.Command{
			runCommand(c), compareCommand(c), procedureCommand(c), sourceCommand(c), sweepCommand(c), mergeCommand(c), limitCommand(c), checkCommand(c), figuresCommand(c), pageCommand(c), liveCommand(c), examplesCommand(c),
			tissuesCommand(c), schemaCommand(c), verifyCommand(c), reportCommand(c), guideCommand(c), completionCommand(c),
		},
	}
	for _, cmd := range app.Commands {
		cmd.HideHelpCommand = true
		cmd.Description = strings.TrimSpace(cmd.Description) + "\n\n" + exitHelp
		cmd.OnUsageError = usageError
		cmd.BashComplete = completes(c, cmd)
	}
	return app
}

// noCommand answers a command line whose first word is no command.
func noCommand(ctx *cli.Context) error {
	word := ctx.Args().First()
	switch {
	case word == "help" && ctx.NArg() == 2 && ctx.App.Command(ctx.Args().Get(1)) != nil:
		return cli.ShowCommandHelp(ctx, ctx.Args().Get(1))
	case ctx.NArg() == 0, word == "help" && ctx.NArg() == 1:
		return cli.ShowAppHelp(ctx)
	case word == "help":
		word = ctx.Args().Get(1)
	}
	var names []string
	for _, cmd := range ctx.App.Commands {
		names = append(names, cmd.Name)
	}
	if strings.HasSuffix(word, ".yaml") || strings.HasSuffix(word, ".yml") {
		return wrong("unknown command %q; did you mean \"run %s\"?", word, word)
	}
	return wrong("unknown command %q; %s", word, guess(word, names, "muralheat --help lists them"))
}

// guess offers the name that was probably meant, or else a hint.
func guess(word string, names []string, hint string) string {
	if near := keys.Near(word, names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return hint
}

// usageError turns what the flag parser says into one line. The library would print
// the whole help to standard output instead.
func usageError(ctx *cli.Context, err error, _ bool) error {
	text := err.Error()
	command, hint := "", "muralheat --help lists them"
	flags := ctx.App.Flags
	if ctx.Command != nil && slices.Contains(ctx.App.Commands, ctx.Command) {
		command, flags = ctx.Command.Name+": ", ctx.Command.Flags
		hint = "muralheat " + ctx.Command.Name + " --help lists them"
	}
	if name, ok := strings.CutPrefix(text, "flag provided but not defined: "); ok {
		var names []string
		for _, f := range flags {
			for _, n := range f.Names() {
				if len(n) > 1 {
					names = append(names, "--"+n)
				}
			}
		}
		name = "--" + strings.TrimLeft(name, "-")
		return wrong("%sunknown flag %s; %s", command, name, guess(name, names, hint))
	}
	return wrong("%s%s", command, strings.NewReplacer("invalid boolean value", "invalid value", " for -", " for flag -", "parse error", "not what this flag takes").Replace(text))
}

// takes returns a check that a command was given from least to most words, and
// nothing after them: the flag parser stops at the first word and would ignore flags
// behind it.
func takes(least, most int, what string) cli.BeforeFunc {
	return func(ctx *cli.Context) error {
		name, words := ctx.Command.Name, ctx.Args().Slice()
		late := 1 + slices.IndexFunc(words[min(1, len(words)):], func(w string) bool { return strings.HasPrefix(w, "-") })
		switch {
		case len(words) < least:
			return wrong("%s: %s is missing; muralheat %s --help shows how", name, what, name)
		case late > 0:
			return wrong("%s: %s comes after %q; flags come before it", name, words[late], words[late-1])
		case len(words) > most:
			return wrong("%s: one word too many: %q", name, words[most])
		case slices.Contains(words, ""):
			return wrong("%s: %s is empty", name, what)
		}
		return nil
	}
}

// version tells which program this is: its version, and the commit that the Go toolchain
// recorded.
func version() string {
	text := record.Version
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return text
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			text += ", commit " + s.Value
		case s.Key == "vcs.modified" && s.Value == "true":
			text += " with changes"
		}
	}
	return text + ", " + info.GoVersion
}

// buildInfo returns what the toolchain recorded, nil if nothing.
func buildInfo() *debug.BuildInfo {
	info, _ := debug.ReadBuildInfo()
	return info
}
