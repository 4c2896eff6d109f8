package guard

import (
	"math"

	"loamline.example/trace/remark"
)

const (
	// bentTurn is a turn between neighbouring readings that a straight line read
	// well does not show; straightTurn is less than that.
	bentTurn, straightTurn = 10 * math.Pi / 180, 6 * math.Pi / 180
	// reportedM is how far off the line a bend may lie before it is told.
	reportedM = 1.0
	// fewReadings over more than fewSpacingM each are no more than a guess.
	fewReadings, fewSpacingM = 3, 5.0
	// wideM is how far apart readings may be before it is told that a bend between
	// them would not show.
	wideM = 15.0
)

// sparse finds bends that lie between readings too far apart to tell where. A
// bend between two legs that three readings each lie on is where the legs meet;
// any other may lie off the line by about a quarter of the spacing times the
// tangent of half the turn (a corner at either reading, or an arc between them).
func (v *view) sparse() []Breach {
	var out []Breach
	for part := range v.parts {
		on := v.onPart(part)
		if n := len(on); n > 1 && n <= fewReadings && v.spacing[part] > fewSpacingM {
			p := v.parts[part]
			out = append(out, Breach{Kind: Sparse, FromM: p.FromM(), ToM: p.ToM(), BandM: v.spacing[part] / 4,
				Remark: remark.FewReadings{N: n, OverM: p.ToM() - p.FromM()}})
			continue
		}
		out = append(out, v.sparseBends(on)...)
		out = append(out, v.wide(on)...)
	}
	return out
}

// onPart lists the used readings on a part by station, one for each place.
func (v *view) onPart(part int) []int {
	var on []int
	for _, i := range v.byPlace {
		if v.feet[i].part != part {
			continue
		}
		if n := len(on); n > 0 && v.Readings[i].Pos.Dist(v.Readings[on[n-1]].Pos) < 3*v.ownM(i) {
			continue
		}
		on = append(on, i)
	}
	return on
}

// wide finds stretches whose readings are so far apart that a bend between two of
// them would not show, however straight they lie.
func (v *view) wide(on []int) []Breach {
	var out []Breach
	for k := 1; k < len(on); k++ {
		from, to := v.feet[on[k-1]].stationM, v.feet[on[k]].stationM
		if to-from <= wideM {
			continue
		}
		if n := len(out) - 1; n >= 0 && from <= out[n].ToM+0.01 {
			if to-from > out[n].SeparationM {
				out[n].Remark, out[n].SeparationM = remark.WideSpacing{ApartM: to - from}, to-from
			}
			out[n].ToM = to
			continue
		}
		out = append(out, Breach{Kind: Sparse, FromM: from, ToM: to, SeparationM: to - from, Remark: remark.WideSpacing{ApartM: to - from}})
	}
	return out
}

func (v *view) sparseBends(on []int) []Breach {
	turn := make([]float64, len(on))
	for k := 1; k+1 < len(on); k++ {
		turn[k] = math.Abs(v.turn(on[k-1], on[k], on[k+1]))
	}
	// straight reports whether a leg of three readings ends at k, coming from the
	// side that dir points away from.
	straight := func(k, dir int) bool {
		m := k - dir
		return m > 0 && m < len(on)-1 && turn[m] < straightTurn
	}
	var out []Breach
	for k := 0; k+1 < len(on); k++ {
		bend := math.Max(turn[k], turn[k+1])
		if bend < bentTurn || straight(k, 1) && straight(k+1, -1) {
			continue
		}
		spacing := v.Readings[on[k]].Pos.Dist(v.Readings[on[k+1]].Pos)
		off := spacing / 4 * math.Tan(math.Min(bend, math.Pi/2)/2)
		if off < math.Max(reportedM, 3*v.ownM(on[k])) {
			continue
		}
		from, to := v.feet[on[k]].stationM, v.feet[on[k+1]].stationM
		if n := len(out) - 1; n >= 0 && from <= out[n].ToM+0.01 {
			out[n].ToM, out[n].BandM = to, math.Max(out[n].BandM, off)
			continue
		}
		out = append(out, Breach{Kind: Sparse, FromM: from, ToM: to, BandM: off})
	}
	for k := range out {
		out[k].Remark = remark.BendUntold{OffM: out[k].BandM}
	}
	return out
}
