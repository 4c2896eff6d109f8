package guard

import (
	"math"
	"slices"
	"time"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/guard/sameline"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// What tells a lateral step. Judgement.
const (
	// A slow step takes as long as a neighbour's signal takes to outgrow the line's own,
	// slowStepM.
	slowStepM = 6.0
	// stepOverOwn is how many times a place's own error a step is wide at the least, and one
	// on the way stepSigmas of what its runs seem apart by chance: hundreds of places of a
	// walk are asked, and what marks are off lasts over a few of them (judgement).
	stepOverOwn, stepSigmas = 6, 5.5
	// longerSide is how many times longer the other side of a lone step must be for
	// the shorter one to be taken for the stretch that may lie elsewhere.
	longerSide = 2.0
	// Behind a pause of pausedFor, and of pausedStrides usual ones, the fix is a new one: a
	// step of leastPausedM between runs straight to pausedShare of it is told then
	// (judgement).
	pausedFor                 = 10 * time.Minute
	pausedStrides             = 10
	leastPausedM, pausedShare = 0.15, 1.0 / 3
)

var onTheWay = sidestep.Rule{LeastM: sidestep.LeastM, Share: sidestep.StraightShare}
var behindPause = sidestep.Rule{LeastM: leastPausedM, Share: pausedShare}

// lateralAt is what makes a step between two readings.
func (v *view) lateralAt(before, after int) sidestep.Rule {
	if !v.setups[before].Same(v.setups[after]) {
		return behindPause // another frequency or hookup couples otherwise
	}
	a, b := v.Readings[before].Time, v.Readings[after].Time
	if a.IsZero() || b.IsZero() || v.strideTime == 0 {
		return onTheWay
	}
	if d := b.Sub(a).Abs(); d >= pausedFor && d >= pausedStrides*v.strideTime {
		return behindPause
	}
	return onTheWay
}

// usualStrideTime is the median time from one used reading to the next in travel order, 0
// where the times do not tell, or the rows are no walk.
func (v *view) usualStrideTime() time.Duration {
	if !v.inOrder {
		return 0
	}
	var d []time.Duration
	var last time.Time
	for _, i := range v.order {
		r := &v.Readings[i]
		if r.Status != trace.StatusUsed || r.Time.IsZero() {
			continue
		}
		if !last.IsZero() {
			d = append(d, r.Time.Sub(last))
		}
		last = r.Time
	}
	if len(d) == 0 {
		return 0
	}
	slices.Sort(d)
	return max(0, d[len(d)/2])
}

// steps are the lateral steps, looked for once: the strides that overshoot ask as well.
func (v *view) steps() []Breach {
	if !v.stepsKnown {
		v.stepsFound, v.stepsKnown = v.findSteps(), true
	}
	return v.stepsFound
}

// findSteps finds lateral steps between parallel runs. An offset made by fittings
// looks like that, and so does a receiver that went over to another line; the
// readings' places alone cannot tell which, so the bands hold both courses, all along where
// depth and signal do not show that it is the same line ([view.sameLine]).
func (v *view) findSteps() []Breach {
	var out []Breach
	for part := range v.parts {
		on := v.onPart(part, 3, 0)
		found := v.stepsOn(on)
		for k := 0; k < len(found); k++ {
			s := found[k]
			p := v.parts[part]
			from, to := v.feet[on[s.Before]].stationM, v.feet[on[s.After]].stationM
			width, lone := math.Abs(s.LateralM), false
			deep := v.depthOver(on[:s.Before+1], on[s.After:])
			how := remark.LateralStep{LateralM: width, WithinM: to - from, BackAtM: trace.Unknown}
			if k+1 < len(found) && s.UndoneBy(found[k+1]) {
				back := found[k+1]
				k++
				to = v.feet[on[back.After]].stationM
				width = math.Max(width, math.Abs(back.LateralM))
				how.BackAtM = v.feet[on[back.Before]].stationM
			} else {
				if s, ok := v.suspectedNear(from, to); ok {
					how.Suspected = true
					from, to = math.Min(from, s.FromM), math.Max(to, s.ToM)
					out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: width + bandOver(found[k]), DepthBandM: deep, SeparationM: width, Remark: how})
					continue
				}
				before, after := shorterSides(from-p.FromM(), p.ToM()-to)
				how.SameLine = v.sameLine(on, s)
				lone = !how.SameLine
				if lone && before {
					from = p.FromM()
				}
				if lone && after {
					to = p.ToM()
				}
			}
			out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: width + bandOver(s), DepthBandM: deep, Whole: lone, SeparationM: width, Remark: how})
		}
	}
	return append(out, v.excursions(out)...)
}

// stepDepths is how many depths next to a step, on either side, tell how deep the line is
// there. Judgement.
const stepDepths = 5

// depthOver is the half-width of a depth that holds how deep the readings before a step
// are on the one course and those after it on the other: where either may be the line's,
// so may either depth. It is 0 where depths are not read.
func (v *view) depthOver(before, after []int) float64 {
	side := func(on []int, first, step int) (depths []float64, band float64) {
		for k := first; k >= 0 && k < len(on) && len(depths) < stepDepths; k += step {
			if r := &v.Readings[on[k]]; r.DepthM > 0 && r.DepthM < shownM && !r.DepthDropped {
				depths = append(depths, v.depthOf(on[k]))
				_, own, _ := v.profileAt(on[k])
				band = math.Max(band, own)
			}
		}
		return depths, band
	}
	a, ownA := side(before, len(before)-1, -1)
	b, ownB := side(after, 0, 1)
	if len(a) == 0 || len(b) == 0 {
		return 0
	}
	return math.Abs(ranked.Median(a)-ranked.Median(b)) + math.Max(ownA, ownB)
}

// shorterSides tells on which sides of a lone step the line may lie elsewhere: on the
// shorter one, on both where neither is clearly shorter.
func shorterSides(beforeM, afterM float64) (before, after bool) {
	return beforeM <= longerSide*afterM, afterM <= longerSide*beforeM
}

// suspectedNear is a stretch on which bleed-over is suspected and that begins or
// ends about where the trace steps: then it is that stretch which may lie elsewhere.
func (v *view) suspectedNear(from, to float64) (finding.BleedOver, bool) {
	for _, f := range v.Findings {
		b, ok := f.(finding.BleedOver)
		if ok && b.Grade != trace.GradeWatch && b.FromM <= to+joinM && b.ToM >= from-joinM {
			return b, true
		}
	}
	return finding.BleedOver{}, false
}

// sameLine reports whether the readings show one line on both sides of a step that is taken on
// the way; a step of the fix itself is no line's.
func (v *view) sameLine(on []int, s sidestep.Step) bool {
	before := v.figures(on[:s.Before+1])
	slices.Reverse(before)
	return v.lateralAt(on[s.Before], on[s.After]) == onTheWay && sameline.Across(before, v.figures(on[s.After:]))
}

// figures are what some readings show, those whose depth was dropped but for that.
func (v *view) figures(on []int) (out []sameline.Figures) {
	for _, i := range on {
		r := v.Readings[i]
		if r.DepthDropped {
			r.DepthM = trace.Unknown
		}
		out = append(out, sameline.Figures{DepthM: r.DepthM, Signal: signalOf(&r), CurrentMA: r.CurrentMA})
	}
	return out
}

// bandOver is what a step's width may be off: the runs' own scatter.
func bandOver(s sidestep.Step) float64 { return sidestep.StraightShare * math.Abs(s.LateralM) }

// scatterM is a place's own error, or how the walk scatters where that is more: whatever is
// told, a step must stand out of what neighbours do.
func (v *view) scatterM(i int) float64 { return math.Max(v.ownM(i), v.whiteM) }

// stepsOn finds the steps among the places of a part, in travel order.
func (v *view) stepsOn(on []int) []sidestep.Step {
	at := v.placesOf(on)
	var out []sidestep.Step
	for k := 2; k+3 < len(on); k++ {
		for strides := 1; k+strides+2 < len(on); strides++ {
			quick, near := strides <= sidestep.QuickStrides, at[k].Dist(at[k+strides]) <= slowStepM
			if !quick && !near {
				break
			}
			rule := v.lateralAt(on[k], on[k+strides])
			s, ok := sidestep.Between(at, k, k+strides, rule)
			if !ok && strides == 1 && near {
				s, ok = sidestep.AtOnce(at, k)
			}
			if ok && rule == onTheWay && math.Abs(s.LateralM) < stepSigmas*v.scatterM(on[k])*sidestep.OffByChance(at, k, k+strides) {
				ok = false
			}
			if ok && sidestep.CurveHolds(at, s, v.ownM(on[k])) {
				ok = false
			}
			if !ok && quick && near { // a slow step and a kink bend a curve alike
				s, ok = sidestep.InBend(at, k, k+strides, v.ownM(on[k]))
			}
			if !ok && strides == 1 {
				s, ok = sidestep.AtKink(at, k, v.scatterM(on[k]))
			}
			if !ok && strides == 1 {
				s, ok = v.acrossHole(on[:k+1], on[k+1:])
				s.Before, s.After = k, k+1
			}
			if !ok || math.Abs(s.LateralM) < stepOverOwn*v.scatterM(on[k]) || !quick && math.Abs(s.LateralM) > sidestep.BesideLinesM {
				continue
			}
			out = append(out, s)
			k = s.After
			break
		}
	}
	return out
}
