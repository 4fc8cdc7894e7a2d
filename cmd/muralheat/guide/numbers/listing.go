package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// listing is a part of what muralheat prints, from the line from to the next empty one. It is kept in a file
// beside results.csv.
type listing struct {
	block
	from string
	args []string
}

var listings = []listing{
	{block{"accuracy", "refine"}, "Numerical uncertainty", []string{"run", "--refine"}},
}

func (l listing) file(dir string) string { return filepath.Join(dir, "numbers", l.name+".txt") }

// compute runs the program, whose source is the folder above dir.
func (l listing) compute(dir string) (string, error) {
	out, err := os.MkdirTemp("", "numbers")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(out)
	cmd := exec.Command("go", append(append([]string{"run", "."}, l.args...), "-o", filepath.Join(out, "run"))...)
	cmd.Dir = filepath.Join(dir, "..")
	var said bytes.Buffer
	cmd.Stderr = &said
	printed, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s: %w\n%s", cmd, err, said.String())
	}
	_, text, ok := strings.Cut("\n"+string(printed), "\n"+l.from+"\n")
	if !ok {
		return "", fmt.Errorf("%s prints no %q", cmd, l.from)
	}
	text, _, _ = strings.Cut(text, "\n\n")
	return l.from + "\n" + strings.TrimSuffix(text, "\n") + "\n", nil
}
