// Package generated tests that committed assembly is what its generator writes.
package generated

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// UpToDate tests that the assembly of the package in the current folder is what its gen writes. It needs avo, so the test
// asks for MURALHEAT_LONG, as .ci/run does, and is left out where avo cannot be had.
func UpToDate(t *testing.T) {
	t.Helper()
	if os.Getenv("MURALHEAT_LONG") == "" {
		t.Skip("builds the generator: set MURALHEAT_LONG=1, as .ci/run does")
	}
	download := exec.Command("go", "mod", "download")
	download.Dir = "gen"
	if said, err := download.CombinedOutput(); err != nil {
		t.Skipf("no avo: %s", said)
	}
	dir := t.TempDir()
	generate := exec.Command("go", "run", ".", "-out", filepath.Join(dir, "vector_amd64.s"), "-stubs", filepath.Join(dir, "vector_amd64.go"), "-pkg", "kernel")
	generate.Dir = "gen"
	if said, err := generate.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	for _, name := range []string{"vector_amd64.s", "vector_amd64.go"} {
		want, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		have, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		// The first line holds the command, with its folder.
		_, want, _ = bytes.Cut(want, []byte("\n"))
		_, have, _ = bytes.Cut(have, []byte("\n"))
		if !bytes.Equal(want, have) {
			t.Errorf("%s is not what gen writes: go generate", name)
		}
	}
}
