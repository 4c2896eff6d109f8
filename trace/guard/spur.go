package guard

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// What tells a spur. Judgement.
const (
	// A spur holds up to mostSpur readings at its tip, no farther from each other, nor its
	// two ends from each other, than closeShare of the way out. A branch or the far end of
	// a pass has readings on the way, or is the end of what is drawn.
	mostSpur   = 30
	closeShare = 1.0 / 3
	// comesBack is how near the line comes to where it left, of the way out: it is drawn
	// on to the next reading of the walk rather than to where that stood.
	comesBack = 0.8
	// leapStrides is how many usual strides the way out is at least: at the end of a branch
	// that is walked out and back it is one.
	leapStrides = 1.5
	// leastOwnOut is how many times a reading's own error the way out is at least.
	leastOwnOut = 8
)

// spurs finds where the line leads out to a few readings and back to where it left: a fix
// that is lost while the walk stands, and comes again, does that.
func (v *view) spurs() []Breach {
	var walk []int
	for _, i := range v.order {
		if v.Readings[i].Status == trace.StatusUsed && v.feet[i].part >= 0 {
			walk = append(walk, i)
		}
	}
	at := func(k int) geo.XY { return v.Readings[walk[k]].Pos }
	var strides []float64
	for k := 1; k < len(walk); k++ {
		if s := at(k).Dist(at(k - 1)); s > 0 {
			strides = append(strides, s)
		}
	}
	if len(strides) == 0 {
		return nil
	}
	leastM := math.Max(sidestep.LeastM, leapStrides*ranked.Median(strides))
	var out []Breach
	for k := 0; k+2 < len(walk); k++ {
		wayM := at(k).Dist(at(k + 1))
		if wayM < leastM {
			continue
		}
		tip := k + 1
		for tip+2 < len(walk) && tip-k < mostSpur && at(tip+1).Dist(at(k+1)) <= closeShare*wayM {
			tip++
		}
		if at(tip+1).Dist(at(k)) > closeShare*wayM {
			continue
		}
		if b, ok := v.spur(walk[k : tip+2]); ok {
			out = append(out, b)
			k = tip
		}
	}
	return out
}

// spur tells whether the line leads from the first of some readings out to those between
// and back to the last.
func (v *view) spur(walk []int) (Breach, bool) {
	n := len(walk) - 2
	a, b := v.Readings[walk[0]].Pos, v.Readings[walk[n+1]].Pos
	between := a.Lerp(b, 0.5)
	outM, ownM := math.Inf(1), math.Max(v.ownM(walk[0]), v.ownM(walk[n+1]))
	tip := v.feet[walk[1]]
	for _, i := range walk[1 : n+1] {
		outM, ownM = math.Min(outM, v.Readings[i].Pos.Dist(between)), math.Max(ownM, v.ownM(i))
		if f := v.feet[i]; f.part != tip.part || f.distM > closeShare*outM {
			return Breach{}, false // the line does not lead there
		}
	}
	if outM < sidestep.LeastM || outM < leastOwnOut*ownM {
		return Breach{}, false
	}
	// The feet of the first and the last lie on either way, so each is looked for on its own.
	p, farM := v.parts[tip.part], 2*outM
	tipM := tip.stationM - p.FromM()
	there, back := geo.NewPolyline(p.line.Slice(tipM-farM, tipM)), geo.NewPolyline(p.line.Slice(tipM, tipM+farM))
	if there.Length() < outM/2 || back.Length() < outM/2 {
		return Breach{}, false
	}
	from, to := there.Nearest(between), back.Nearest(between)
	if math.Max(from.At.Dist(between), to.At.Dist(between)) > comesBack*outM {
		return Breach{}, false
	}
	fromM := tip.stationM - there.Length() + from.StationM
	return Breach{Kind: Off, FromM: fromM, ToM: tip.stationM + to.StationM, BandM: outM * (1 + closeShare),
		Remark: remark.AsideOfTheWalk{Readings: n, AsideM: outM}}, true
}
