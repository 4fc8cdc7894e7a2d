package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A real Slurm of one node computes a plan as a job array with the batch script that is
// shipped; merged, its table has the bytes of the sweep that was never cut.
func TestSlurm(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a cluster")
	}
	if os.Geteuid() != 0 {
		t.Skip("a Slurm of one's own needs root")
	}
	for _, name := range []string{"slurmctld", "slurmd", "sbatch", "munged"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skip("Slurm is not installed: apt-get install --no-install-recommends slurmctld slurmd slurm-client munge")
		}
	}
	// Slurm's own folder names must be short and readable by its daemons.
	dir, err := os.MkdirTemp("", "slurm")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	scripts, err := filepath.Abs("../../scenarios/batch/slurm")
	if err != nil {
		t.Fatal(err)
	}
	program, cluster := filepath.Join(dir, "muralheat"), filepath.Join(dir, "cluster")
	run := func(name string, args ...string) string {
		t.Helper()
		cmd := exec.Command(name, args...)
		if name != "go" {
			cmd.Dir = dir
		}
		cmd.Env = append(os.Environ(), "SLURM_CONF="+filepath.Join(cluster, "slurm.conf"), "MURALHEAT="+program)
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
		}
		return string(out)
	}
	for name, text := range map[string]string{
		"plan.yaml": "title: Powers\nscenario: touch.yaml\nvary:\n  - {key: current.power_W, from: 0.5, to: 4, steps: 7}\n",
		"touch.yaml": "title: Touch\nwall: {site: right-colon}\nelectrode: {tip: ball, radius_mm: 1}\ncurrent: {sparks: false, power_W: 1, on_s: 0.3}\n" +
			"afterwards_s: 0.5\nnumerics: {quality: draft}\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run("go", "build", "-o", program, ".")
	run(program, "sweep", "-q", "-o", "whole", "plan.yaml")

	run("bash", filepath.Join(scripts, "one-node.sh"), cluster)
	t.Cleanup(func() { exec.Command("bash", filepath.Join(scripts, "one-node.sh"), cluster, "stop").Run() })
	// An array need not start at 0: the slice counts from its least task.
	run("sbatch", "--wait", "--array=4-6", "--mem=1G", "--output=task-%a.log", filepath.Join(scripts, "sweep.sbatch"), "plan.yaml")
	slices := []string{"plan-slice-0-of-3", "plan-slice-1-of-3", "plan-slice-2-of-3"}
	for _, name := range slices { // sbatch may come back while the last task ends
		for range 300 {
			if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
				break
			}
			time.Sleep(200 * time.Millisecond)
		}
	}
	run(program, append([]string{"merge", "-q", "-o", "merged"}, slices...)...)
	for _, name := range []string{"results.csv", "results.csv-metadata.json", "depth.svg"} {
		a, err := os.ReadFile(filepath.Join(dir, "whole", name))
		if err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(filepath.Join(dir, "merged", name))
		if err != nil {
			t.Fatal(err)
		}
		if len(a) == 0 || !bytes.Equal(a, b) {
			t.Errorf("%s differs between the array and the whole sweep", name)
		}
	}
}
