package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"loamline.example/cmd/loamline/internal/summary"
)

// The exit statuses, told to users by statusWords.
const (
	statusOK        = 0
	statusFailed    = 1
	statusUsage     = 2
	statusNeedsEyes = 3
)

type statusMeaning struct {
	status int
	means  string
}

var statusMeanings = []statusMeaning{
	{statusOK, "map written"},
	{statusFailed, "could not be done; nothing half-written is left"},
	{statusUsage, "wrong usage"},
	{statusNeedsEyes, "map written, and something in it needs review (only with --strict)"},
}

// statusWords is the table of exit statuses for the help.
func statusWords() string { return statusWordsOf(statusMeanings) }

func statusWordsOf(meanings []statusMeaning) string {
	var b strings.Builder
	b.WriteString("Exit status:\n\n")
	for _, s := range meanings {
		fmt.Fprintf(&b, "    %d  %s\n", s.status, s.means)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// usageError is a mistake in how the program was called.
type usageError struct{ error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// errNeedsEyes ends a run with --strict whose map needs review.
var errNeedsEyes = errors.New("the map needs review")

// statusOf turns a command's error into an exit status and tells the user; help is what
// says how the command is used.
func statusOf(err error, help string, stderr io.Writer) int {
	var usage usageError
	switch {
	case err == nil:
		return statusOK
	case errors.Is(err, errNeedsEyes):
		return statusNeedsEyes
	case errors.As(err, &usage):
		summary.Write(stderr, fmt.Sprintf("loamline: %v\nSee %s.\n", err, help))
		return statusUsage
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "loamline: stopped; nothing was written, and earlier outputs are as they were")
		return statusFailed
	default:
		summary.Write(stderr, fmt.Sprintf("loamline: %v\n", err))
		return statusFailed
	}
}
