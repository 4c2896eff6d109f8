package stakeout

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Tie is a distance from a fixed feature to a point.
type Tie struct {
	Feature   string
	DistanceM float64
	AlongM    float64 // of a path such as a kerb: where the foot lies, from its start; Unknown for a place
	// Side is where the point lies for whoever stands at the first feature of two
	// and looks to the second; empty where a third tie tells it.
	Side trace.Side
	To   string // the feature looked to
	Weak bool   // the arcs meet at so flat an angle that they fix no place
}

// Limits of a swing tie. Both are common practice, no source: a tape of 30 m is
// in every truck, 50 m is the longest in use; arcs that meet at less than 30°
// smear a centimetre into two.
const (
	longestTapeM = 50.0
	leastSine    = 0.5
)

// tapeSigmaM is how sure a taped distance is, one sigma: a held end and sag
// (common practice, no source).
func tapeSigmaM(m float64) float64 { return 0.01 + 0.001*m }

// arm is a feature as seen from the point.
type arm struct {
	trace.Feature
	foot   geo.XY
	m      float64
	alongM float64
}

// tiesOf chooses two or three features to measure a place from: of all pairs within
// the reach of a tape the one whose arcs fix the place best, and a third that
// checks them and tells which of both meeting points is meant. One feature alone
// gives one distance, which fixes nothing and says so.
func tiesOf(features []trace.Feature, at geo.XY) []Tie {
	arms := armsOf(features, at)
	if len(arms) == 0 {
		return nil
	}
	a, b, ok := bestPair(arms, at)
	if !ok {
		nearest := arms[0]
		for _, r := range arms {
			if r.m < nearest.m {
				nearest = r
			}
		}
		t := nearest.tie()
		t.Weak = true
		return []Tie{t}
	}
	out := []Tie{arms[a].tie(), arms[b].tie()}
	weak := sine(arms[a], arms[b], at) < leastSine
	if c, ok := third(arms, a, b, at); ok {
		out = append(out, arms[c].tie())
		weak = weak && sine(arms[a], arms[c], at) < leastSine && sine(arms[b], arms[c], at) < leastSine
	} else {
		out[0].Side, out[0].To = side(arms[a].foot, arms[b].foot, at), arms[b].Name
	}
	for i := range out {
		out[i].Weak = weak
	}
	return out
}

func (r arm) tie() Tie { return Tie{Feature: r.Name, DistanceM: r.m, AlongM: r.alongM} }

func armsOf(features []trace.Feature, at geo.XY) []arm {
	var out []arm
	for _, f := range features {
		r := arm{Feature: f, alongM: trace.Unknown}
		switch len(f.Path) {
		case 0:
			continue
		case 1:
			r.foot = f.Path[0]
		default:
			line := geo.NewPolyline(f.Path)
			foot := line.Nearest(at)
			// Square off a path there must be a foot within it: off its end the nearest
			// point is no right angle.
			if foot.StationM <= 1e-6 || foot.StationM >= line.Length()-1e-6 {
				continue
			}
			r.foot, r.alongM = foot.At, foot.StationM
		}
		if r.m = r.foot.Dist(at); r.m <= longestTapeM {
			out = append(out, r)
		}
	}
	return out
}

// bestPair is the pair of arms whose two distances fix the place best: the error
// of the meeting point is that of the tapes over the sine of the angle.
func bestPair(arms []arm, at geo.XY) (a, b int, ok bool) {
	best := math.Inf(1)
	for i := range arms {
		for k := i + 1; k < len(arms); k++ {
			s := sine(arms[i], arms[k], at)
			e := math.Hypot(tapeSigmaM(arms[i].m), tapeSigmaM(arms[k].m)) / s
			if s > 0.02 && e < best {
				best, a, b, ok = e, i, k, true
			}
		}
	}
	return a, b, ok
}

// third is the feature that best checks a pair: off the line of both, so that it
// lies at clearly different distances from their two meeting points.
func third(arms []arm, a, b int, at geo.XY) (int, bool) {
	mirror := reflect(at, arms[a].foot, arms[b].foot)
	best, found := -1, math.Inf(1)
	for i := range arms {
		if i == a || i == b || math.Abs(arms[i].foot.Dist(mirror)-arms[i].m) < tellingM {
			continue
		}
		if e := tapeSigmaM(arms[i].m) / math.Max(0.1, math.Max(sine(arms[i], arms[a], at), sine(arms[i], arms[b], at))); e < found {
			best, found = i, e
		}
	}
	return best, best >= 0
}

// tellingM is how much a third distance must differ between two places to tell
// them apart with a tape.
const tellingM = 0.5

func reflect(q, a, b geo.XY) geo.XY {
	d := b.Sub(a)
	n := d.Norm()
	if n == 0 {
		return q
	}
	u := d.Scale(1 / n)
	along := q.Sub(a).Dot(u)
	foot := a.Add(u.Scale(along))
	return foot.Add(foot.Sub(q))
}

// sine of the angle between two arms at the place.
func sine(a, b arm, at geo.XY) float64 {
	u, v := a.foot.Sub(at), b.foot.Sub(at)
	if u.Norm() < 0.05 || v.Norm() < 0.05 {
		return 0
	}
	return math.Abs(u.Cross(v)) / (u.Norm() * v.Norm())
}

// side is where a place lies for whoever looks from a to b.
func side(a, b, q geo.XY) trace.Side {
	if b.Sub(a).Cross(q.Sub(a)) > 0 {
		return trace.Left
	}
	return trace.Right
}

// TapedFrom are the fixed features, of one place each, from which a point of the job is to
// be taped: a layer may have thousands that nothing is near.
func TapedFrom(s *trace.Sheet) (out []trace.Feature) {
	if len(s.Features) == 0 {
		return nil
	}
	named := map[string]bool{}
	for i := range s.Lines {
		for _, p := range LinePoints(s, i, 0) {
			for _, t := range p.Ties {
				named[t.Feature] = true
			}
		}
	}
	for _, f := range s.Features {
		if len(f.Path) == 1 && named[f.Name] {
			out = append(out, f)
		}
	}
	return out
}
