package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/remark"
)

// A line is laid straight or round a bend, and a receiver that is not held over the
// peak strays to one side and then to the other, some decimetres over some metres. Where
// what is drawn does the like, nothing tells a cable laid by eye from such a walk. The figures
// are judgement.
const (
	// leastTurn to the other side ends a bow, mostTurn and mostBowM bound one: what turns
	// or lies farther off its chord than that was laid so.
	leastTurn, mostTurn = 1.5 * math.Pi / 180, 20 * math.Pi / 180
	leastBowM, mostBowM = 0.04, 0.6
	mostBowLengthM      = 40.0
	// weaveBows of them, next to others, are a weave: no fitting bends a line gently to
	// one side, to the other and back.
	weaveBows = 3
	// bowChordM, or two readings' spacing, is what a heading is taken over.
	bowChordM, bowStepM = 3.0, 0.5
)

// bow is a stretch of the drawn line that turns to one side, with how far it lies off
// its chord.
type bow struct {
	fromM, toM, turn, offM float64
}

// weaves asks the band to hold the straighter course too, where the drawn line bows to
// one side and the other again and again.
func (v *view) weaves() []Breach {
	var out []Breach
	for part := range v.parts {
		var woven [][]bow
		var offs []float64
		for _, bows := range v.bows(part) {
			if len(bows) < 2 {
				continue
			}
			woven = append(woven, bows)
			for _, b := range bows {
				offs = append(offs, b.offM)
			}
		}
		if len(offs) < weaveBows {
			continue
		}
		slices.Sort(offs)
		out = append(out, v.woven(part, woven, offs)...)
	}
	return out
}

// woven are what the band must hold of a part's bows: on each as much as the widest of it
// and those beside it, elsewhere the median one, for there the receiver strayed as well
// and the line was drawn between.
func (v *view) woven(part int, woven [][]bow, sortedM []float64) []Breach {
	usual, widest := sortedM[len(sortedM)/2], sortedM[len(sortedM)-1]
	p := v.parts[part]
	out := []Breach{{Kind: Between, FromM: p.FromM(), ToM: p.ToM(), BandM: usual,
		Remark: remark.Weaves{Bows: len(sortedM), OffM: widest}}}
	held := true
	for _, bows := range woven {
		for k, b := range bows {
			off := b.offM
			for _, beside := range bows[max(0, k-1):min(len(bows), k+2)] {
				off = math.Max(off, beside.offM)
			}
			band := v.bandAt(part, (b.fromM+b.toM)/2)
			held = held && off <= band
			out = append(out, Breach{Kind: Between, FromM: b.fromM, ToM: b.toM, BandM: math.Hypot(off, band)})
		}
	}
	if held {
		return nil
	}
	return out
}

// bows are the runs of bows of a part's legs, between corners and wider turns.
func (v *view) bows(part int) [][]bow {
	p := v.parts[part]
	from, vs := p.FromM(), p.Vertices
	var out [][]bow
	for k := 1; k+1 < len(vs); k++ {
		if vs[k].Corner && turnOf(vs[k-1].Pos, vs[k].Pos, vs[k+1].Pos) > sharpCorner {
			out = append(out, v.bowsOn(part, from, vs[k].StationM)...)
			from = vs[k].StationM
		}
	}
	return append(out, v.bowsOn(part, from, p.ToM())...)
}

// bowsOn are the runs of bows of a leg.
func (v *view) bowsOn(part int, fromM, toM float64) [][]bow {
	chord := math.Max(bowChordM, 2*v.spacing[part])
	heading := v.headings(part, fromM+chord/2, toM-chord/2, chord)
	ends := extremes(heading, leastTurn)
	station := func(k int) float64 {
		switch k {
		case 0:
			return fromM
		case len(ends) - 1:
			return toM
		}
		return fromM + chord/2 + float64(ends[k])*bowStepM
	}
	var out [][]bow
	var run []bow
	for k := 0; k+1 < len(ends); k++ {
		b := bow{fromM: station(k), toM: station(k + 1), turn: heading[ends[k+1]] - heading[ends[k]]}
		b.offM = v.offChord(part, b.fromM, b.toM)
		if math.Abs(b.turn) <= mostTurn && b.toM-b.fromM <= mostBowLengthM && b.offM >= leastBowM && b.offM <= mostBowM {
			run = append(run, b)
			continue
		}
		out, run = append(out, run), nil
	}
	return append(out, run)
}

// headings are the directions of chords of the drawn line about stations, every
// bowStepM, without jumps by a whole turn.
func (v *view) headings(part int, fromM, toM, chordM float64) []float64 {
	var out []float64
	for s := fromM; s <= toM; s += bowStepM {
		d := v.at(part, s+chordM/2).Sub(v.at(part, s-chordM/2))
		h := math.Atan2(d.Y, d.X)
		if n := len(out); n > 0 {
			h = out[n-1] + math.Remainder(h-out[n-1], 2*math.Pi)
		}
		out = append(out, h)
	}
	return out
}

// extremes are where values turn back by least or more, with the last one.
func extremes(values []float64, least float64) []int {
	var out []int
	low, high, up, down := 0, 0, false, false
	for i, x := range values {
		if x < values[low] {
			low = i
		}
		if x > values[high] {
			high = i
		}
		switch {
		case !up && x-values[low] >= least:
			out = append(out, low)
			up, down, high = true, false, i
		case !down && values[high]-x >= least:
			out = append(out, high)
			up, down, low = false, true, i
		}
	}
	switch {
	case up:
		out = append(out, high)
	case down:
		out = append(out, low)
	}
	return out
}

// offChord is how far the drawn line lies off the chord between two stations.
func (v *view) offChord(part int, fromM, toM float64) float64 {
	chord := geo.NewPolyline([]geo.XY{v.at(part, fromM), v.at(part, toM)})
	off := 0.0
	for s := fromM; s < toM; s += bowStepM {
		off = math.Max(off, math.Abs(chord.Nearest(v.at(part, s)).OffsetM))
	}
	return off
}

// at is the place of a part at a station.
func (v *view) at(part int, stationM float64) geo.XY {
	return v.parts[part].line.At(stationM - v.parts[part].FromM())
}
