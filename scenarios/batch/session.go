package batch

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"muralheat/scenarios"
	"muralheat/scenarios/stated"
)

// SessionsName is the file that says who computed a sweep, when and where. Only it and what was stated differ between
// two equal sweeps.
const SessionsName = "sessions.json"

// Session is one call that computed cases of a folder.
type Session struct {
	Command []string  `json:"command"`
	Host    string    `json:"host"`
	CPUs    int       `json:"cpus"`
	Program string    `json:"program"`
	Source  string    `json:"source"`                  // that the program was built from: a commit, or unknown
	Binary  string    `json:"binary_sha256,omitempty"` // of its file
	Slice   string    `json:"slice,omitempty"`
	Start   time.Time `json:"start_utc"`
	End     time.Time `json:"end_utc,omitzero"` // none: it was killed, or is at work
	Before  int       `json:"cases_before"`     // finished when it began
	Done    int       `json:"cases_done"`       // and when it ended
}

type sessions struct {
	Caution  string    `json:"caution"`
	Sessions []Session `json:"sessions"`
}

// Sessions reads who computed the sweep in dir; none if nobody wrote it down.
func Sessions(dir string) ([]Session, error) {
	var all sessions
	name := filepath.Join(dir, SessionsName)
	data, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err == nil {
		err = json.Unmarshal(data, &all)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return all.Sessions, nil
}

// beginSession writes down who computes, and what is stated, before the first case is computed.
func (f *folder) beginSession(opt Options) error {
	if opt.Session == nil {
		return nil
	}
	log, err := stated.Read(f.dir)
	if err != nil {
		return refuse("%v; give another folder with -o", err)
	}
	now, count := *opt.Session, f.journal.count()
	now.Program, now.Slice, now.Before, now.Done = opt.Program, f.record.Slice, count.Done, count.Done
	now.Start = now.Start.UTC().Truncate(time.Second)
	if said := f.sweep.Stated(); said.Made() || len(log.Entries) > 0 {
		log = log.Add(said, f.record.Digest, count.Done, now.Start)
		if err := replace(filepath.Join(f.dir, stated.LogName), log.Encode()); err != nil {
			return err
		}
	}
	if count.Complete() {
		return nil // it computes nothing
	}
	if f.sessions, err = Sessions(f.dir); err != nil {
		return refuse("%v; give another folder with -o", err)
	}
	f.sessions = append(f.sessions, now)
	return f.writeSessions()
}

// endSession writes down how far it came; nothing if it had nothing to do.
func (f *folder) endSession(done int, now time.Time) error {
	if len(f.sessions) == 0 {
		return nil
	}
	last := &f.sessions[len(f.sessions)-1]
	last.End, last.Done = now.UTC().Truncate(time.Second), done
	return f.writeSessions()
}

func (f *folder) writeSessions() error {
	b, err := encode(sessions{scenarios.Caution, f.sessions})
	if err != nil {
		return err
	}
	return replace(filepath.Join(f.dir, SessionsName), b)
}

// mergeSessions puts together who computed the slices, and keeps what was stated last before one of them.
func (f *folder) mergeSessions(parts []string) error {
	var last stated.Log
	f.sessions = nil
	for _, part := range parts {
		of, err := Sessions(part)
		if err != nil {
			return err
		}
		f.sessions = slices.Concat(f.sessions, of)
		log, err := stated.Read(part)
		if err != nil {
			return err
		}
		if len(log.Entries) > 0 && (len(last.Entries) == 0 || log.Entries[0].Time.After(last.Entries[0].Time)) {
			last = log
		}
	}
	if len(last.Entries) > 0 {
		if err := replace(filepath.Join(f.dir, stated.LogName), last.Encode()); err != nil {
			return err
		}
	}
	if len(f.sessions) == 0 {
		return nil
	}
	return f.writeSessions()
}
