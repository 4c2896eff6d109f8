package geo

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Buffer returns the zone of all places within halfWidthM metres of a path in
// the plane, with round ends and round corners.
//
// The zone is never narrower than asked: arcs are drawn as polygons around the
// true circle (128 sides a circle), which makes corners up to 6.1e-4 of the
// half-width too wide (0.28 mm at 18 in). Outer rings run counter-clockwise,
// holes clockwise, and the result is a valid multipolygon. The path may cross
// or touch itself, run back over itself, be closed, or be a single point.
func Buffer(path []XY, halfWidthM float64) (orb.MultiPolygon, error) {
	w := make([]float64, len(path))
	for i := range w {
		w[i] = halfWidthM
	}
	return BufferVariable(path, w, w)
}

// BufferVariable returns the zone around a path whose half-width changes along
// the way: leftM and rightM hold one half-width in metres a vertex, to the left
// and to the right of travel, and between vertices they run linearly. With equal
// sides it is the union of all discs that travel along the path with the radius
// of the place; with unequal sides each side is that union cut at the path.
//
// It is never narrower than asked, as Buffer. It is wider than asked where a
// half-width grows or shrinks faster than the path runs (the larger disc is kept
// whole) and where the path turns back sharply (both sides take the larger
// half-width there, for left and right change places) or scribbles over itself.
func BufferVariable(path []XY, leftM, rightM []float64) (orb.MultiPolygon, error) {
	if err := checkBufferInput(path, leftM, rightM); err != nil {
		return nil, err
	}
	asked := newBand(path, leftM, rightM)
	var failed error
	for _, attempt := range bufferAttempts {
		zone, err := attempt(asked)
		if err == nil {
			zone, err = asked.complete(zone)
		}
		if err == nil {
			return zone, nil
		}
		failed = errors.Join(failed, err)
	}
	return nil, fmt.Errorf("no valid zone could be built around a path of %d points: %w", len(path), failed)
}

// bufferAttempts are the ways to build a zone, the fastest first. A later one
// is taken when an earlier one fails.
var bufferAttempts = []func(band) (orb.MultiPolygon, error){
	func(b band) (orb.MultiPolygon, error) { return drawn(b.inflated(0)) },
	func(b band) (orb.MultiPolygon, error) { return b.inflated(0).dissolved() },
	func(b band) (orb.MultiPolygon, error) { return b.snapped(1e-4).inflated(2e-4).dissolved() },
	band.capsules,
}

// drawn returns the outline itself where it is a simple ring.
func drawn(b band) (orb.MultiPolygon, error) {
	ring := b.outline(trimmed)
	if !IsSimple(ring) || signedArea(ring) <= 0 {
		return nil, errNotSimple
	}
	open := make(orb.Ring, len(ring)-1)
	for i := range open {
		open[i] = orb.Point{ring[i].X, ring[i].Y}
	}
	return orb.MultiPolygon{{rotated(open)}}, nil
}

// dissolved returns the union of what an inflated band's outline winds around.
// Where the path scribbles over itself, halves of it are dissolved first, so that
// what lies inside is dropped early.
func (b band) dissolved() (orb.MultiPolygon, error) {
	ring := b.outline(asDrawn)
	n := len(b.path)
	if n <= 8 || !isCrowded(ring) {
		return dissolve(ring)
	}
	mid := n / 2
	first, err := band{b.path[:mid+1], b.left[:mid+1], b.right[:mid+1]}.dissolved()
	if err != nil {
		return nil, err
	}
	second, err := band{b.path[mid:], b.left[mid:], b.right[mid:]}.dissolved()
	if err != nil {
		return nil, err
	}
	return Union(first, second)
}

var errNotSimple = errors.New("the outline crosses itself")

// complete checks a zone and widens it where it is narrower than asked, which
// unequal sides can cause in a sharp bend.
func (b band) complete(zone orb.MultiPolygon) (orb.MultiPolygon, error) {
	short := b.shortAt(zone)
	if len(short) == 0 {
		return zone, nil
	}
	zone, err := b.patched(zone, short)
	if err != nil {
		return nil, err
	}
	if short = b.shortAt(zone); len(short) > 0 {
		p := b.path[short[0]]
		return nil, fmt.Errorf("the zone is narrower than asked at %d places, the first near (%.3f, %.3f)", len(short), p.X, p.Y)
	}
	return zone, nil
}

func checkBufferInput(path []XY, leftM, rightM []float64) error {
	if len(path) == 0 {
		return errors.New("a zone needs a path of at least one point")
	}
	if len(leftM) != len(path) || len(rightM) != len(path) {
		return fmt.Errorf("a path of %d points needs as many half-widths, not %d left and %d right", len(path), len(leftM), len(rightM))
	}
	for i, p := range path {
		if !finite(p.X) || !finite(p.Y) {
			return fmt.Errorf("point %d of the path is not a position: (%g, %g)", i, p.X, p.Y)
		}
		l, r := leftM[i], rightM[i]
		if !finite(l) || !finite(r) || l < 0 || r < 0 || l+r == 0 {
			return fmt.Errorf("half-widths at point %d of the path are %g m and %g m: they must be finite and not negative, and not both 0", i, l, r)
		}
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
