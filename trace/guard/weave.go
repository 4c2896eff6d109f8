package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/guard/weave"
	"loamline.example/trace/remark"
)

// weaveBows bows, next to others, are a weave: no fitting bends a line gently to one side, to
// the other and back. Where what is drawn does so, nothing tells a cable laid by eye from a
// walk beside the peak. Judgement.
const weaveBows = 3

// weaves asks the band to hold the straighter course too, where the drawn line bows to
// one side and the other again and again.
func (v *view) weaves() []Breach {
	var out []Breach
	for part := range v.parts {
		var woven [][]weave.Bow
		var offs []float64
		for _, bows := range v.bows(part) {
			if len(bows) < 2 {
				continue
			}
			woven = append(woven, bows)
			for _, b := range bows {
				offs = append(offs, b.OffM)
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
// and those beside it, elsewhere the median one, for there the receiver swayed as well
// and the line was drawn between.
func (v *view) woven(part int, woven [][]weave.Bow, sortedM []float64) []Breach {
	usual, widest := sortedM[len(sortedM)/2], sortedM[len(sortedM)-1]
	p := v.parts[part]
	out := []Breach{{Kind: Between, FromM: p.FromM(), ToM: p.ToM(), BandM: usual,
		Remark: remark.Weaves{Bows: len(sortedM), OffM: widest}}}
	held := true
	for _, bows := range woven {
		for k, b := range bows {
			off := b.OffM
			for _, beside := range bows[max(0, k-1):min(len(bows), k+2)] {
				off = math.Max(off, beside.OffM)
			}
			band := v.bandAt(part, (b.FromM+b.ToM)/2)
			held = held && off <= band
			out = append(out, Breach{Kind: Between, FromM: b.FromM, ToM: b.ToM, BandM: math.Hypot(off, band)})
		}
	}
	if held {
		return nil
	}
	return out
}

// bows are the runs of bows of a part's legs, between corners and wider turns.
func (v *view) bows(part int) [][]weave.Bow {
	p := v.parts[part]
	from, vs := p.FromM(), p.Vertices
	course := weave.Course(func(stationM float64) geo.XY { return v.at(part, stationM) })
	var out [][]weave.Bow
	for k := 1; k+1 < len(vs); k++ {
		if vs[k].Corner && turnOf(vs[k-1].Pos, vs[k].Pos, vs[k+1].Pos) > sharpCorner {
			out = append(out, course.Bows(from, vs[k].StationM, v.spacing[part])...)
			from = vs[k].StationM
		}
	}
	return append(out, course.Bows(from, p.ToM(), v.spacing[part])...)
}

// at is the place of a part at a station.
func (v *view) at(part int, stationM float64) geo.XY {
	return v.parts[part].line.At(stationM - v.parts[part].FromM())
}
