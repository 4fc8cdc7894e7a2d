package main

import (
	"github.com/urfave/cli/v2"

	"muralheat/scenarios"
)

func schemaCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:        "schema",
		Usage:       "print the JSON Schema of a scenario, for editors",
		UsageText:   "muralheat schema > scenario.schema.json",
		Description: "With that file beside a scenario whose first line is\n# yaml-language-server: $schema=scenario.schema.json\nan editor that knows the YAML language server completes keys and explains them.",
		Before:      takes(0, 0, ""),
		Action: func(*cli.Context) error {
			c.print("%s", scenarios.Schema())
			return nil
		},
	}
}
