package setupchange

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/leastsquares"
	"loamline.example/trace/remark"
	"loamline.example/trace/setups"
)

// What makes a change of the set-up doubtful. All judgement.
const (
	// The course on either side of a change is told by the readings within courseM of
	// it, leastOn at least.
	courseM = 6.0
	leastOn = 3
	// comparedM is how far from a change readings of the other set-up show that the two
	// were compared, comparedOn of them.
	comparedM  = 10.0
	comparedOn = 2
	// leastTurnRad is a bend that no walk makes along a straight line, sureTurn how many
	// times its own error (one sigma) it is at the least.
	leastTurnRad = 6 * math.Pi / 180
	sureTurn     = 3.0
	// A course that turns half as much just before a change, or just behind it, is a curve.
	curveShare = 0.5
	// leastOffM is by how much a place is off a straight course at the least, one sigma.
	leastOffM = 0.02
	// A set-up that changes more than mostChanges times on a line is changed on purpose, to
	// compare.
	mostChanges = 50
)

// sure is how sure it is with a hookup that the line which is meant is heard: the higher
// the less (common practice, no source).
var sure = map[trace.Hookup]int{trace.HookupDirect: 1, trace.HookupClamp: 2, trace.HookupInduction: 3, trace.HookupPassive: 4}

// spot is a reading that a line runs through.
type spot struct {
	pos      geo.XY
	stationM float64
	setup    setups.Setup
}

// Doubts are the stretches of a drawn line that were read with another set-up than what
// comes before them, or after them, where it bends at the change.
func Doubts(l *trace.Line) (found []trace.Finding) {
	if l.Centerline == nil {
		return nil
	}
	told, aside := inOrder(l.Readings)
	if changes := changing(told); changes == 0 || changes > mostChanges {
		return nil
	}
	for _, p := range l.Centerline.Parts {
		on := told[atStation(told, p.FromM()):]
		on = on[:atStation(on, math.Nextafter(p.ToM(), math.Inf(1)))]
		for i := leastOn; i+leastOn <= len(on); i++ {
			if on[i].setup.Same(on[i-1].setup) || compared(on, aside, i) || !bends(on, i) {
				continue
			}
			found = append(found, doubt(l, on, i))
		}
	}
	return found
}

// changing is how often the set-up changes.
func changing(on []spot) (n int) {
	for i := 1; i < len(on); i++ {
		if !on[i].setup.Same(on[i-1].setup) {
			n++
		}
	}
	return n
}

// atStation is the first spot at a station or behind it.
func atStation(on []spot, stationM float64) int {
	return sort.Search(len(on), func(i int) bool { return on[i].stationM >= stationM })
}

// inOrder are the readings that a line runs through, in the order of their stations, with
// their set-ups. Apart from them those that were set aside.
func inOrder(rs []trace.Reading) (out, aside []spot) {
	walk := make([]int, len(rs))
	for i := range walk {
		walk[i] = i
	}
	slices.SortStableFunc(walk, func(a, b int) int {
		return cmp.Or(cmp.Compare(rs[a].File, rs[b].File), cmp.Compare(rs[a].Row, rs[b].Row))
	})
	of := setups.Of(rs)
	for _, i := range walk {
		switch r := &rs[i]; {
		case !r.Placed():
		case r.Status == trace.StatusUsed && trace.Known(r.StationM):
			out = append(out, spot{r.Pos, r.StationM, of[i]})
		case r.Outlier():
			aside = append(aside, spot{r.Pos, trace.Unknown, of[i]})
		}
	}
	slices.SortStableFunc(out, func(a, b spot) int { return cmp.Compare(a.stationM, b.stationM) })
	return out, aside
}

// compared reports whether both set-ups were heard beside each other about a change: each
// side's alone within its reach, but for what comes and goes. What was set aside was heard.
func compared(on, aside []spot, i int) bool {
	strays := 0
	for _, s := range aside {
		if s.pos.Dist(on[i].pos) > comparedM {
			continue
		}
		k := 0 // the reading of the line that it lies by
		for j := range on {
			if on[j].pos.Dist(s.pos) < on[k].pos.Dist(s.pos) {
				k = j
			}
		}
		if k < i-1 && s.setup.Same(on[i].setup) || k > i && s.setup.Same(on[i-1].setup) {
			strays++
		}
	}
	for k, s := range on {
		near := math.Abs(s.stationM-on[i].stationM) <= comparedM || k >= i-leastOn && k < i+leastOn
		if near && !s.setup.Same(on[i-1].setup) == (k < i) {
			strays++
		}
	}
	return strays >= comparedOn || !on[i-2].setup.Same(on[i-1].setup) || !on[i+1].setup.Same(on[i].setup)
}

// bends reports whether the course bends at a change, or a reading before it or behind it,
// and is straighter on both sides.
func bends(on []spot, i int) bool {
	for _, k := range []int{i, i - 1, i + 1} {
		turn, sigma, n := turnAt(on, k)
		if !(math.Abs(turn) >= leastTurnRad && math.Abs(turn) >= sureTurn*sigma) {
			continue
		}
		curve := false
		for _, beside := range []int{k - n, k + n} {
			if t, _, ok := turnAt(on, beside); ok > 0 && t/turn >= curveShare {
				curve = true
			}
		}
		if !curve {
			return true
		}
	}
	return false
}

// turnAt is by how much the course turns from the readings before one to it and those
// behind it, with its error, one sigma; n is how many tell it on the side that has more of
// them, 0 where they do not.
func turnAt(on []spot, i int) (rad, sigma float64, n int) {
	if i < leastOn || i+leastOn > len(on) {
		return trace.Unknown, trace.Unknown, 0
	}
	from, to := i-leastOn, i+leastOn
	for from > 0 && on[i-1].stationM-on[from-1].stationM <= courseM {
		from--
	}
	for to < len(on) && on[to].stationM-on[i].stationM <= courseM {
		to++
	}
	a, offA, alongA := course(on[from:i])
	b, offB, alongB := course(on[i:to])
	off := math.Sqrt((offA + offB) / float64(to-from-4)) // derived: two straight lines take two figures each
	off = math.Max(off, leastOffM)
	return math.Atan2(a.Cross(b), a.Dot(b)), off * math.Sqrt(1/alongA+1/alongB), max(i-from, to-i)
}

// course is the direction in which places run, with the squares of how far off it they lie
// and how far along it from their middle.
func course(on []spot) (dir geo.XY, off2, along2 float64) {
	at := make([]geo.XY, len(on))
	for i, s := range on {
		at[i] = s.pos
	}
	mid, dir := leastsquares.Straight(at)
	for _, p := range at {
		d := p.Sub(mid)
		off2 += d.Cross(dir) * d.Cross(dir)
		along2 += d.Dot(dir) * d.Dot(dir)
	}
	return dir, off2, along2
}

// doubt is that on one side of a change another line may have been heard: behind it, or
// before it where the signal is less sure there.
func doubt(l *trace.Line, on []spot, i int) finding.Doubt {
	was, now := on[i-1].setup, on[i].setup
	before := sure[was.Hookup] > sure[now.Hookup] && now.Hookup != ""
	first, last := i-1, i
	if before {
		for first > 0 && on[first-1].setup.Same(was) {
			first--
		}
	} else {
		for last+1 < len(on) && on[last+1].setup.Same(now) {
			last++
		}
	}
	why := remark.SetupChanged{Before: before, Was: was.Hookup, Now: now.Hookup, WasHz: trace.Unknown, NowHz: trace.Unknown}
	if was.Hookup == now.Hookup {
		why.Was, why.Now = "", ""
	}
	if h := (setups.Setup{Hookup: was.Hookup, FreqHz: now.FreqHz}); !h.Same(was) {
		why.WasHz, why.NowHz = was.FreqHz, now.FreqHz
	}
	from, to, path := l.Centerline.Stretch(on[first].stationM, on[last].stationM)
	return finding.Doubt{Line: l.Setup.Name, FromM: from, ToM: to, Path: path, Why: why}
}
