package batch

import (
	"strings"
	"testing"
)

func TestParseSlice(t *testing.T) {
	for text, want := range map[string]string{
		"0/1": "0/1", "3/64": "3/64", "63/64": "63/64",
		"64/64": "slice 64 of 64; slices count from 0 to 63", "-1/4": "slice -1 of 4; slices count from 0 to 3",
		"1/0": "0 slices; from 1 to 1000000", "3": `"3" is not a slice; write I/N, as in 3/64, counted from 0`,
		"a/b": `"a/b" is not a slice; write I/N, as in 3/64, counted from 0`, "1/2/3": `"1/2/3" is not a slice; write I/N, as in 3/64, counted from 0`,
	} {
		s, err := ParseSlice(text)
		got := s.String()
		if err != nil {
			got = err.Error()
		}
		if got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// TestSliceFrom: the variables are those of sbatch(1), "output environment variables", and
// of kubernetes.io, "Indexed Job for Parallel Processing with Static Work Assignment"
// (both from memory; those of a job array were seen in a task of Slurm 22.05).
func TestSliceFrom(t *testing.T) {
	for _, tt := range []struct {
		env  string
		n    int
		want string // slice, or the start of what is wrong
	}{
		{"", 0, "0/1"},
		{"", 1, "0/1"},
		{"", 4, "4 slices, but no index"},
		{"MURALHEAT_SLICE=2/3 SLURM_ARRAY_TASK_ID=0 SLURM_ARRAY_TASK_COUNT=9", 0, "2/3"},
		{"MURALHEAT_SLICE=3/3", 0, "MURALHEAT_SLICE: slice 3 of 3"},
		{"SLURM_ARRAY_TASK_ID=4 SLURM_ARRAY_TASK_MIN=4 SLURM_ARRAY_TASK_MAX=6 SLURM_ARRAY_TASK_COUNT=3", 0, "0/3"},
		{"SLURM_ARRAY_TASK_ID=6 SLURM_ARRAY_TASK_MIN=4 SLURM_ARRAY_TASK_MAX=6 SLURM_ARRAY_TASK_COUNT=3", 0, "2/3"},
		{"SLURM_ARRAY_TASK_ID=8 SLURM_ARRAY_TASK_MIN=0 SLURM_ARRAY_TASK_STEP=4 SLURM_ARRAY_TASK_COUNT=3", 0, "2/3"},
		{"SLURM_ARRAY_TASK_ID=9 SLURM_ARRAY_TASK_MIN=3 SLURM_ARRAY_TASK_COUNT=2", 0, "the tasks of this job array are not evenly spaced"},
		{"SLURM_ARRAY_TASK_ID=x", 0, `SLURM_ARRAY_TASK_ID is "x", not a whole number`},
		{"JOB_COMPLETION_INDEX=3", 16, "3/16"},
		{"JOB_COMPLETION_INDEX=3", 0, "JOB_COMPLETION_INDEX is 3, but the number of slices is missing; give --slices N"},
		{"JOB_COMPLETION_INDEX=16", 16, "slice 16 of 16"},
	} {
		env := map[string]string{}
		for _, v := range strings.Fields(tt.env) {
			name, value, _ := strings.Cut(v, "=")
			env[name] = value
		}
		s, err := SliceFrom(func(name string) string { return env[name] }, tt.n)
		got := s.String()
		if err != nil {
			got = err.Error()
		}
		if got != tt.want && (err == nil || !strings.HasPrefix(got, tt.want)) {
			t.Errorf("%q, %d slices: %s, want %s", tt.env, tt.n, got, tt.want)
		}
	}
}

// TestSlicesPartition: every case is in one slice, and slices differ by at most one case.
func TestSlicesPartition(t *testing.T) {
	for _, n := range []int{0, 1, 7, 100} {
		for _, of := range []int{1, 2, 3, 8, 101} {
			sum := 0
			for k := range of {
				s, counted := Slice{k, of}, 0
				for i := range n {
					if s.holds(i) {
						counted++
					}
				}
				if counted != s.cases(n) || counted < n/of || counted > n/of+1 {
					t.Errorf("slice %v of %d cases: %d, says %d", s, n, counted, s.cases(n))
				}
				sum += counted
			}
			if sum != n {
				t.Errorf("%d slices of %d cases hold %d", of, n, sum)
			}
		}
	}
}
