package main

import (
	"github.com/urfave/cli/v2"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/scenarios/procedure"
	"muralheat/scenarios/source"
)

func schemaCommand(c *console) *cli.Command {
	return &cli.Command{
		Name:      "schema",
		Usage:     "print the JSON Schema of a scenario, a plan, a procedure or a source sheet, for editors",
		UsageText: "muralheat schema > scenario.schema.json\nmuralheat schema plan > plan.schema.json\nmuralheat schema procedure > procedure.schema.json\nmuralheat schema sheet > sheet.schema.json",
		Description: "`muralheat examples -o FOLDER` writes them beside the starter files. An editor that knows the\n" +
			"YAML language server then completes and explains keys in every file whose first line is\n" +
			"# yaml-language-server: $schema=scenario.schema.json",
		Before: takes(0, 1, "scenario, plan, procedure or sheet"),
		Action: func(ctx *cli.Context) error {
			switch of := ctx.Args().First(); of {
			case "", "scenario":
				c.print("%s", scenarios.Schema())
			case "plan":
				c.print("%s", plan.Schema())
			case "procedure":
				c.print("%s", procedure.Schema())
			case "sheet":
				c.print("%s", source.Schema())
			default:
				return wrong("schema: no schema of %q; write scenario, plan, procedure or sheet", of)
			}
			return nil
		},
	}
}
