package limit

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"strconv"
	"strings"
	"sync"

	"muralheat/scenarios"
)

// Memo keeps what has been computed in a file, so that a search that was stopped goes on
// where it was, and no case is computed twice.
type Memo struct {
	mu    sync.Mutex
	file  *os.File
	known map[string]float64
}

// OpenMemo opens the memo of a file, made if it is not there. What it holds counts only
// if it begins with the same head, one line that names program and column; else it
// starts anew. A torn last line is cut off.
func OpenMemo(path, head string) (*Memo, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, err
	}
	m := &Memo{file: f, known: map[string]float64{}}
	whole := int64(0)
	r := bufio.NewReader(f)
	for n := 0; ; n++ {
		line, err := r.ReadString('\n')
		if err != nil || n == 0 && line != head+"\n" {
			break
		}
		if n > 0 {
			id, text, ok := strings.Cut(strings.TrimSuffix(line, "\n"), ",")
			v, err := strconv.ParseFloat(text, 64)
			if !ok || err != nil {
				break
			}
			m.known[id] = v
		}
		whole += int64(len(line))
	}
	if err := f.Truncate(whole); err != nil {
		f.Close()
		return nil, err
	}
	if _, err := f.Seek(whole, 0); err != nil {
		f.Close()
		return nil, err
	}
	if whole == 0 {
		if _, err := fmt.Fprintln(f, head); err != nil {
			f.Close()
			return nil, err
		}
	}
	return m, nil
}

// Known returns how many results the memo holds.
func (m *Memo) Known() int { return len(m.known) }

// Close closes the file.
func (m *Memo) Close() error { return m.file.Close() }

// Keep returns a Value that looks up what is known and writes down what is not, on the
// disk before it returns.
func (m *Memo) Keep(value Value) Value {
	return func(ctx context.Context, s *scenarios.Scenario) (float64, error) {
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
		if _, err := fmt.Fprintf(m.file, "%s,%s\n", id, strconv.FormatFloat(v, 'g', -1, 64)); err != nil {
			return v, err
		}
		return v, m.file.Sync()
	}
}
