package check

import "bytes"

type Failing struct{ Err error }

func (f Failing) Write([]byte) (int, error) { return 0, f.Err }

type Counting struct{ Lines int }

func (c *Counting) Write(p []byte) (int, error) {
	c.Lines += bytes.Count(p, []byte("\n"))
	return len(p), nil
}
