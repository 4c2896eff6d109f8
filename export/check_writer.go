package export

import "bytes"

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

type counting struct{ lines int }

func (c *counting) Write(p []byte) (int, error) {
	c.lines += bytes.Count(p, []byte("\n"))
	return len(p), nil
}
