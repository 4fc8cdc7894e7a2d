package main

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"runtime"
	"strings"
	"sync"
	"time"

	"muralheat/output/record"
	"muralheat/scenarios/batch"
)

// program tells which program computed, to the last bit of a result: the version, and the
// processor and level it was built for, as rounding may differ. A build that no commit stands for is
// identified by its own checksum.
func program() string {
	text := version() + ", " + runtime.GOARCH
	if info := buildInfo(); info != nil {
		for _, s := range info.Settings {
			if s.Key == "GOAMD64" && s.Value != "v1" || s.Key == "GOARM64" && s.Value != "v8.0" {
				text += " " + s.Value // v3 of amd64 fuses products and sums
			}
		}
	}
	if strings.Contains(text, "commit ") && !strings.Contains(text, "with changes") {
		return text
	}
	if sum := binarySum(); sum != "" {
		text += ", checksum " + sum[:12]
	}
	return text
}

// binarySum is the SHA-256 checksum of the program's file in hexadecimal, "" if it cannot be read.
var binarySum = sync.OnceValue(func() string {
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return ""
	}
	return hex.EncodeToString(h.Sum(nil))
})

// session is what is written down of who computes a sweep.
func session(c *console) *batch.Session {
	host, _ := os.Hostname() // a record without the host's name is still a record
	return &batch.Session{Command: c.args, Host: host, CPUs: runtime.NumCPU(), Source: record.Describe(buildInfo(), "").Source(), Binary: binarySum(), Start: time.Now()}
}
