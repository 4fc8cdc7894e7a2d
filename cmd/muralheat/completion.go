package main

import (
	"embed"
	"os"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"muralheat/scenarios"
	"muralheat/thermal/checks"
)

//go:embed completion
var completionScripts embed.FS

// completionCommand prints what a shell needs to ask the program, as the library has it, for what may stand next.
func completionCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "completion",
		Usage:     "print what a shell needs to complete commands, flags, names and keys",
		UsageText: "source <(muralheat completion bash)\nsource <(muralheat completion zsh)\nmuralheat completion fish > ~/.config/fish/completions/muralheat.fish",
		Description: "In ~/.bashrc or ~/.zshrc the line completes commands, flags, the names of examples, guide pages, tissues\n" +
			"and groups of checks, and after --set the keys of a scenario; fish completes commands and flags.",
		Before: takes(1, 1, "bash, zsh or fish"),
		Action: func(ctx *cli.Context) error {
			switch shell := ctx.Args().First(); shell {
			case "bash", "zsh":
				text, err := completionScripts.ReadFile("completion/" + shell)
				if err != nil {
					return err
				}
				c.print("%s", text)
			case "fish":
				text, err := ctx.App.ToFishCompletion()
				if err != nil {
					return err
				}
				c.print("%s", text)
			default:
				return wrong("completion: no script for %q; choose bash, zsh or fish", shell)
			}
			return nil
		},
	}
}

// completes returns what the library calls when a shell asks what may stand next on a command's line: flags, the keys
// after --set, or the names that the command takes. Where it has nothing to say the shell offers files.
func completes(c *console, cmd *cli.Command) cli.BashCompleteFunc {
	return func(ctx *cli.Context) {
		last := ""
		if n := len(os.Args); n > 2 { // before what asks for it
			last = os.Args[n-2]
		}
		switch takes := takesValue(cmd, last); {
		case last == setName && takes:
			for _, key := range settable() {
				c.print("%s=\n", key)
			}
		case takes:
		case strings.HasPrefix(last, "-"):
			cli.DefaultCompleteWithFlags(cmd)(ctx)
		default:
			for _, name := range namesFor(cmd.Name) {
				c.print("%s\n", name)
			}
		}
	}
}

// takesValue reports whether a word is a flag of a command that a value must follow.
func takesValue(cmd *cli.Command, word string) bool {
	name := strings.TrimLeft(word, "-")
	return name != word && slices.ContainsFunc(cmd.Flags, func(f cli.Flag) bool {
		v, ok := f.(cli.DocGenerationFlag)
		return ok && v.TakesValue() && slices.Contains(f.Names(), name)
	})
}

// settable returns the keys that can be set in the built-in scenario.
func settable() []string {
	example, _ := scenarios.FindExample(scenarios.BuiltIn)
	s, err := example.Scenario()
	if err != nil {
		return nil // it is part of the binary, and tested
	}
	return append([]string{"title"}, scenarios.Settable(s.File)...)
}

// namesFor returns the names of the program's own that a command takes.
func namesFor(command string) (names []string) {
	switch command {
	case "examples":
		for _, e := range slices.Concat(scenarios.Examples(), scenarios.PlanExamples(), scenarios.ProcedureExamples(), scenarios.SheetExamples()) {
			names = append(names, strings.TrimSuffix(e.Name, ".yaml"))
		}
	case "guide":
		for _, p := range pages {
			names = append(names, p.name)
		}
	case "tissues":
		for _, e := range slices.Concat(tissueEntries(400), siteEntries(), kineticsEntries(), constantEntries()) {
			names = append(names, e.Name)
		}
		slices.Sort(names)
		names = slices.Compact(names)
	case "verify":
		for _, g := range checks.Groups() {
			names = append(names, g.Name)
		}
	case "schema":
		names = []string{"scenario", "plan", "procedure", "sheet"}
	case "completion":
		names = []string{"bash", "zsh", "fish"}
	}
	return names
}
