package main

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"muralheat/thermal"
)

// unknownBytes is what may be used where the machine does not say what it has:
// assumption, within reach of any machine in use.
const unknownBytes = 4e9

// usableShare of the free memory goes to a run's mesh; the rest is left for writing
// results and for everybody else. Assumption.
const usableShare = 0.8

// memoryBytes returns how much memory a run may use.
func memoryBytes() float64 { return usableShare * freeBytes("/") }

// freeBytes reads how much memory is free from the files that Linux keeps below
// root: MemAvailable of the machine, and in a control group (version 2) what it and
// those above it have left.
func freeBytes(root string) float64 {
	free := math.Inf(1)
	if kB, ok := field(filepath.Join(root, "proc/meminfo"), "MemAvailable:"); ok {
		free = kB * 1024
	}
	if group, ok := word(filepath.Join(root, "proc/self/cgroup"), "0::"); ok {
		for dir := filepath.Clean("/" + group); ; dir = filepath.Dir(dir) {
			at := filepath.Join(root, "sys/fs/cgroup", dir)
			limit, limited := field(filepath.Join(at, "memory.max"), "")
			used, counted := field(filepath.Join(at, "memory.current"), "")
			if limited && counted {
				cache, _ := field(filepath.Join(at, "memory.stat"), "inactive_file") // given up on demand
				free = math.Min(free, math.Max(0, limit-used+cache))
			}
			if dir == "/" {
				break
			}
		}
	}
	if math.IsInf(free, 1) {
		return unknownBytes
	}
	return free
}

// word returns what follows key at the start of a line of a file, up to a space.
func word(path, key string) (string, bool) {
	data, err := os.ReadFile(path)
	if err != nil {
		return "", false
	}
	for line := range strings.Lines(string(data)) {
		if rest, ok := strings.CutPrefix(line, key); ok {
			if words := strings.Fields(rest); len(words) > 0 {
				return words[0], true
			}
		}
	}
	return "", false
}

// field is word as a number.
func field(path, key string) (float64, bool) {
	text, ok := word(path, key)
	if !ok {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil // "max" means no limit
}

// fits refuses a mesh that needs more memory than there is.
func fits(name string, g thermal.Grid, bytes float64) error {
	if g.Bytes() <= bytes {
		return nil
	}
	return wrong("%s: numerics.finest_um: %d x %d x %d cells need %s of memory, %s may be used; write a larger one or a coarser numerics.quality, or make the domain or the track smaller",
		name, g.NX, g.NY, g.NZ, gigabytes(g.Bytes()), gigabytes(bytes))
}

func gigabytes(bytes float64) string {
	if bytes < 0.1e9 {
		return strconv.FormatFloat(bytes/1e6, 'f', 1, 64) + " MB"
	}
	return strconv.FormatFloat(bytes/1e9, 'f', 1, 64) + " GB"
}
