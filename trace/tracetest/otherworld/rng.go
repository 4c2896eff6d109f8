package otherworld

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// rng is a source of one part of a job. Parts have sources of their own, so
// that what one draws leaves the others alone.
type rng struct{ *rand.Rand }

func source(family string, seed uint64, part string) rng {
	h := fnv.New64a()
	h.Write([]byte("otherworld/" + family + "/" + part))
	return rng{rand.New(rand.NewPCG(h.Sum64(), seed*0x9e3779b97f4a7c15+1))}
}

// in is uniform between two bounds.
func (r rng) in(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// scale is log-uniform between two positive bounds.
func (r rng) scale(lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }

// gauss is normal about zero.
func (r rng) gauss(sd float64) float64 { return sd * r.NormFloat64() }

// yes is true with probability p.
func (r rng) yes(p float64) bool { return r.Float64() < p }

// side is +1 or -1.
func (r rng) side() float64 {
	if r.yes(0.5) {
		return 1
	}
	return -1
}

func pick[T any](r rng, of ...T) T { return of[r.IntN(len(of))] }
