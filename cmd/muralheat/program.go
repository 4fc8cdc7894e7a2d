package main

import (
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
)

// program tells which program computed, to the last bit of a result: the version, and the
// processor it was built for, as rounding may differ. A build that no commit stands for is
// told by its own checksum.
func program() string {
	text := version() + ", " + runtime.GOARCH
	if strings.Contains(text, "commit ") && !strings.Contains(text, "with changes") {
		return text
	}
	path, err := os.Executable()
	if err != nil {
		return text
	}
	f, err := os.Open(path)
	if err != nil {
		return text
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return text
	}
	return fmt.Sprintf("%s, checksum %x", text, h.Sum(nil)[:6])
}
