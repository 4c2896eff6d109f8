package fit

import (
	"math"

	"loamline.example/trace/receiver"
)

// The line's own field makes depths read shallow at a bend and away from there not. The
// depths themselves tell whether it did: corrected, they go on at the level of those on
// both sides, or they bulge by as much as they were corrected. Where they surely bulge
// the depths are taken as they were read, and the band holds the correction too. The figures
// are judgement.
const (
	// affectedFrom is the relative loss of depth from which a sounding is asked, and
	// unaffectedTo the one up to which others tell its level.
	affectedFrom = 0.05
	unaffectedTo = 0.02
	// levelSoundings is how many of those are asked on each side, and levelM how far away.
	levelSoundings = 4
	levelM         = 15.0
	// levelSD is by how much ln of the depth differs from the level beside by itself, one
	// sigma, and surelyUnseen the nats that the field's own law is worth.
	levelSD      = 0.08
	surelyUnseen = 8.0
)

// fieldUnseen tells of each sounding whether what the line's own field is worked out to
// do to it does not show.
func fieldUnseen(s []sounding, lost []float64) []bool {
	out := make([]bool, len(s))
	for from := 0; from < len(s); from++ {
		if math.Abs(lost[from]) < affectedFrom {
			continue
		}
		to := from
		for to < len(s) && math.Abs(lost[to]) > unaffectedTo {
			to++
		}
		if unseenAlong(s, lost, from, to) {
			for i := from; i < to; i++ {
				out[i] = true
			}
		}
		from = to
	}
	return out
}

// unseenAlong asks that of the soundings [from, to).
func unseenAlong(s []sounding, lost []float64, from, to int) bool {
	before, okBefore := levelBeside(s, lost, from, -1)
	after, okAfter := levelBeside(s, lost, to-1, 1)
	if !okBefore || !okAfter {
		return false
	}
	length := math.Max(s[to-1].station()-s[from].station(), 1e-9)
	nats := 0.0
	for i := from; i < to; i++ {
		u := (s[i].station() - s[from].station()) / length
		level := before + u*(after-before)
		variance := sq(receiver.DepthSigmaRel(math.Exp(s[i].lnDepth))) + sq(levelSD)
		nats += (sq(s[i].lnDepth-math.Log1p(-lost[i])-level) - sq(s[i].lnDepth-level)) / (2 * variance)
	}
	return nats > surelyUnseen
}

// levelBeside is the median ln depth of the nearest soundings beside one that the line's
// own field does not reach.
func levelBeside(s []sounding, lost []float64, from, step int) (level float64, ok bool) {
	var v []float64
	for i := from + step; i >= 0 && i < len(s) && len(v) < levelSoundings && math.Abs(s[i].station()-s[from].station()) < levelM; i += step {
		if math.Abs(lost[i]) < unaffectedTo {
			v = append(v, s[i].lnDepth)
		}
	}
	if len(v) < 2 {
		return 0, false
	}
	return median(v), true
}
