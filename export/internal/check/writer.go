package check

import (
	"bytes"
	"errors"
)

type Failing struct{ Err error }

func (f Failing) Write([]byte) (int, error) { return 0, f.Err }

type Counting struct{ Lines int }

func (c *Counting) Write(p []byte) (int, error) {
	c.Lines += bytes.Count(p, []byte("\n"))
	return len(p), nil
}

// ErrStopped is what a Patient says.
var ErrStopped = errors.New("stopped")

// Patient is a writer that takes nothing any more after being asked with nothing so
// many times; it counts how often it is asked, and the bytes that it is given.
type Patient struct{ Asks, Asked, Given int }

func (p *Patient) Write(b []byte) (int, error) {
	if p.Given += len(b); len(b) == 0 {
		p.Asked++
	}
	if p.Asked > p.Asks {
		return 0, ErrStopped
	}
	return len(b), nil
}
