package postgis

import (
	"fmt"
	"iter"
	"time"

	"loamline.example/export/featuretable"
	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/export/style"
	"loamline.example/geo"
	"loamline.example/trace"
)

// zeroFrame is WGS 84 in degrees.
var zeroFrame = geo.Frame{}

// featureSource hands the features of a role to COPY, row by row.
type featureSource struct {
	layer  layer.Layer
	key    string
	place  place.Placer
	own    ownSystem
	next   func() (*layer.Feature, bool)
	stop   func()
	values []any
	err    error
}

func newFeatureSource(s *trace.Sheet, l layer.Layer, key string, placer place.Placer) *featureSource {
	next, stop := iter.Pull(l.Each(s))
	return &featureSource{layer: l, key: key, place: placer, next: next, stop: stop}
}

// Next implements pgx.CopyFromSource.
func (c *featureSource) Next() bool {
	f, ok := c.next()
	if !ok || c.err != nil {
		return false
	}
	g, ok, err := featuretable.Place(c.layer, f, c.place)
	if err != nil {
		c.err = fmt.Errorf("line %q: %w", f.Line, err)
		return false
	}
	c.values = append(c.values[:0], nil, c.key, c.layer.Role, postgresText(f.Line), string(style.Of(f.Utility).Utility))
	if ok {
		c.values[0] = g.AppendWKB(nil, 4326)
	}
	for i, col := range c.layer.Columns {
		v, err := postgresValue(col, f.Values[i])
		if err != nil {
			c.err = fmt.Errorf("line %q: %s: %w", f.Line, col.Name, err)
			return false
		}
		c.values = append(c.values, v)
	}
	if c.own.column == "" {
		return true
	}
	g, ok, err = featuretable.Place(c.layer, f, c.own.place)
	if err != nil {
		c.err = fmt.Errorf("line %q in EPSG:%d: %w", f.Line, c.own.code, err)
		return false
	}
	c.values = append(c.values, nil)
	if ok {
		c.values[len(c.values)-1] = g.AppendWKB(nil, uint32(c.own.code))
	}
	return true
}

// Values implements pgx.CopyFromSource.
func (c *featureSource) Values() ([]any, error) { return c.values, nil }

// Err implements pgx.CopyFromSource.
func (c *featureSource) Err() error { return c.err }

// postgresValue is a value as pgx takes it.
func postgresValue(c layer.Column, v layer.Value) (any, error) {
	if !v.Known {
		return nil, nil
	}
	switch {
	case c.Day:
		return time.Parse(time.DateOnly, v.Text)
	case c.Instant:
		return time.Parse(time.RFC3339Nano, v.Text)
	}
	switch c.Type {
	case layer.TypeText:
		return postgresText(v.Text), nil
	case layer.TypeInteger:
		return int64(v.Num), nil
	case layer.TypeReal:
		return literal.Round(v.Num, c.Decimals), nil
	case layer.TypeBoolean:
		return v.Num != 0, nil
	case layer.TypeTexts:
		out := make([]string, len(v.Texts))
		for i, s := range v.Texts {
			out[i] = postgresText(s)
		}
		return out, nil
	}
	out := make([]*float64, len(v.Nums))
	for i, x := range v.Nums {
		if literal.Finite(x) {
			r := literal.Round(x, c.Decimals)
			out[i] = &r
		}
	}
	return out, nil
}
