package keys

import "go.yaml.in/yaml/v4"

// PlanFile is a plan as written: many cases of one scenario. The tags serve as those of
// File do.
type PlanFile struct {
	Title      *string      `yaml:"title" jsonschema:"required,minLength=1,maxLength=120" jsonschema_description:"One line that says what this sweep is."`
	Question   *string      `yaml:"question" jsonschema:"maxLength=1000" jsonschema_description:"The question that this sweep answers; for the credibility report."`
	ContextUse *string      `yaml:"context_of_use" jsonschema:"maxLength=1000" jsonschema_description:"What the answer is for, who uses it, and what other evidence there is; for the credibility report."`
	Decision   *Decision    `yaml:"decision" jsonschema_description:"What is decided with the results, stated before they are computed; for the credibility report."`
	FiguresFor *string      `yaml:"figures_for" jsonschema:"enum=slide,enum=paper-85,enum=paper-170" jsonschema_description:"The page that figures are laid out for, as in a scenario; left out: that of the scenario."`
	Scenario   *string      `yaml:"scenario" jsonschema:"required,maxLength=1000" jsonschema_description:"File of the scenario to vary, relative to the folder of the plan."`
	Vary       []*Vary      `yaml:"vary" jsonschema:"minItems=1,maxItems=100" jsonschema_description:"Keys of the scenario that vary; the first changes slowest."`
	Design     *string      `yaml:"design" jsonschema:"enum=grid,enum=paired,enum=one-at-a-time,enum=halton,enum=latin-hypercube" jsonschema_description:"How the values are combined into points."`
	Points     *float64     `yaml:"points" jsonschema:"minimum=1,maximum=10000000" jsonschema_description:"Number of points of a halton or latin-hypercube design."`
	Cases      []*PlanCase  `yaml:"cases" jsonschema:"minItems=1,maxItems=10000" jsonschema_description:"Named cases side by side; instead of vary."`
	Uncertain  []*Uncertain `yaml:"uncertain" jsonschema:"minItems=1,maxItems=20" jsonschema_description:"Keys whose values are not known exactly and are drawn at random."`
	Draws      *float64     `yaml:"draws" jsonschema:"minimum=1,maximum=1000000" jsonschema_description:"Number of draws of the uncertain keys at each point; with limit it may be left out, and is then the least that can show it."`
	Seed       *float64     `yaml:"seed" jsonschema:"minimum=0,maximum=9007199254740991" jsonschema_description:"Seed of the random numbers."`
	Limit      *Limit       `yaml:"limit" jsonschema_description:"For muralheat limit: a further key, whose value is sought that just keeps a result on the safe side."`
}

// Vary is a key that varies: over a list, or over a range.
type Vary struct {
	Key     *string      `yaml:"key" jsonschema:"required,maxLength=200" jsonschema_description:"Path of a key of the scenario, layers by name."`
	Title   *string      `yaml:"title" jsonschema:"maxLength=60" jsonschema_description:"What figures call this key."`
	Values  []*yaml.Node `yaml:"values" jsonschema:"minItems=1,maxItems=100000" jsonschema_description:"The values, numbers or words; instead of from, to and steps."`
	From    *float64     `yaml:"from" jsonschema_description:"First value of a range."`
	To      *float64     `yaml:"to" jsonschema_description:"Last value of a range."`
	Steps   *float64     `yaml:"steps" jsonschema:"minimum=2,maximum=100000" jsonschema_description:"Number of values of a range, both ends included; not for halton and latin-hypercube."`
	Spacing *string      `yaml:"spacing" jsonschema:"enum=linear,enum=log" jsonschema_description:"Equal steps or equal ratios."`
}

// PlanCase is one named setting.
type PlanCase struct {
	Name     *string    `yaml:"name" jsonschema:"required,pattern=^[A-Za-z0-9][A-Za-z0-9._-]*$,maxLength=40" jsonschema_description:"Name of the case; it heads its row."`
	Title    *string    `yaml:"title" jsonschema:"minLength=1,maxLength=120" jsonschema_description:"What figures call the case; any text."`
	Scenario *yaml.Node `yaml:"scenario" jsonschema_description:"The whole scenario of this case, in place of that of the plan."`
	Set      *yaml.Node `yaml:"set" jsonschema_description:"Keys of the scenario with their values."`
}

// Uncertain is a key that is drawn from a law, cut off at within.
type Uncertain struct {
	Key        *string     `yaml:"key" jsonschema:"required,maxLength=200" jsonschema_description:"Path of a key of the scenario, layers by name."`
	Title      *string     `yaml:"title" jsonschema:"maxLength=60" jsonschema_description:"What figures call this key."`
	Normal     *Normal     `yaml:"normal" jsonschema_description:"Normal distribution."`
	Lognormal  *Lognormal  `yaml:"lognormal" jsonschema_description:"Distribution whose logarithm is normal."`
	Uniform    *Uniform    `yaml:"uniform" jsonschema_description:"All values of a range are equally likely."`
	Triangular *Triangular `yaml:"triangular" jsonschema_description:"Lowest, most likely and highest value."`
	Within     *Uniform    `yaml:"within" jsonschema_description:"Limits at which the distribution is cut off."`
}

// Normal is a normal law.
type Normal struct {
	Mean *float64 `yaml:"mean" jsonschema:"required" jsonschema_description:"Mean."`
	SD   *float64 `yaml:"sd" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"Standard deviation."`
}

// Lognormal is a law whose logarithm is normal.
type Lognormal struct {
	Median *float64 `yaml:"median" jsonschema:"required,exclusiveMinimum=0" jsonschema_description:"Median."`
	GSD    *float64 `yaml:"gsd" jsonschema:"required,exclusiveMinimum=1" jsonschema_description:"Geometric standard deviation: two thirds lie within this factor of the median."`
}

// Uniform is a range.
type Uniform struct {
	Low  *float64 `yaml:"low" jsonschema:"required" jsonschema_description:"Lowest value."`
	High *float64 `yaml:"high" jsonschema:"required" jsonschema_description:"Highest value."`
}

// Triangular is a triangular law.
type Triangular struct {
	Low  *float64 `yaml:"low" jsonschema:"required" jsonschema_description:"Lowest value."`
	Mode *float64 `yaml:"mode" jsonschema:"required" jsonschema_description:"Most likely value."`
	High *float64 `yaml:"high" jsonschema:"required" jsonschema_description:"Highest value."`
}

// Limit asks for the value of a key that just keeps a result on the safe side.
type Limit struct {
	Key         *string  `yaml:"key" jsonschema:"required,maxLength=200" jsonschema_description:"Path of the key whose limit is sought."`
	From        *float64 `yaml:"from" jsonschema:"required" jsonschema_description:"Lowest value that is tried."`
	To          *float64 `yaml:"to" jsonschema:"required" jsonschema_description:"Highest value that is tried."`
	Find        *string  `yaml:"find" jsonschema:"enum=largest,enum=smallest" jsonschema_description:"Whether the largest or the smallest safe value is sought."`
	Column      *string  `yaml:"column" jsonschema:"maxLength=200" jsonschema_description:"Column of results.csv that decides."`
	Above       *float64 `yaml:"above" jsonschema_description:"A result above this is safe; or give below."`
	Below       *float64 `yaml:"below" jsonschema_description:"A result below this is safe; or give above."`
	Probability *float64 `yaml:"probability_percent" jsonschema:"exclusiveMinimum=0,exclusiveMaximum=100" jsonschema_description:"With uncertain keys: the probability of an unsafe result that must not be passed, in percent."`
	Confidence  *float64 `yaml:"confidence_percent" jsonschema:"minimum=50,exclusiveMaximum=100" jsonschema_description:"With uncertain keys: the confidence with which the draws must show that, in percent."`
	Tolerance   *float64 `yaml:"tolerance_percent" jsonschema:"minimum=0.01,maximum=50" jsonschema_description:"Accuracy of the limit, in percent of the range tried."`
	InCases     []string `yaml:"in_cases" jsonschema:"minItems=1,maxItems=1000" jsonschema_description:"Names of the cases that take the value. The limit is then that of all cases together: the value up to which every case is safe."`
	Scan        *float64 `yaml:"scan" jsonschema:"minimum=2,maximum=100" jsonschema_description:"Number of values tried first; they show whether the result crosses its bound more than once."`
}
