package tracetest

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// random is a seeded stream. Every purpose of a job has a stream of its own, so
// that a change in one part of the simulator leaves the others alone.
type random struct{ *rand.Rand }

// stream returns the generator for one purpose of a family's seed.
func stream(family string, seed uint64, purpose string) random {
	h := fnv.New64a()
	h.Write([]byte(family))
	h.Write([]byte{0})
	h.Write([]byte(purpose))
	return random{rand.New(rand.NewPCG(seed, h.Sum64()))}
}

// norm draws from a normal distribution about zero.
func (r random) norm(sd float64) float64 { return r.NormFloat64() * sd }

// between draws evenly from [lo, hi).
func (r random) between(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// ratio draws from [lo, hi) evenly in the logarithm.
func (r random) ratio(lo, hi float64) float64 {
	return math.Exp(r.between(math.Log(lo), math.Log(hi)))
}

// chance is true with probability p.
func (r random) chance(p float64) bool { return r.Float64() < p }

// sign is -1 or +1.
func (r random) sign() float64 {
	if r.chance(0.5) {
		return -1
	}
	return 1
}

// oneOf draws one of the choices.
func oneOf[T any](r random, choices ...T) T { return choices[r.IntN(len(choices))] }
