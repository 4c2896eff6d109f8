// Package claims has the ways beside a line that its findings speak of: gaps, and courses that
// the line may take instead. What lies on one of them is told of.
package claims

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Claims are such ways, collected once: each place that no line holds is asked about.
type Claims []claim

// claim is a way, and how far to both sides of it.
type claim struct {
	line   geo.Polyline
	halfM  float64
	lo, hi geo.XY // box of the ground that it claims
}

// Of are the ways of findings, each as wide as a zone's half-width and its own band.
func Of(findings []trace.Finding, halfWidthM float64) (out Claims) {
	add := func(path []geo.XY, halfM float64) {
		if len(path) < 2 {
			return
		}
		c := claim{line: geo.NewPolyline(path), halfM: halfM, lo: path[0], hi: path[0]}
		for _, q := range path {
			c.lo = geo.XY{X: math.Min(c.lo.X, q.X), Y: math.Min(c.lo.Y, q.Y)}
			c.hi = geo.XY{X: math.Max(c.hi.X, q.X), Y: math.Max(c.hi.Y, q.Y)}
		}
		out = append(out, c)
	}
	for _, f := range findings {
		if _, gap := f.(finding.Gap); gap {
			add(f.Where(), halfWidthM)
		}
		for _, c := range f.Beside() {
			half := halfWidthM
			for _, h := range c.Half95M {
				half = math.Max(half, halfWidthM+h)
			}
			add(c.Path, half)
		}
	}
	return out
}

// Hold reports whether a place lies on one of the ways.
func (cs Claims) Hold(at geo.XY) bool {
	for i := range cs {
		if c := &cs[i]; c.mayHold(at) && math.Abs(c.line.Nearest(at).OffsetM) <= c.halfM {
			return true
		}
	}
	return false
}

// mayHold is false only for a place that is surely too far off.
func (c *claim) mayHold(at geo.XY) bool {
	reach := c.halfM * (1 + 1e-9)
	return !(at.X < c.lo.X-reach || at.X > c.hi.X+reach || at.Y < c.lo.Y-reach || at.Y > c.hi.Y+reach)
}
