package main

import (
	"embed"
	"path"
	"regexp"
	"strings"

	"github.com/urfave/cli/v2"
)

// The guide: the same Markdown that a code host shows.
//
//go:embed guide/*.md
//go:generate go run ./guide/numbers
var guide embed.FS

// pages are those of the guide, in the order of a first reading, each with its question.
var pages = []struct{ name, answers string }{
	{"start", "how do I begin?"},
	{"lectures", "what can I show a class?"},
	{"scenarios", "how do I describe a wall, an electrode and a current?"},
	{"sources", "how do I describe my generator, and what of its setting arrives?"},
	{"plans", "how do I compute many cases, or the limit of a setting?"},
	{"procedures", "what does my whole list do to the wall, and how does another compare?"},
	{"results", "which file holds what, and what do the numbers mean?"},
	{"neutral-electrode", "how warm does the skin get under a pad?"},
	{"wire-loop", "what does a loop around a stalk do to the wall?"},
	{"physics", "which equations are solved, and what is assumed?"},
	{"accuracy", "how far may a number be off?"},
	{"experiments", "what has been measured in tissue, and what does the model say?"},
	{"credibility", "what does a reviewer need, and where is it?"},
	{"clusters", "how do I use many machines?"},
}

// marks are the comments by which guide/numbers finds its numbers in a page.
var marks = regexp.MustCompile(`(?m)^<!-- (numbers: .*|end) -->\n|<!-- = .*? -->`)

func guideCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "guide",
		Usage:       "print a page of the guide, or list its pages",
		UsageText:   "muralheat guide [PAGE]",
		Description: "Without a page: the list. A page is Markdown, as in cmd/muralheat/guide of the source.",
		Before:      takes(0, 1, "PAGE"),
		Action: func(ctx *cli.Context) error {
			name := ctx.Args().First()
			if name == "" {
				t := newTable(c)
				for _, p := range pages {
					t.row(p.name, p.answers)
				}
				t.end()
				return nil
			}
			var names []string
			for _, p := range pages {
				names = append(names, p.name)
			}
			text, err := guide.ReadFile(path.Join("guide", strings.TrimSuffix(name, ".md")+".md"))
			if err != nil {
				return wrong("guide: no page %q; %s", name, guess(name, names, "muralheat guide lists them"))
			}
			c.print("%s", marks.ReplaceAll(text, nil))
			return nil
		},
	}
}
