package main

import (
	"github.com/urfave/cli/v2"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
)

func schemaCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "schema",
		Usage:     "print the JSON Schema of a scenario or a plan, for editors",
		UsageText: "muralheat schema > scenario.schema.json\nmuralheat schema plan > plan.schema.json",
		Description: "`muralheat examples -o FOLDER` writes both beside the starter files. An editor that knows the\n" +
			"YAML language server then completes and explains keys in every file whose first line is\n" +
			"# yaml-language-server: $schema=scenario.schema.json",
		Before: takes(0, 1, "scenario or plan"),
		Action: func(ctx *cli.Context) error {
			switch of := ctx.Args().First(); of {
			case "", "scenario":
				c.print("%s", scenarios.Schema())
			case "plan":
				c.print("%s", plan.Schema())
			default:
				return wrong("schema: no schema of %q; write scenario or plan", of)
			}
			return nil
		},
	}
}
