package guard

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// What passes are, and when they do not agree. Judgement.
const (
	// A walk that goes back by turnedM, or by turnedSteps of its steps, is a new pass.
	turnedM, turnedSteps = 5.0, 3.0
	// Passes are compared over windowM, or windowSteps steps, where each has at least
	// passReadings.
	windowM, windowSteps, passReadings = 6.0, 5.0, 3
	// apartSigmas times a reading's own error, and at least leastApartM, passes are
	// apart that do not agree.
	apartSigmas, leastApartM = 4.0, 0.15
	// Passes no farther apart than oneFixM are apart by what a fix or a leaning pole has
	// wrong throughout; farther apart they are two lines.
	oneFixM = 1.5
)

// passes finds stretches that were walked more than once, where each pass agrees
// with itself and not with the other: two lines, two legs of one, or an error that
// a whole pass has in common. The band must hold both.
func (v *view) passes() []Breach {
	var out []Breach
	pass, overAll := v.passOf(), v.byPart(v.overLine())
	for part := range v.parts {
		p, over := v.parts[part], overAll[part]
		window := math.Max(windowM, windowSteps*v.spacing[part])
		twiceM := 0.0 // walked by passes that lie apart
		first := len(out)
		bins := make([]map[int]*meanOff, int((p.ToM()-p.FromM())/window)+1)
		went := map[int][2]float64{}
		for _, i := range over { // in the order of their stations
			if s, ok := went[pass[i]]; ok {
				went[pass[i]] = [2]float64{s[0], v.feet[i].stationM}
			} else {
				went[pass[i]] = [2]float64{v.feet[i].stationM, v.feet[i].stationM}
			}
			if v.feet[i].beyond {
				continue
			}
			k := min(len(bins)-1, int((v.feet[i].stationM-p.FromM())/window))
			if bins[k] == nil {
				bins[k] = map[int]*meanOff{}
			}
			m := bins[k][pass[i]]
			if m == nil {
				m = &meanOff{}
				bins[k][pass[i]] = m
			}
			m.add(v.feet[i].offsetM, v.ownM(i))
		}
		for k, b := range bins {
			apart := apartIn(b)
			if apart == 0 {
				continue
			}
			from, to := p.FromM()+float64(k)*window, math.Min(p.ToM(), p.FromM()+float64(k+1)*window)
			twiceM += to - from
			if apart < oneFixM {
				from, to = allOf(b, went, from, to)
			}
			if n := len(out) - 1; n >= 0 && from <= out[n].ToM+window+1e-9 && out[n].FromM >= p.FromM() {
				out[n].FromM, out[n].ToM = math.Min(out[n].FromM, from), math.Max(out[n].ToM, to)
				out[n].BandM = math.Max(out[n].BandM, apart)
				continue
			}
			out = append(out, Breach{Kind: Passes, FromM: from, ToM: to, BandM: apart})
		}
		for k := first; k < len(out); k++ {
			out[k].Remark = remark.PassesApart{ApartM: out[k].BandM, InPart: out[k].ToM-out[k].FromM > twiceM+2*window}
		}
	}
	return out
}

// allOf is all that the passes of a window went over, by the stations from and to which each
// went: which of them is wrong nobody knows, and an error that one of them has throughout is
// the line's as well where it went alone.
func allOf(b map[int]*meanOff, went map[int][2]float64, from, to float64) (float64, float64) {
	for pass, m := range b {
		if m.n >= passReadings {
			from, to = math.Min(from, went[pass][0]), math.Max(to, went[pass][1])
		}
	}
	return from, to
}

// overLine are the readings taken over the line, by place: also those set aside for
// where they lie, as a whole pass may be that another outvoted.
func (v *view) overLine() []int {
	return v.sorted(func(r *trace.Reading) bool { return r.Status == trace.StatusUsed || r.Outlier() })
}

// meanOff gathers the offsets of one pass in one window.
type meanOff struct {
	n              int
	sum, sum2, own float64
}

func (m *meanOff) add(offM, ownM float64) {
	m.n++
	m.sum, m.sum2, m.own = m.sum+offM, m.sum2+offM*offM, math.Max(m.own, ownM)
}

// apartIn is how far apart passes lie in a window that each agree with themselves,
// 0 where they do not lie apart.
func apartIn(b map[int]*meanOff) float64 {
	least, most, limit := math.Inf(1), math.Inf(-1), leastApartM
	for _, m := range b {
		mean := m.sum / float64(m.n)
		if m.n < passReadings || math.Sqrt(math.Max(0, m.sum2/float64(m.n)-mean*mean)) > 2*m.own {
			continue
		}
		least, most, limit = math.Min(least, mean), math.Max(most, mean), math.Max(limit, apartSigmas*m.own)
	}
	if most-least > limit {
		return most - least
	}
	return 0
}

// passOf numbers the passes of the walk, by reading.
func (v *view) passOf() []int {
	out := make([]int, len(v.Readings))
	now, dir := 0, 0.0
	far, last, begun := 0.0, place{part: -1}, false
	var sinceFar []int
	for _, i := range v.order {
		f := v.feet[i]
		if r := &v.Readings[i]; r.Status != trace.StatusUsed && !r.Outlier() || f.part < 0 {
			out[i] = now
			continue
		}
		limit := math.Max(turnedM, turnedSteps*v.spacing[f.part])
		switch {
		case !begun || f.part != last.part || math.Abs(f.stationM-last.stationM) > 2*limit:
			if begun {
				now++
			}
			begun, dir, far, sinceFar = true, 0, f.stationM, nil
		case dir == 0:
			if d := f.stationM - far; math.Abs(d) > limit/2 {
				dir, far, sinceFar = math.Copysign(1, d), f.stationM, nil
			}
		case (f.stationM-far)*dir > 0:
			far, sinceFar = f.stationM, nil
		case (far-f.stationM)*dir > limit:
			now, dir, far = now+1, -dir, f.stationM
			for _, back := range sinceFar { // it turned there
				out[back] = now
			}
			sinceFar = nil
		default:
			sinceFar = append(sinceFar, i)
		}
		last = f
		out[i] = now
	}
	return out
}
