package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/signal"
	"syscall"
	"time"
)

// lookEvery is how often a watched file is read. Reading sees whatever way an editor saves, on any file system.
const lookEvery = 200 * time.Millisecond

// watch computes what is in a file, and again each time it has been saved with another text, until a signal. What is
// wrong is said, and waits for the next save as well.
func watch(c *console, path string, compute func() error) error {
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return wrong("run: --watch needs the file of a scenario; %q is none", path)
	}
	for {
		text, _ := os.ReadFile(path) // compute says what is wrong with it
		switch err := compute(); {
		case errors.Is(err, errInterrupted):
			return err
		case err != nil:
			c.report(err)
		}
		c.say("waiting for %s to be saved; Ctrl-C ends", path)
		ctx, release := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
		ended := !saved(ctx, path, text)
		if release(); ended {
			return nil
		}
	}
}

// saved waits until a file holds another text, whole: the same twice. It returns false if ctx ends before.
func saved(ctx context.Context, path string, text []byte) bool {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	last := text
	for {
		select {
		case <-ctx.Done():
			return false
		case <-tick.C:
		}
		now, err := os.ReadFile(path)
		if err != nil { // between being removed and put in place
			continue
		}
		if bytes.Equal(now, last) && !bytes.Equal(now, text) {
			return true
		}
		last = now
	}
}
