package keys

// Decision is what is decided with a result, stated before it is computed. No value of it changes what is computed.
type Decision struct {
	For                *string `yaml:"for" jsonschema:"required,minLength=1,maxLength=1000" jsonschema_description:"The decision that the result informs."`
	Influence          *string `yaml:"influence" jsonschema:"required,enum=low,enum=medium,enum=high" jsonschema_description:"Weight of the model in the decision beside other evidence."`
	InfluenceBecause   *string `yaml:"influence_because" jsonschema:"minLength=1,maxLength=1000" jsonschema_description:"Why the influence is that: which other evidence there is."`
	Consequence        *string `yaml:"consequence" jsonschema:"required,enum=low,enum=medium,enum=high" jsonschema_description:"How grave a wrong decision would be."`
	ConsequenceBecause *string `yaml:"consequence_because" jsonschema:"minLength=1,maxLength=1000" jsonschema_description:"What follows from a wrong decision."`
	Goals              *Goals  `yaml:"goals" jsonschema_description:"The gradation, a to c, that the evidence for each credibility factor is to reach."`
}

// Goals are the gradations asked for: a the least, c the most rigorous. muralheat check says what each means.
type Goals struct {
	SoftwareQuality       *string `yaml:"software_quality" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Quality assurance of the software."`
	CodeVerification      *string `yaml:"code_verification" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Whether the equations are solved correctly."`
	DiscretisationError   *string `yaml:"discretisation_error" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Error by cells and steps."`
	SolverError           *string `yaml:"solver_error" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Error by tolerances of the solvers."`
	UseError              *string `yaml:"use_error" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Mistakes in inputs and in reading results."`
	ModelForm             *string `yaml:"model_form" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Equations and assumptions."`
	ModelInputs           *string `yaml:"model_inputs" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Values that go into the model."`
	TestSamples           *string `yaml:"test_samples" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Tissue of the experiments compared with."`
	TestConditions        *string `yaml:"test_conditions" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Conditions of those experiments."`
	EquivalencyOfInputs   *string `yaml:"equivalency_of_inputs" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Whether model and experiment had the same inputs."`
	OutputComparison      *string `yaml:"output_comparison" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"How results were compared with measurements."`
	RelevanceOfQuantity   *string `yaml:"relevance_of_quantity" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Whether what was measured is what the answer rests on."`
	RelevanceOfExperiment *string `yaml:"relevance_of_experiments" jsonschema:"enum=a,enum=b,enum=c" jsonschema_description:"Whether the experiments cover the context of use."`
}
