package main

import (
	"cmp"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
)

const setName = "--set"

// setFlag lets a command line say values in place of those of the scenario's file.
func setFlag() cli.Flag {
	return &cli.StringSliceFlag{Name: setName[2:], Usage: "compute with `KEY=VALUE` in place of what the scenario says; repeat it for more keys"}
}

// setsOf reads what setFlag was given.
func setsOf(ctx *cli.Context) ([]scenarios.Set, error) {
	var sets []scenarios.Set
	for _, text := range ctx.StringSlice(setName[2:]) {
		s, err := scenarios.ParseSet(text, setName)
		if err != nil {
			return nil, err
		}
		sets = append(sets, s)
	}
	return sets, nil
}

// parseScenario reads the text of a scenario and sets values in it.
func parseScenario(path string, data []byte, sets []scenarios.Set) (*scenarios.Scenario, error) {
	s, err := scenarios.Parse(path, data)
	if err != nil || len(sets) == 0 {
		return s, err
	}
	return s.With(sets...)
}

// readScenario reads the scenario that a command was given.
func readScenario(command, path string, sets []scenarios.Set) (*scenarios.Scenario, error) {
	data, err := scenarios.Read(path, "scenario")
	if err != nil {
		return nil, err
	}
	if keys.IsPlanText(path, data) {
		return nil, wrong("%s: %s is a plan, not a scenario; write: muralheat sweep %s", command, path, path)
	}
	if err := noProcedure(command, path, data); err != nil {
		return nil, err
	}
	return parseScenario(path, data, sets)
}

// noProcedure refuses a procedure where something else is needed.
func noProcedure(command, path string, data []byte) error {
	if !keys.IsProcedureText(path, data) {
		return nil
	}
	return wrong("%s: %s is a procedure; write: muralheat procedure %s", command, path, path)
}

// outputOf returns the folder that --output names, or the usual one.
func outputOf(ctx *cli.Context, usual string) (string, error) {
	name, dir := ctx.Command.Name, ctx.String("output")
	switch ext := filepath.Ext(dir); {
	case ctx.IsSet("output") && dir == "":
		return "", wrong("%s: --output is empty; give a folder", name)
	case (ext == ".yaml" || ext == ".yml") && ctx.NArg() == 0:
		return "", wrong("%s: -o names the folder of the results, not what is computed; write: muralheat %s %s", name, name, dir)
	case ext == ".yaml" || ext == ".yml":
		return "", wrong("%s: -o %s names the folder of the results, and ends like a file; give a folder", name, dir)
	}
	return cmp.Or(dir, usual), nil
}

// readPlan reads the plan that a command was given.
func readPlan(command, path string, sets []scenarios.Set) (*plan.Sweep, error) {
	data, err := scenarios.Read(path, "plan")
	if err != nil {
		return nil, err
	}
	if err := noProcedure(command, path, data); err != nil {
		return nil, err
	}
	if !keys.IsPlanText(path, data) {
		if _, err := scenarios.Parse(path, data); err == nil {
			return nil, wrong("%s: %s is a scenario, not a plan; write: muralheat run %s", command, path, path)
		}
	}
	return plan.Parse(path, data, plan.Setting(sets))
}
