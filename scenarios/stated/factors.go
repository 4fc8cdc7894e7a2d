package stated

// Factor is one of the credibility factors that ASME V&V 40-2018 names (from memory), with three gradations of rigour
// in words of our own, and the category of evidence under which the FDA's guidance of November 2023 on the credibility
// of computational models (from memory) puts what belongs to it.
type Factor struct {
	Key        string // of decision.goals
	Name       string
	Gradations [3]string // a, b, c
	Category   string
}

// Categories of evidence, by the FDA's guidance of 2023, from memory.
const (
	codeVerification = "1 code verification results"
	calculation      = "8 calculation verification and uncertainty quantification in the context of use"
	plausibility     = "7 plausibility of the model"
	bench            = "3 and 4 validation against bench and in vivo experiments"
)

// Factors lists them in the order of the standard.
var Factors = []Factor{
	{"software_quality", "code: software quality", [3]string{"the program cannot be traced to its source", "built from a known, unchanged commit whose tests run with every change", "built from such a commit, and audited by somebody independent"}, codeVerification},
	{"code_verification", "code: numerical code verification", [3]string{"no problem with a known answer, or some that fail", "problems with known answers, all within tolerance", "such problems, and observed orders of accuracy as they should be"}, codeVerification},
	{"discretisation_error", "calculation: discretisation error", [3]string{"not computed for the case, nor carried over from like ones", "carried over from like cases, or computed for some of the cases", "computed for the case itself on three meshes"}, calculation},
	{"solver_error", "calculation: numerical solver error", [3]string{"a balance fails or is not known", "balances of energy, water and charge hold", "balances hold, and tolerances were tightened with the mesh"}, calculation},
	{"use_error", "calculation: use error", [3]string{"files have changed since, or inputs were not checked", "inputs checked for unit and range, files as they were computed", "checked so, and cases computed again to the same bits"}, calculation},
	{"model_form", "model: form", [3]string{"one form of the model, its assumptions listed", "an alternative to one of its assumptions was computed too", "alternatives to all that matter were computed"}, plausibility},
	{"model_inputs", "model: inputs", [3]string{"values with their sources, influence on the answer not computed", "the influence of some inputs was computed", "inputs that are not known exactly were drawn from distributions"}, calculation},
	{"test_samples", "comparator: test samples", [3]string{"no experiment on like tissue, or a single one", "several experiments on the same or like tissue", "samples chosen to stand for the tissue of the context of use"}, bench},
	{"test_conditions", "comparator: test conditions", [3]string{"no experiment of this kind, or conditions apart from the case", "conditions of the experiments near the case, open ones drawn", "all conditions measured and controlled"}, bench},
	{"equivalency_of_inputs", "assessment: equivalency of inputs", [3]string{"no experiment of this kind to compare", "what an experiment leaves open is drawn from a stated range", "all inputs measured in the experiment"}, bench},
	{"output_comparison", "assessment: output comparison", [3]string{"no comparison in numbers", "differences with their spread", "differences with their spread, numerical error small against it in each"}, bench},
	{"relevance_of_quantity", "applicability: quantities of interest", [3]string{"what the answer rests on was measured in no experiment of this kind", "measured in one of them", "measured in several of them"}, bench},
	{"relevance_of_experiments", "applicability: validation to the context of use", [3]string{"the case is outside what was compared on an axis", "the case is inside or near on each axis", "the case is inside on each axis, and the context of use is stated"}, bench},
}

// Grades are the gradations, least first.
var Grades = []string{"a", "b", "c"}

// Of returns the words of a gradation, "" for none.
func (f Factor) Of(grade string) string {
	for i, g := range Grades {
		if g == grade {
			return f.Gradations[i]
		}
	}
	return ""
}
