package batch

import (
	"fmt"
	"strconv"
	"strings"
)

// Slice is a share of a sweep: the cases i with i mod Of = Index. The zero value is the
// whole.
type Slice struct{ Index, Of int }

func (s Slice) whole() bool { return s.Of <= 1 }

func (s Slice) holds(i int) bool { return s.whole() || i%s.Of == s.Index }

// cases returns how many of n cases the slice holds.
func (s Slice) cases(n int) int {
	if s.whole() {
		return n
	}
	return (n - s.Index + s.Of - 1) / s.Of
}

// String returns "I/N".
func (s Slice) String() string {
	if s.whole() {
		return "0/1"
	}
	return fmt.Sprintf("%d/%d", s.Index, s.Of)
}

// Suffix returns what a slice adds to the name of a folder, "" for the whole.
func (s Slice) Suffix() string {
	if s.whole() {
		return ""
	}
	return fmt.Sprintf("-slice-%d-of-%d", s.Index, s.Of)
}

// maxSlices is far beyond any cluster.
const maxSlices = 1_000_000

// ParseSlice reads "I/N", 0 <= I < N.
func ParseSlice(text string) (Slice, error) {
	index, of, ok := strings.Cut(text, "/")
	i, err1 := strconv.Atoi(index)
	n, err2 := strconv.Atoi(of)
	if !ok || err1 != nil || err2 != nil {
		return Slice{}, fmt.Errorf("%q is not a slice; write I/N, as in 3/64, counted from 0", text)
	}
	return newSlice(i, n)
}

func newSlice(i, n int) (Slice, error) {
	switch {
	case n < 1 || n > maxSlices:
		return Slice{}, fmt.Errorf("%d slices; from 1 to %d", n, maxSlices)
	case i < 0 || i >= n:
		return Slice{}, fmt.Errorf("slice %d of %d; slices count from 0 to %d", i, n, n-1)
	}
	return Slice{i, n}, nil
}

// SliceFrom reads the slice from the environment that a scheduler gives each of many
// tasks; none of the variables means the whole.
//
//	MURALHEAT_SLICE                    I/N, for whatever starts the tasks
//	SLURM_ARRAY_TASK_ID, _MIN, _STEP,
//	_COUNT                             of a job array (sbatch(1), output environment variables)
//	JOB_COMPLETION_INDEX               of an indexed job (kubernetes.io, Jobs), which does not
//	                                   tell the number: n, 0 if not known
func SliceFrom(env func(string) string, n int) (Slice, error) {
	number := func(name string, otherwise int) (int, error) {
		text := env(name)
		if text == "" {
			return otherwise, nil
		}
		v, err := strconv.Atoi(text)
		if err != nil {
			return 0, fmt.Errorf("%s is %q, not a whole number", name, text)
		}
		return v, nil
	}
	switch {
	case env("MURALHEAT_SLICE") != "":
		s, err := ParseSlice(env("MURALHEAT_SLICE"))
		if err != nil {
			return s, fmt.Errorf("MURALHEAT_SLICE: %w", err)
		}
		return s, nil
	case env("SLURM_ARRAY_TASK_ID") != "":
		v := map[string]int{"ID": 0, "MIN": 0, "STEP": 1, "COUNT": n}
		for name, otherwise := range v {
			x, err := number("SLURM_ARRAY_TASK_"+name, otherwise)
			if err != nil {
				return Slice{}, err
			}
			v[name] = x
		}
		if off := v["ID"] - v["MIN"]; v["STEP"] < 1 || off%v["STEP"] != 0 || off/v["STEP"] >= v["COUNT"] {
			return Slice{}, fmt.Errorf("the tasks of this job array are not evenly spaced; write --array=0-%d, or --slice I/N", max(1, v["COUNT"])-1)
		}
		return newSlice((v["ID"]-v["MIN"])/v["STEP"], v["COUNT"])
	case env("JOB_COMPLETION_INDEX") != "":
		i, err := number("JOB_COMPLETION_INDEX", 0)
		if err != nil {
			return Slice{}, err
		}
		if n == 0 {
			return Slice{}, fmt.Errorf("JOB_COMPLETION_INDEX is %d, but the number of slices is missing; give --slices N", i)
		}
		return newSlice(i, n)
	case n > 1:
		return Slice{}, fmt.Errorf("%d slices, but no index; give --slice I/%d", n, n)
	}
	return Slice{}, nil
}
