package main

import (
	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
)

// readScenario reads the scenario that a command was given.
func readScenario(command, path string) (*scenarios.Scenario, error) {
	data, err := scenarios.Read(path, "scenario")
	if err != nil {
		return nil, err
	}
	if keys.IsPlanText(path, data) {
		return nil, wrong("%s: %s is a plan, not a scenario; write: muralheat sweep %s", command, path, path)
	}
	return scenarios.Parse(path, data)
}

// readPlan reads the plan that a command was given.
func readPlan(command, path string) (*plan.Sweep, error) {
	data, err := scenarios.Read(path, "plan")
	if err != nil {
		return nil, err
	}
	if !keys.IsPlanText(path, data) {
		if _, err := scenarios.Parse(path, data); err == nil {
			return nil, wrong("%s: %s is a scenario, not a plan; write: muralheat run %s", command, path, path)
		}
	}
	return plan.Parse(path, data, scenarios.Load)
}
