package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/branch"
	"loamline.example/trace/remark"
)

// When a line runs beside itself. Judgement.
const (
	// A line that runs besideM or less from itself, within turnedBy of parallel, for
	// longBesideM runs beside itself.
	besideItselfM = 2.5
	turnedBy      = 15 * math.Pi / 180
	longBesideM   = 4.0
	// sampleM is how densely the line is sampled.
	sampleM = 1.0
)

// sample is a place of the line.
type sample struct {
	at       geo.XY
	dir      geo.XY
	stationM float64
}

// beside finds stretches where the line as drawn runs beside itself. A line that
// turns back does that, and so does a walk there and back over one line.
func (v *view) beside() []Breach {
	ss, joints := v.samples(), v.joints()
	type cell [2]int
	at := func(p geo.XY) cell {
		return cell{int(math.Floor(p.X / besideItselfM)), int(math.Floor(p.Y / besideItselfM))}
	}
	grid := map[cell][]int{}
	for k, s := range ss {
		grid[at(s.at)] = append(grid[at(s.at)], k)
	}
	var out []Breach
	open := false
	for k, s := range ss {
		near := math.Inf(1)
		if slices.ContainsFunc(joints, func(p geo.XY) bool { return p.Dist(s.at) < 2*besideItselfM }) {
			continue // where parts meet they lie beside each other
		}
		c := at(s.at)
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, m := range grid[cell{c[0] + dx, c[1] + dy}] {
					near = min(near, besideAt(s, ss[m]))
				}
			}
		}
		switch {
		case math.IsInf(near, 1):
			open = false
		case open && s.stationM-out[len(out)-1].ToM < 2*sampleM:
			b := &out[len(out)-1]
			b.ToM, b.SeparationM = s.stationM, max(b.SeparationM, near)
		default:
			out, open = append(out, Breach{Kind: Passes, FromM: ss[k].stationM, ToM: s.stationM, SeparationM: near}), true
		}
	}
	kept := out[:0]
	for _, b := range out {
		if b.ToM-b.FromM >= longBesideM {
			b.Remark = remark.BesideItself{ApartM: b.SeparationM}
			kept = append(kept, b)
		}
	}
	return kept
}

// besideAt is how far one place of the line is from another that runs along it,
// Inf where the two are neighbours on the line or cross.
func besideAt(a, b sample) float64 {
	d := a.at.Dist(b.at)
	if d > besideItselfM || math.Abs(a.stationM-b.stationM) < max(3*besideItselfM, math.Pi*d) {
		return math.Inf(1)
	}
	turn := math.Abs(math.Atan2(a.dir.Cross(b.dir), a.dir.Dot(b.dir)))
	if min(turn, math.Pi-turn) > turnedBy {
		return math.Inf(1)
	}
	return d
}

// joints are the places where parts meet.
func (v *view) joints() []geo.XY {
	var out []geo.XY
	line := v.Centerline.Polyline()
	for _, j := range branch.Joints(v.Centerline) {
		out = append(out, line.At(j.OnM))
	}
	return out
}

// samples walks over the drawn parts.
func (v *view) samples() []sample {
	var out []sample
	for _, p := range v.parts {
		for s := 0.0; s < p.line.Length(); s += sampleM {
			out = append(out, sample{p.line.At(s), p.line.Direction(s), p.FromM() + s})
		}
	}
	return out
}
