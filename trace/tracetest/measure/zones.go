package measure

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"loamline.example/geo"
)

// zones counts how much of the true line lies in the zones drawn, over the
// length that the map claims to have traced.
func (b *bleedJudge) zones(fromM, toM float64) {
	if b.line.Centerline == nil {
		return
	}
	drawn := b.m.curve(b.line.Centerline)
	jumps := b.saidJumps()
	var outFrom, outTo, worst float64
	out := 0
	for st := fromM; st <= toM; st += everyM {
		p := b.truth.Path.At(st)
		d, isDrawn := drawn.distance(p)
		if !isDrawn {
			continue
		}
		if jumps.has(st) {
			b.score.NotTheLine++
			continue
		}
		q := b.m.sheet.Plane.XY(b.m.job.Plane.LonLat(p))
		b.score.Places++
		b.score.InTol += count(inside(b.line.Tolerance.Area, q))
		if inside(b.line.Caution.Area, q) {
			b.score.InCaution++
			continue
		}
		if out++; out == 1 {
			outFrom = st
		}
		outTo, worst = st, math.Max(worst, d)
	}
	if out > 0 {
		b.note("outside", outFrom, outTo, fmt.Sprintf("%d places outside the caution zone, up to %.2f m from the line drawn", out, worst))
	}
	b.score.cautionM2 += planar.Area(b.line.Caution.Area)
	b.score.tolM2 += planar.Area(b.line.Tolerance.Area)
	b.score.drawnM += b.line.Centerline.TracedM()
}

func inside(area orb.MultiPolygon, p geo.XY) bool {
	return planar.MultiPolygonContains(area, orb.Point{p.X, p.Y})
}

// stretches are intervals of the true line's stations.
type stretches [][2]float64

func (s stretches) has(stationM float64) bool {
	for _, x := range s {
		if stationM >= x[0] && stationM <= x[1] {
			return true
		}
	}
	return false
}

// saidJumps are the stretches where the map says that the trace lies on
// another line: there it does not claim to know where this one is.
func (b *bleedJudge) saidJumps() stretches {
	var out stretches
	for _, s := range b.suspects() {
		if s.Jump {
			out = append(out, [2]float64{s.fromM, s.toM})
		}
	}
	return out
}
