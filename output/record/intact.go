package record

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"muralheat/thermal"
)

// Finding is one comparison of what a folder holds with something else that it holds, or that was computed again.
type Finding struct {
	What string // compared with what
	Says string // how it came out
	OK   bool
	None bool // there was nothing to compare
}

// Intact compares what the folder of a run holds: files with the checksums of its record, the record and its tables
// with result.npz, and the numbers of the injury with each other.
func Intact(dir string, m Manifest, r *thermal.Result) []Finding {
	return []Finding{m.filesFinding(dir), m.summaryFinding(r), tablesFinding(dir, r), depthFinding(r), marginFinding(r)}
}

// State of a file today: the same, missing or CHANGED.
func (w Written) State(dir string) string {
	data, err := os.ReadFile(filepath.Join(dir, filepath.Base(w.File)))
	switch {
	case err != nil:
		return "missing"
	case Digest(data) != w.SHA256:
		return "CHANGED"
	}
	return "the same"
}

func (m Manifest) filesFinding(dir string) Finding {
	f := Finding{What: "files, with the checksums of manifest.json"}
	count := map[string]int{}
	for _, o := range m.Outputs {
		count[o.State(dir)]++
	}
	if f.OK = count["the same"] == len(m.Outputs); f.OK {
		f.Says = fmt.Sprintf("all %d have the checksums of the record", len(m.Outputs))
	} else {
		f.Says = fmt.Sprintf("%d CHANGED and %d missing of %d", count["CHANGED"], count["missing"], len(m.Outputs))
	}
	return f
}

func (m Manifest) summaryFinding(r *thermal.Result) Finding {
	const what = "summary and self-checks of manifest.json, with result.npz"
	if m.Agrees(r) {
		return Finding{What: what, Says: fmt.Sprintf("%d values agree", len(m.Summary)+len(m.Checks)), OK: true}
	}
	return Finding{What: what, Says: "the record itself was CHANGED: it does not agree with result.npz"}
}

// tablesFinding writes the tables again from result.npz, which lacks only the temperature of the metal.
func tablesFinding(dir string, r *thermal.Result) Finding {
	f := Finding{What: "summary.csv, layers.csv and history.csv, with result.npz"}
	var differ []string
	for _, o := range []File{{"summary.csv", summaryCSV(r)}, {"layers.csv", layersCSV(r)}, {"history.csv", historyCSV(r)}} {
		data, err := os.ReadFile(filepath.Join(dir, o.Name))
		if err != nil || !sameTable(data, o.Data, electrodeColumn) {
			differ = append(differ, o.Name)
		}
	}
	if f.OK = differ == nil; f.OK {
		f.Says = "each cell is what result.npz gives"
	} else {
		f.Says = strings.Join(differ, ", ") + " CHANGED"
	}
	return f
}

// sameTable compares tables cell by cell, but for one column.
func sameTable(a, b []byte, but string) bool {
	x, err1 := csv.NewReader(bytes.NewReader(a)).ReadAll()
	y, err2 := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err1 != nil || err2 != nil || len(x) != len(y) || len(x) == 0 {
		return false
	}
	n := slices.Index(x[0], but)
	for i := range x {
		if n >= 0 && n < len(x[i]) && n < len(y[i]) {
			y[i][n] = x[i][n]
		}
		if !slices.Equal(x[i], y[i]) {
			return false
		}
	}
	return true
}

func depthFinding(r *thermal.Result) Finding {
	ours, again := 1e3*r.Summary.InjuryDepthM, 1e3*r.DepthByFields()
	return compared("injury depth of the summary, with the damage integral of each cell", ours, again)
}

// marginFinding adds depth and margin up, which are written apart from each other.
func marginFinding(r *thermal.Result) Finding {
	const what = "injury depth plus margin, with the top of the muscle"
	topMM := MuscleTopMM(r.Case)
	if math.IsNaN(topMM) {
		return Finding{What: what, Says: "no layer is judged as muscle", OK: true, None: true}
	}
	return compared(what, 1e3*(r.Summary.InjuryDepthM+r.Summary.MarginToMuscleM), topMM)
}

// MuscleTopMM is the depth at which the muscle that is judged begins, in mm; NaN without one.
func MuscleTopMM(c *thermal.Case) float64 {
	edges := c.Edges()
	for i, l := range c.Layers {
		if l.Muscle {
			return 1e3 * edges[i]
		}
	}
	return math.NaN()
}

// RoundingMM is how far depths may differ that are the same.
const RoundingMM = 1e-6

func compared(what string, ours, again float64) Finding {
	if math.Abs(ours-again) <= RoundingMM {
		return Finding{What: what, Says: fmt.Sprintf("%.4f mm both", again), OK: true}
	}
	return Finding{What: what, Says: fmt.Sprintf("%.4f mm, but %.4f mm: CHANGED", ours, again)}
}

// Unedited is an error if the stored result of the run in dir is not the one that was computed.
func Unedited(dir string) error {
	m, err := ReadManifest(dir)
	if err != nil {
		return nil // whoever reads the result says what is wrong
	}
	for _, o := range m.Outputs {
		if (o.File == RecordName || o.File == FilmName) && o.State(dir) == "CHANGED" {
			return fmt.Errorf("output: %s is not what was computed: its checksum is not that of %s", filepath.Join(dir, o.File), ManifestName)
		}
	}
	return nil
}
