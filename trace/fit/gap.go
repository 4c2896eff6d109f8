package fit

import "sort"

// stretch is a part of the shape's line between two gaps: old stations from and
// to, where it starts on the result, and where it and the one before it meet, if they
// do.
type stretch struct {
	from, to, newFrom float64
	branch            branching
}

// farthestBridgeM is the longest way without a reading that is drawn as traced,
// however far apart the readings stand. Judgement: a buried line turns within it.
const farthestBridgeM = 60

// A way without a reading is a gap from leastGapM and gapSteps usual steps on, and what is
// shorter than lonePlaceM between two gaps is one place and no way. Judgement: with fewer
// steps one missed reading or two cut a line, with more its bends between are guessed.
const (
	leastGapM  = 8
	gapSteps   = 4
	lonePlaceM = 0.05
)

// stretches cuts the line where too long a way has no reading in use: more than
// four usual steps and 8 m, or farthestBridgeM. A lone reading between two such
// gaps doesn't make a stretch of its own and is noted as alone.
func (t *traced) stretches() []stretch {
	at := make([]*observation, 0, len(t.w.obs))
	for i := range t.w.obs {
		if t.w.obs[i].fate == Used {
			at = append(at, &t.w.obs[i])
		}
	}
	if len(at) < 2 {
		return nil
	}
	sort.SliceStable(at, func(a, b int) bool { return at[a].stationM < at[b].stationM })
	station := func(i int) float64 { return at[i].stationM }
	limit := clamp(gapSteps*t.w.stepM, leastGapM, farthestBridgeM)
	var out []stretch
	from, first := station(0), 0
	var alone []*observation
	for i := 1; i <= len(at); i++ {
		if i < len(at) && station(i)-station(i-1) <= limit {
			continue
		}
		if station(i-1)-from > lonePlaceM {
			out = append(out, stretch{from: from, to: station(i - 1)})
		} else {
			alone = append(alone, at[first:i]...)
		}
		if i < len(at) {
			from, first = station(i), i
		}
	}
	if last := len(at) - 1; len(out) == 0 && station(last)-station(0) <= limit {
		out = []stretch{{from: station(0), to: station(last)}}
		alone = nil
	}
	for _, o := range alone {
		o.alone = true
	}
	t.joinStretches(out)
	t.measureStretches(out)
	return out
}

// joinStretches notes where a part meets the line of another.
func (t *traced) joinStretches(out []stretch) {
	if len(out) < 2 {
		return
	}
	sigmaM := t.usualSigma()
	for i := 1; i < len(out); i++ {
		j := t.join(out[i-1].to, out[i].from, sigmaM)
		k := sort.Search(len(out), func(k int) bool { return out[k].to >= j.stationM })
		if j.there && k < len(out) && out[k].from <= j.stationM {
			out[i].branch = j
		}
	}
}

// measureStretches sets the new stations: a gap counts as its straight bridge, the
// way to where parts meet likewise.
func (t *traced) measureStretches(out []stretch) {
	at := 0.0
	for i := range out {
		if i > 0 {
			last, next := t.sh.line.At(out[i-1].to), t.sh.line.At(out[i].from)
			if j := out[i].branch; j.there {
				joint := t.sh.line.At(j.stationM)
				at += last.Dist(joint) + joint.Dist(next)
			} else {
				at += last.Dist(next)
			}
		}
		out[i].newFrom = at
		at += out[i].to - out[i].from
	}
}

// restation converts a station on the shape's line to one on the result.
func restation(st []stretch, s float64) float64 {
	if len(st) == 0 {
		return s
	}
	i := min(sort.Search(len(st), func(i int) bool { return s <= st[i].to }), len(st)-1)
	x := st[i]
	if s >= x.from || i == 0 {
		return x.newFrom + clamp(s-x.from, 0, x.to-x.from)
	}
	prev := st[i-1]
	end := prev.newFrom + prev.to - prev.from
	u := (s - prev.to) / (x.from - prev.to)
	return end + u*(x.newFrom-end)
}
