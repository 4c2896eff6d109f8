package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/ranked"
)

// When readings stand loose among tight ones. Judgement.
const (
	// looserBy is how many times the error of the better quarter readings must have that stand loose
	// among tight ones, such as under trees on a walk in the open.
	looserBy = 3.0
	// looseRun is how many of them are taken together.
	looseRun = 3
	// chordPlaces are where a chord is asked for: time.
	chordPlaces = 20
)

// looseBends asks the band to hold what loose readings alone say of a bend that lies
// among them. Tight readings before and behind tell where the legs of the bend lie, and
// not how it goes from one to the other; where both legs are one, they do.
func (v *view) looseBends() []Breach {
	if len(v.byPlace) == 0 {
		return nil
	}
	own := make([]float64, len(v.byPlace))
	for k, i := range v.byPlace {
		own[k] = v.ownM(i)
	}
	loose := looserBy * ranked.At(slices.Clone(own), len(own)/4)
	var out []Breach
	for from := 0; from < len(own); from++ {
		to, part := from, v.feet[v.byPlace[from]].part
		for to < len(own) && own[to] > loose && v.feet[v.byPlace[to]].part == part {
			to++
		}
		if to == from {
			continue
		}
		a, b := v.parts[part].FromM(), v.parts[part].ToM()
		if from > 0 && v.feet[v.byPlace[from-1]].part == part {
			a = v.feet[v.byPlace[from-1]].stationM
		}
		if to < len(own) && v.feet[v.byPlace[to]].part == part {
			b = v.feet[v.byPlace[to]].stationM
		}
		if v.turnsBetween(part, a, b) > bentTurn || v.leavesChord(part, a, b) {
			out = append(out, Breach{Kind: Between, FromM: a, ToM: b, BandM: v.looselyHeld(from, to, own)})
		}
		from = to - 1
	}
	return out
}

// looselyHeld is the half-width that holds the mean of any few loose readings next to
// each other, with its own error.
func (v *view) looselyHeld(from, to int, own []float64) float64 {
	n, most := min(looseRun, to-from), 0.0
	for k := from; k+n <= to; k++ {
		sum, worst := 0.0, 0.0
		for m := k; m < k+n; m++ {
			sum, worst = sum+v.feet[v.byPlace[m]].offsetM, math.Max(worst, own[m])
		}
		most = math.Max(most, math.Abs(sum)/float64(n)+1.96*worst/math.Sqrt(float64(n)))
	}
	return most
}

// leavesChord reports whether the line drawn lies farther off the chord between two stations of a
// part than its band goes anywhere between: it bends there, be it by little or to and fro.
func (v *view) leavesChord(part int, from, to float64) bool {
	l, begin := v.parts[part].line, v.parts[part].FromM()
	chord := geo.NewPolyline([]geo.XY{l.At(from - begin), l.At(to - begin)})
	off, band := 0.0, 0.0
	for k := range chordPlaces {
		s := from + (to-from)*float64(k+1)/(chordPlaces+1)
		off, band = math.Max(off, math.Abs(chord.Nearest(l.At(s-begin)).OffsetM)), math.Max(band, v.bandAt(part, s))
	}
	return off > band
}

// turnsBetween is by how much the line drawn turns between two stations of a part.
func (v *view) turnsBetween(part int, from, to float64) float64 {
	l, begin := v.parts[part].line, v.parts[part].FromM()
	a, b := l.Direction(from-begin), l.Direction(to-begin)
	return math.Abs(math.Atan2(a.Cross(b), a.Dot(b)))
}
