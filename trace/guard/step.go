package guard

import (
	"math"
	"slices"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// What tells a lateral step. Judgement.
const (
	// runPlaces on either side of a lateral step make the runs that it parts; they
	// are parallel within parallel, and straight to straightShare of the step.
	runPlaces     = 4
	parallel      = 6 * math.Pi / 180
	straightShare = 0.15
	// A step is leastStepM to mostStepM wide and is taken within quickSteps strides;
	// one of up to besideLinesM, as far as lines in one street lie apart, may take as
	// long as a neighbour's signal takes to outgrow the line's own, slowStepM.
	leastStepM, mostStepM   = 0.6, 5.0
	quickSteps              = 2
	besideLinesM, slowStepM = 3.0, 6.0
	// stepOverOwn is how many times a place's own error a step is wide at the least
	// (judgement).
	stepOverOwn = 6
	// longerSide is how many times longer the other side of a lone step must be for
	// the shorter one to be taken for the stretch that may lie elsewhere.
	longerSide = 2.0
	// backAlike is how many times wider one of two steps may be that lead there and
	// back: the courses need not be quite parallel (judgement).
	backAlike = 1.6
	// Behind a pause of pausedFor, and of pausedStrides usual ones, the fix is a new one: a
	// step of leastPausedM between runs straight to pausedShare of it is told then
	// (judgement).
	pausedFor                 = 10 * time.Minute
	pausedStrides             = 10
	leastPausedM, pausedShare = 0.15, 1.0 / 3
)

// offsetRule is what makes a lateral step of two runs: how wide it must be, and how straight
// they.
type offsetRule struct{ leastM, share float64 }

var onTheWay, behindPause = offsetRule{leastStepM, straightShare}, offsetRule{leastPausedM, pausedShare}

// lateralAt is what makes a step between two readings.
func (v *view) lateralAt(before, after int) offsetRule {
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
// where the times do not tell.
func (v *view) usualStrideTime() time.Duration {
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
	return d[len(d)/2]
}

// step is a place where the walk moves over to a parallel course.
type step struct {
	before, after int     // places, of those on the part
	lateralM      float64 // positive to the right
}

// undoneBy reports whether another step leads back: to the other side, and about as
// far. What goes over 2 m does not come back by the line's own offset of half of it.
func (s step) undoneBy(back step) bool {
	there, again := math.Abs(s.lateralM), math.Abs(back.lateralM)
	return back.lateralM*s.lateralM < 0 && math.Max(there, again) <= backAlike*math.Min(there, again)
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
// readings' places alone cannot tell which, so the bands hold both courses.
func (v *view) findSteps() []Breach {
	var out []Breach
	for part := range v.parts {
		on := v.onPart(part)
		found := v.stepsOn(on)
		for k := 0; k < len(found); k++ {
			s := found[k]
			p := v.parts[part]
			from, to := v.feet[on[s.before]].stationM, v.feet[on[s.after]].stationM
			width, lone := math.Abs(s.lateralM), false
			how := remark.LateralStep{LateralM: width, WithinM: to - from, BackAtM: trace.Unknown}
			if k+1 < len(found) && s.undoneBy(found[k+1]) {
				back := found[k+1]
				k++
				to = v.feet[on[back.after]].stationM
				width = math.Max(width, math.Abs(back.lateralM))
				how.BackAtM = v.feet[on[back.before]].stationM
			} else {
				if s, ok := v.suspectedNear(from, to); ok {
					how.Suspected = true
					from, to = math.Min(from, s.FromM), math.Max(to, s.ToM)
					out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: width + bandOver(found[k]), SeparationM: width, Remark: how})
					continue
				}
				lone = true
				before, after := shorterSides(from-p.FromM(), p.ToM()-to)
				if before {
					from = p.FromM()
				}
				if after {
					to = p.ToM()
				}
			}
			out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: width + bandOver(s), Whole: lone, SeparationM: width, Remark: how})
		}
	}
	return append(out, v.excursions(out)...)
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

// bandOver is what a step's width may be off: the runs' own scatter.
func bandOver(s step) float64 { return straightShare * math.Abs(s.lateralM) }

// stepsOn finds the steps among the places of a part, in travel order.
func (v *view) stepsOn(on []int) []step {
	at := make([]geo.XY, len(on))
	for k, i := range on {
		at[k] = v.Readings[i].Pos
	}
	var out []step
	for k := 2; k+3 < len(on); k++ {
		for usualStep := 1; k+usualStep+2 < len(on); usualStep++ {
			quick, near := usualStep <= quickSteps, at[k].Dist(at[k+usualStep]) <= slowStepM
			if !quick && !near {
				break
			}
			s, ok := stepBetween(at, k, k+usualStep, v.lateralAt(on[k], on[k+usualStep]))
			if ok && curvesThrough(at, k, k+usualStep, v.ownM(on[k])) {
				ok = false
			}
			if !ok && quick && near { // a slow step and a kink bend a curve alike
				s, ok = stepInBend(at, k, k+usualStep, v.ownM(on[k]))
			}
			if !ok && usualStep == 1 {
				s, ok = stepAtKink(at, k, math.Max(v.ownM(on[k]), v.whiteM))
			}
			if !ok || math.Abs(s.lateralM) < stepOverOwn*v.ownM(on[k]) || !quick && math.Abs(s.lateralM) > besideLinesM {
				continue
			}
			out = append(out, s)
			k = s.after
			break
		}
	}
	return out
}

// stepBetween tells whether the runs that end at one place and begin at another
// are straight, parallel and apart.
func stepBetween(at []geo.XY, before, after int, least offsetRule) (step, bool) {
	a, b := runsBeside(at, before, after)
	if len(a) < 3 || len(b) < 3 {
		return step{}, false
	}
	da, db := a[len(a)-1].Sub(a[0]), b[len(b)-1].Sub(b[0])
	if da.Norm() == 0 || db.Norm() == 0 || math.Abs(math.Atan2(da.Cross(db), da.Dot(db))) > parallel {
		return step{}, false
	}
	dir := da.Scale(1 / da.Norm()).Add(db.Scale(1 / db.Norm()))
	dir = dir.Scale(1 / dir.Norm())
	side := func(p geo.XY) float64 { return -dir.Cross(p.Sub(at[before])) }
	ma, sa := spread(a, side)
	mb, sb := spread(b, side)
	asideM := mb - ma
	if w := math.Abs(asideM); w < least.leastM || w > mostStepM || math.Max(sa, sb) > least.share*w {
		return step{}, false
	}
	return step{before, after, asideM}, true
}

// runsBeside are the places of the runs before and after a step: runPlaces of each, and
// those within the length of the way taken, over which their directions are carried on:
// where places lie close to each other, the scatter of four of them turns a straight line
// by degrees, and metres farther on that is a step. None where a slow step has runs
// shorter than itself.
func runsBeside(at []geo.XY, before, after int) (a, b []geo.XY) {
	wayM := at[before].Dist(at[after])
	from, to := max(0, before-runPlaces+1), min(len(at), after+runPlaces)
	for from > 0 && at[from].Dist(at[before]) < wayM {
		from--
	}
	for to < len(at) && at[to-1].Dist(at[after]) < wayM {
		to++
	}
	if after-before > quickSteps && math.Min(at[from].Dist(at[before]), at[to-1].Dist(at[after])) < wayM {
		return nil, nil
	}
	return at[from : before+1], at[after:to]
}

// spread is the mean of places' sides and how far the farthest is from it.
func spread(ps []geo.XY, side func(geo.XY) float64) (mean, farthest float64) {
	for _, p := range ps {
		mean += side(p) / float64(len(ps))
	}
	for _, p := range ps {
		farthest = math.Max(farthest, math.Abs(side(p)-mean))
	}
	return mean, farthest
}
