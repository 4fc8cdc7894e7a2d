package main

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// TestTablesAsBefore holds the tables of every example and plan to their bytes before the
// packages were taken apart. It goes when a change of the physics lands.
func TestTablesAsBefore(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" {
		t.Skip("half a minute and more: set MURALHEAT_LONG=1, as .ci/run does")
	}
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round differently in the last digit")
	}
	stored, err := os.ReadFile("testdata/before.sha256")
	if err != nil {
		t.Fatal(err)
	}
	program, err := os.Executable() // this test; TestMain makes it the command
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	bin := filepath.Join(dir, "muralheat")
	if err := os.Symlink(program, bin); err != nil {
		t.Skip(err)
	}
	computed := map[string]bool{}
	for _, line := range strings.Split(strings.TrimSpace(string(stored)), "\n") {
		want, file, _ := strings.Cut(line, "  ")
		name, table := filepath.Split(file)
		name = filepath.Clean(name)
		if !computed[name] {
			computed[name] = true
			verb := "run"
			switch table {
			case "results.csv":
				verb = "sweep"
			case "limit.csv":
				verb = "limit"
			}
			c := exec.Command(bin, verb, "--quiet", "-o", filepath.Join(dir, name), filepath.Join("..", "..", "scenarios", "examples", name+".yaml"))
			if out, err := c.CombinedOutput(); err != nil {
				t.Errorf("%s: %v\n%s", name, err, out)
				continue
			}
		}
		got, err := os.ReadFile(filepath.Join(dir, file))
		if err != nil {
			t.Error(err)
			continue
		}
		if sum := sha256.Sum256(got); hex.EncodeToString(sum[:]) != want {
			t.Errorf("%s: not the bytes of before", file)
		}
	}
}
