package guard

import (
	"math"

	"loamline.example/trace/remark"
)

// What readings far apart may hide. Judgement.
const (
	// bentTurn is a turn between neighbouring readings that a straight line read
	// well does not show; straightTurn is less than that.
	bentTurn, straightTurn = 10 * math.Pi / 180, 6 * math.Pi / 180
	// reportedM is how far off the line a bend may lie before it is told.
	reportedM = 1.0
	// A bend of sharpBend that stands alone and may lie heldM off the line is in the band.
	sharpBend, heldM = 25 * math.Pi / 180, 0.1
	// Legs that run back within turnedBack of each other do not meet, and where they are
	// joined is not told by readings turnedStrides strides apart.
	turnedBack, turnedStrides = 150 * math.Pi / 180, 1.5
	// fewReadings over more than fewSpacingM each are no more than a guess, and so are two
	// alone from pairM on: a square corner between them lies up to half of that off the way.
	fewReadings, fewSpacingM = 3, 5.0
	pairM                    = 2 * reportedM
	// wideM is how far apart readings may be before it is told that a bend between
	// them would not show.
	wideM = 15.0
)

// sparse finds bends that lie between readings too far apart to tell where. A
// bend between two legs that three readings each lie on is where the legs meet;
// any other may lie off the line by about a quarter of the spacing times the
// tangent of half the turn (a corner at either reading, or an arc between them). Legs
// that run back beside each other meet nowhere.
func (v *view) sparse() []Breach {
	var out []Breach
	for part := range v.parts {
		on, p := v.onPart(part, 3, 0), v.parts[part]
		n, apartM := len(on), v.spacing[part]
		if places := len(v.onPart(part, 0, samePlaceM)); places <= fewReadings { // however often they were read
			n, apartM = min(n, places), (p.ToM()-p.FromM())/math.Max(1, float64(places-1))
		}
		if n > 1 && n <= fewReadings && apartM > fewSpacingM || n == 2 && len(v.parts) == 1 && apartM > pairM {
			out = append(out, Breach{Kind: Sparse, FromM: p.FromM(), ToM: p.ToM(), BandM: apartM / 4,
				Remark: remark.FewReadings{N: n, OverM: p.ToM() - p.FromM()}})
			continue
		}
		out = append(out, v.sparseBends(on)...)
		out = append(out, v.wide(on)...)
	}
	return out
}

// onPart lists the used readings on a part by station, one of those within so many errors and metres.
func (v *view) onPart(part int, times, plusM float64) []int {
	var on []int
	for _, i := range v.usedOn(part) {
		if n := len(on); n > 0 && v.Readings[i].Pos.Dist(v.Readings[on[n-1]].Pos) < times*v.ownM(i)+plusM {
			continue
		}
		on = append(on, i)
	}
	return on
}

// joinedM is how far apart two stretches may be that are one: stations are told to the
// centimetre. Judgement.
const joinedM = 0.01

// wide finds stretches whose readings are so far apart that a bend between two of
// them would not show, however straight they lie.
func (v *view) wide(on []int) []Breach {
	var out []Breach
	for k := 1; k < len(on); k++ {
		from, to := v.feet[on[k-1]].stationM, v.feet[on[k]].stationM
		if to-from <= wideM {
			continue
		}
		if n := len(out) - 1; n >= 0 && from <= out[n].ToM+joinedM {
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
	turn := make([]float64, len(on)) // signed
	for k := 1; k+1 < len(on); k++ {
		turn[k] = v.turn(on[k-1], on[k], on[k+1])
	}
	// straight reports whether a leg of three readings ends at k, coming from the
	// side that dir points away from.
	straight := func(k, dir int) bool {
		m := k - dir
		return m > 0 && m < len(on)-1 && math.Abs(turn[m]) < straightTurn
	}
	var out, narrow []Breach
	for k := 0; k+1 < len(on); k++ {
		spacing := v.Readings[on[k]].Pos.Dist(v.Readings[on[k+1]].Pos)
		a, b := math.Abs(turn[k]), math.Abs(turn[k+1])
		bend := math.Max(a, b)
		if turn[k]*turn[k+1] > 0 {
			bend = a + b // one bend between them shows at both
		}
		if math.Max(a, b) < bentTurn {
			continue
		}
		off := spacing / 4 * math.Tan(math.Min(bend, math.Pi/2)/2)
		if straight(k, 1) && straight(k+1, -1) {
			if bend < turnedBack || spacing < turnedStrides*v.spacing[v.feet[on[k]].part] {
				continue
			}
			off = math.Max(spacing/2, reportedM) // legs that run back do not meet
		}
		from, to := v.feet[on[k]].stationM, v.feet[on[k+1]].stationM
		lone := bend > sharpBend && alone(turn, k, bend)
		if lone { // what is drawn through fewer than three places of a leg is as loose there
			if !straight(k, 1) {
				from = v.feet[on[max(0, k-1)]].stationM
			}
			if !straight(k+1, -1) {
				to = v.feet[on[min(len(on)-1, k+2)]].stationM
			}
		}
		if off < math.Max(reportedM, 3*v.ownM(on[k])) {
			if lone && off > math.Max(heldM, 3*v.ownM(on[k])) {
				narrow = append(narrow, Breach{Kind: Between, FromM: from, ToM: to, BandM: off})
			}
			continue
		}
		if n := len(out) - 1; n >= 0 && from <= out[n].ToM+joinedM {
			out[n].ToM, out[n].BandM = to, math.Max(out[n].BandM, off)
			continue
		}
		out = append(out, Breach{Kind: Sparse, FromM: from, ToM: to, BandM: off})
	}
	for k := range out {
		out[k].Remark = remark.BendBetween{OffM: out[k].BandM}
	}
	return append(out, narrow...)
}

// alone reports whether the bend between the k-th place and the next stands alone: on a
// curve the places before and behind turn as well.
func alone(turn []float64, k int, bend float64) bool {
	return (k == 0 || math.Abs(turn[k-1]) < bend/4) && (k+2 >= len(turn) || math.Abs(turn[k+2]) < bend/4)
}
