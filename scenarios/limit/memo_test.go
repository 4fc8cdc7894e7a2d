package limit

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"

	"muralheat/scenarios"
	"muralheat/scenarios/disk"
)

// A second search computes nothing, nor one after a torn line more than is missing; under
// another head all is computed again.
func TestMemo(t *testing.T) {
	path := filepath.Join(t.TempDir(), "memo")
	s := asking(t, margin, "")
	f := func(p, mm float64) float64 { return 2*mm - 0.02*p*p }
	find := func(head string) int64 {
		t.Helper()
		m, err := OpenMemo(path, "depth_mm", head)
		if err != nil {
			t.Fatal(err)
		}
		defer m.Close()
		var n atomic.Int64
		got, err := Find(context.Background(), s, m.Keep(known(f, &n)), 2, nil)
		if err != nil || got[0].Kind != Found || got[1].Kind != Found {
			t.Fatalf("%v, %+v", err, got)
		}
		return n.Load()
	}
	all := find("a")
	if n := find("a"); all == 0 || n != 0 {
		t.Errorf("%d, then %d computed", all, n)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, text[:len(text)-5], 0o644); err != nil {
		t.Fatal(err)
	}
	if n := find("a"); n != 1 {
		t.Errorf("after a torn line %d computed", n)
	}
	if n := find("b"); n != all {
		t.Errorf("under another head %d of %d computed", n, all)
	}
	if _, err := OpenMemo(filepath.Join(path, "below"), "depth_mm", "a"); err == nil {
		t.Error("a memo below a file")
	}
}

// What is somebody else's stays as it is; two searches do not share a memo.
func TestMemoIsOurs(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "computed.txt")
	const mine = "a list of mine\n1,2\n"
	if err := os.WriteFile(path, []byte(mine), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenMemo(path, "depth_mm", "a"); !errors.Is(err, ErrForeign) {
		t.Errorf("opened what is no memo: %v", err)
	}
	if text, _ := os.ReadFile(path); string(text) != mine {
		t.Errorf("it now holds %q", text)
	}
	m, err := OpenMemo(filepath.Join(dir, "memo"), "depth_mm", "a")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := OpenMemo(filepath.Join(dir, "memo"), "depth_mm", "a"); !errors.Is(err, ErrBusy) {
		t.Errorf("opened twice: %v", err)
	}
	m.Close()
	if m, err = OpenMemo(filepath.Join(dir, "memo"), "depth_mm", "a"); err != nil {
		t.Error(err)
	} else {
		m.Close()
	}
}

// A line that is torn is cut off when the memo is opened: what is written next begins a line of its own,
// and nothing of a longer one is left behind it.
func TestTornMemoIsCutOff(t *testing.T) {
	path := filepath.Join(t.TempDir(), "memo")
	const sound = "depth_mm" + byUs + "a\n0123,1\n"
	if err := os.WriteFile(path, []byte(sound+"4567,1.2345"), 0o644); err != nil {
		t.Fatal(err)
	}
	m, err := OpenMemo(path, "depth_mm", "a")
	if err != nil {
		t.Fatal(err)
	}
	m.Close()
	if text, err := os.ReadFile(path); err != nil || string(text) != sound {
		t.Errorf("it holds %q, %v", text, err)
	}
}

// A value is on disk before it is given.
func TestMemoIsSynced(t *testing.T) {
	n, was := 0, disk.Sync
	disk.Sync = func(f *os.File) error { n++; return was(f) }
	defer func() { disk.Sync = was }()
	m, err := OpenMemo(filepath.Join(t.TempDir(), "computed"), "column", "program")
	if err != nil {
		t.Fatal(err)
	}
	defer m.Close()
	s := asking(t, margin, "")
	if _, err := m.Keep(func(context.Context, *scenarios.Scenario) (Result, error) { return Result{Value: 1}, nil })(t.Context(), s.Base); err != nil || n != 1 {
		t.Errorf("synced %d times (%v)", n, err)
	}
}

// What a memo keeps comes back whole: the value, and whether the source gave less than was set.
func TestMemoKeepsBoth(t *testing.T) {
	path := filepath.Join(t.TempDir(), "memo")
	s := asking(t, margin, "").Base
	for _, want := range []Result{{Value: 1.5, Short: true}, {Value: -2}} {
		of, err := s.With(scenarios.Set{Key: "current.power_W", Value: scenarios.Number(want.Value + 5)})
		if err != nil {
			t.Fatal(err)
		}
		for range 2 {
			m, err := OpenMemo(path, "depth_mm", "a")
			if err != nil {
				t.Fatal(err)
			}
			computed := m.Known() > 0
			got, err := m.Keep(func(context.Context, *scenarios.Scenario) (Result, error) { return want, nil })(t.Context(), of)
			if err != nil || got != want {
				t.Errorf("%+v (%v), want %+v, known before: %v", got, err, want, computed)
			}
			if err := m.Close(); err != nil {
				t.Fatal(err)
			}
		}
	}
	m, err := OpenMemo(path, "depth_mm", "a")
	if err != nil || m.Known() != 2 {
		t.Fatalf("%v, %d known", err, m.Known())
	}
	defer m.Close()
	for id, r := range m.known {
		if r.Short != (r.Value == 1.5) {
			t.Errorf("%s: %+v", id, r)
		}
	}
}
