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
	// Held all the time: a signal between computing and waiting must not get lost. The second one has its usual effect.
	ctx, release := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer release()
	context.AfterFunc(ctx, release)
	for {
		text, _ := os.ReadFile(path) // compute says what is wrong with it
		switch err := compute(); {
		case errors.Is(err, errInterrupted):
			return err
		case err != nil:
			c.report(err)
		}
		c.say("waiting for %s to be saved; Ctrl-C ends", path)
		if !saved(ctx, path, text) {
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
