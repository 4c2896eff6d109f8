package intake

import (
	"bytes"
	"errors"
	"io"
	"sort"
)

// maxFeatureBytes bounds what one feature of a layer may hold in memory.
const maxFeatureBytes = 1 << 26

var errLongFeature = errors.New("a feature is longer than 64 MB")

// lineCounter tells the line of a byte of what is read through it. It
// remembers the line ends behind the last byte that was passed only, and ends
// the reading where too much lies between.
type lineCounter struct {
	r      io.Reader
	read   int64
	passed int64
	before int     // line ends before passed
	ends   []int64 // of lines, from passed on
}

// Read implements io.Reader.
func (c *lineCounter) Read(p []byte) (int, error) {
	if c.read-c.passed > maxFeatureBytes {
		return 0, errLongFeature
	}
	n, err := c.r.Read(p)
	for at := 0; at < n; {
		i := bytes.IndexByte(p[at:n], '\n')
		if i < 0 {
			break
		}
		at += i + 1
		c.ends = append(c.ends, c.read+int64(at))
	}
	c.read += int64(n)
	return n, err
}

// line returns the line, from 1, of a byte that was not passed yet.
func (c *lineCounter) line(offset int64) int {
	return 1 + c.before + sort.Search(len(c.ends), func(i int) bool { return c.ends[i] > offset })
}

// pass forgets what lies before a byte.
func (c *lineCounter) pass(offset int64) {
	k := sort.Search(len(c.ends), func(i int) bool { return c.ends[i] > offset })
	c.before += k
	c.ends = c.ends[:copy(c.ends, c.ends[k:])]
	c.passed = offset
}
