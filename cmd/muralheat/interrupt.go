package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// interruptible returns a context that the first Ctrl-C, termination signal or loss of the
// terminal cancels, saying so at once. The second one has its usual effect.
func interruptible(c *console) (ctx context.Context, release func()) {
	ctx, cancel := context.WithCancel(context.Background())
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	if !signal.Ignored(syscall.SIGHUP) { // nohup has it ignored
		signal.Notify(signals, syscall.SIGHUP)
	}
	done := make(chan struct{})
	go func() {
		select {
		case <-signals:
			signal.Stop(signals)
			c.say("stopping; press Ctrl-C again to kill")
			cancel()
		case <-done:
		}
	}()
	return ctx, func() {
		signal.Stop(signals)
		close(done)
		cancel()
	}
}
