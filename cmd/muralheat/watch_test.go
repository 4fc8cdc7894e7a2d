package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// A file that is left alone, or saved as it was, is not computed again; one that goes and comes back with another text is.
func TestSaved(t *testing.T) {
	path := filepath.Join(t.TempDir(), "s.yaml")
	write := func(text string) {
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write("title: One")
	ctx, cancel := context.WithTimeout(t.Context(), 4*lookEvery)
	defer cancel()
	if saved(ctx, path, []byte("title: One")) {
		t.Error("saved without another text")
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	done := make(chan bool)
	go func() { done <- saved(t.Context(), path, []byte("title: One")) }()
	write("title: Two")
	if !<-done {
		t.Error("another text was not seen")
	}
}
