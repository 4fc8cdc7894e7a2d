package main

import (
	"io"
	"os"
	"os/signal"
	"runtime"
	"syscall"
	"testing"
	"time"
)

// A terminal that is lost ends a run as a termination signal does.
func TestHangUp(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no signal can be sent")
	}
	if signal.Ignored(syscall.SIGHUP) {
		t.Skip("started by nohup, which is to outlive its terminal")
	}
	self, err := os.FindProcess(os.Getpid())
	if err != nil {
		t.Fatal(err)
	}
	ctx, release := interruptible(newConsole([]string{"muralheat"}, io.Discard, io.Discard))
	defer release()
	if err := self.Signal(syscall.SIGHUP); err != nil {
		t.Fatal(err)
	}
	select {
	case <-ctx.Done():
	case <-time.After(10 * time.Second):
		t.Error("the signal changed nothing")
	}
}
