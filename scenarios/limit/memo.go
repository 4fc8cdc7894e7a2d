package limit

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"

	"github.com/gofrs/flock"

	"muralheat/scenarios"
	"muralheat/scenarios/disk"
)

// Memo keeps what has been computed in a file, so that a search that was stopped goes on
// where it was, and no case is computed twice.
type Memo struct {
	mu    sync.Mutex
	file  *os.File
	lock  *flock.Flock
	known map[string]Result
}

// shortMark stands behind the value of a case whose source gave less than was set.
const shortMark = ",short"

// byUs stands in the head of every memo, between the column and the program.
const byUs = " by muralheat "

// Errors of OpenMemo that are somebody's, not the disk's.
var (
	ErrForeign = errors.New("not the record of a search")
	ErrBusy    = errors.New("another search is running there")
)

// OpenMemo opens the memo of a file, made if it is not there, for this process alone. What
// it holds counts only if it was found for the same column by the same program; else it
// starts anew. A torn last line is cut off; a file that is no memo is left as it is.
func OpenMemo(path, column, program string) (*Memo, error) {
	head := column + byUs + program
	lock := flock.New(filepath.Join(filepath.Dir(path), ".lock"), flock.SetPermissions(0o644))
	switch got, err := lock.TryLock(); {
	case err != nil:
		return nil, err
	case !got:
		return nil, ErrBusy
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		lock.Unlock()
		return nil, err
	}
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		f.Close()
		lock.Unlock()
		return nil, ErrForeign
	}
	m := &Memo{file: f, lock: lock, known: map[string]Result{}}
	whole := int64(0)
	r := bufio.NewReader(f)
	for n := 0; ; n++ {
		line, err := r.ReadString('\n')
		if n == 0 && line != "" && !strings.Contains(line, byUs) {
			m.Close()
			return nil, ErrForeign
		}
		if err != nil || n == 0 && line != head+"\n" {
			break
		}
		if n > 0 {
			id, result, ok := entry(line)
			if !ok {
				break
			}
			m.known[id] = result
		}
		whole += int64(len(line))
	}
	if err := f.Truncate(whole); err != nil {
		m.Close()
		return nil, err
	}
	if _, err := f.Seek(whole, 0); err != nil {
		m.Close()
		return nil, err
	}
	if whole == 0 {
		if _, err := fmt.Fprintln(f, head); err != nil {
			m.Close()
			return nil, err
		}
	}
	return m, nil
}

// entry reads a line of a memo.
func entry(line string) (id string, r Result, ok bool) {
	id, text, ok := strings.Cut(strings.TrimSuffix(line, "\n"), ",")
	text, short := strings.CutSuffix(text, shortMark)
	v, err := strconv.ParseFloat(text, 64)
	return id, Result{v, short}, ok && err == nil
}

// ErrUnknown is that a case is not in a memo.
var ErrUnknown = errors.New("not among the computed cases")

// ReadMemo returns the values that the memo of a file holds, whatever program computed them, and that program. It changes
// nothing and computes nothing: a case that is not there is ErrUnknown. Lines that are none count for nothing.
func ReadMemo(path, column string) (value Value, program string, err error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, "", err
	}
	lines := strings.SplitAfter(string(data), "\n")
	of, program, ok := strings.Cut(strings.TrimSuffix(lines[0], "\n"), byUs)
	if !ok || of != column {
		return nil, "", ErrForeign
	}
	known := map[string]Result{}
	for _, line := range lines[1:] {
		if id, r, ok := entry(line); ok && strings.HasSuffix(line, "\n") {
			known[id] = r
		}
	}
	return func(_ context.Context, s *scenarios.Scenario) (Result, error) {
		r, ok := known[s.Identity()]
		if !ok {
			return r, ErrUnknown
		}
		return r, nil
	}, program, nil
}

// Known returns how many results the memo holds.
func (m *Memo) Known() int { return len(m.known) }

// Close gives the file back.
func (m *Memo) Close() error { return errors.Join(m.file.Close(), m.lock.Unlock()) }

// Keep returns a Value that looks up what is known and writes down what is not, on the
// disk before it returns.
func (m *Memo) Keep(value Value) Value {
	return func(ctx context.Context, s *scenarios.Scenario) (Result, error) {
		id := s.Identity()
		m.mu.Lock()
		v, ok := m.known[id]
		m.mu.Unlock()
		if ok {
			return v, nil
		}
		v, err := value(ctx, s)
		if err != nil {
			return v, err
		}
		m.mu.Lock()
		defer m.mu.Unlock()
		m.known[id] = v
		text := strconv.FormatFloat(v.Value, 'g', -1, 64)
		if v.Short {
			text += shortMark
		}
		if _, err := fmt.Fprintf(m.file, "%s,%s\n", id, text); err != nil {
			return v, err
		}
		return v, disk.Sync(m.file)
	}
}
