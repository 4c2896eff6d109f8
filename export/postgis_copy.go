package export

import (
	"fmt"
	"iter"

	"loamline/geo"
	"loamline/trace"
)

// zeroFrame is WGS 84 in degrees.
var zeroFrame = geo.Frame{}

// featureSource hands the features of a role to COPY, row by row.
type featureSource struct {
	layer  layer
	key    string
	place  placer
	next   func() (*feature, bool)
	stop   func()
	values []any
	err    error
}

func newFeatureSource(s *trace.Sheet, l layer, key string, place placer) *featureSource {
	next, stop := iter.Pull(l.Each(s))
	return &featureSource{layer: l, key: key, place: place, next: next, stop: stop}
}

// Next implements pgx.CopyFromSource.
func (c *featureSource) Next() bool {
	f, ok := c.next()
	if !ok || c.err != nil {
		return false
	}
	g, ok, err := geometryOf(c.layer, f, c.place)
	if err != nil {
		c.err = fmt.Errorf("line %q: %w", f.Line, err)
		return false
	}
	c.values = append(c.values[:0], nil, c.key, c.layer.Role, postgresText(f.Line), string(StyleOf(f.Utility).Utility))
	if ok {
		c.values[0] = g.appendWKB(nil, 4326)
	}
	for i, col := range c.layer.Columns {
		c.values = append(c.values, postgresValue(col, f.Values[i]))
	}
	return true
}

// Values implements pgx.CopyFromSource.
func (c *featureSource) Values() ([]any, error) { return c.values, nil }

// Err implements pgx.CopyFromSource.
func (c *featureSource) Err() error { return c.err }

// postgresValue is a value as pgx takes it.
func postgresValue(c column, v value) any {
	if !v.Known {
		return nil
	}
	switch c.Type {
	case typeText:
		return postgresText(v.Text)
	case typeInteger:
		return int64(v.Num)
	case typeReal:
		return roundTo(v.Num, c.Decimals)
	case typeBoolean:
		return v.Num != 0
	case typeTexts:
		out := make([]string, len(v.Texts))
		for i, s := range v.Texts {
			out[i] = postgresText(s)
		}
		return out
	}
	out := make([]*float64, len(v.Nums))
	for i, x := range v.Nums {
		if finite(x) {
			r := roundTo(x, c.Decimals)
			out[i] = &r
		}
	}
	return out
}
