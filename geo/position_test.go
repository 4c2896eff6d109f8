package geo

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Decisions hang on lengths to the last bit: two that are equal stay equal.
func TestLengthIsHypotToTheBit(t *testing.T) {
	number := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Float64Range(-1e-9, 1e-9), rapid.Float64(), rapid.Just(0.0))
	rapid.Check(t, func(t *rapid.T) {
		p, q := XY{number.Draw(t, "x"), number.Draw(t, "y")}, XY{1, -2}
		if got, want := p.Norm(), math.Hypot(p.X, p.Y); got != want {
			t.Errorf("%v is %v long, by math.Hypot %v", p, got, want)
		}
		if got, want := p.Dist(q), math.Hypot(p.X-q.X, p.Y-q.Y); got != want {
			t.Errorf("%v is %v from %v, by math.Hypot %v", p, got, q, want)
		}
	})
}

// What is surely within an angle is so by the angle itself.
func TestSurelyWithin(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 10000 {
		p, q, angle := XY{X: r.NormFloat64(), Y: r.NormFloat64()}, XY{X: r.NormFloat64(), Y: r.NormFloat64()}, r.Float64()
		if between := math.Abs(math.Atan2(p.Cross(q), p.Dot(q))); p.SurelyWithin(q, angle) && between > angle {
			t.Fatalf("%v and %v are %g rad apart, not within %g", p, q, between, angle)
		}
	}
}
