package main

import (
	"errors"
	"fmt"

	"muralheat/scenarios/keys"
)

// Exit codes, for scripts and schedulers; the help text lists them too.
const (
	exitDone        = 0
	exitFailed      = 1  // computed, but a self-check failed, figures are missing or a folder differs from what was computed; or an internal error
	exitInput       = 2  // the command line, the scenario or the folder is wrong
	exitInterrupted = 75 // stopped by a signal, a sweep can go on; EX_TEMPFAIL of sysexits.h
)

const exitHelp = `Exit codes:
   0   done
   1   computed, but a self-check failed, figures are missing, or a folder is not what was
       computed; or an internal error
   2   the input is wrong: command line, scenario or folder
   75  interrupted; a sweep resumes with the same command`

// An inputError is something the person can put right.
type inputError struct{ text string }

func (e inputError) Error() string { return e.text }

func wrong(format string, args ...any) error { return inputError{fmt.Sprintf(format, args...)} }

// errInterrupted ends a run that a signal stopped.
var errInterrupted = errors.New("interrupted: nothing was kept, a single run cannot be resumed")

// errUnverified ends a verification, or the report that asked for it, that a signal stopped.
var errUnverified = errors.New("interrupted: nothing was written, the same command starts over")

// errStopped ends a sweep or a search that a signal stopped and that can go on.
var errStopped = errors.New("interrupted")

// errCheck ends a run that was computed but must not be used.
var errCheck = errors.New("a self-check failed: do not use this result")

func exitCode(err error) int {
	var input inputError
	var problems keys.Problems
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errInterrupted), errors.Is(err, errUnverified), errors.Is(err, errStopped):
		return exitInterrupted
	case errors.As(err, &input), errors.As(err, &problems):
		return exitInput
	}
	return exitFailed
}
