package main

import (
	"bytes"
	"context"
	"strings"
	"testing"
)

// failing panics where the program reads from it.
type failing struct{}

func (failing) Read([]byte) (int, error) { panic("broken inside") }

// The status of a panic is that of a job that could not be done, not Go's own,
// which would say wrong usage.
func TestRunFailsOnAPanic(t *testing.T) {
	var out, stderr bytes.Buffer
	status := run(context.Background(), []string{"loamline", "serve", "--make-user", "somebody"}, streams{in: failing{}, out: &out, err: &stderr})
	if status != statusFailed || !strings.Contains(stderr.String(), "please report it") || !strings.Contains(stderr.String(), "broken inside") {
		t.Errorf("status %d: %s", status, stderr.String())
	}
}
