package fit

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// bent is a line of straights of 60 m and an arc between them, in steps of 0.25 m.
func bent(radiusM, turnRad float64) (vs []trace.Vertex, midM float64) {
	const step, straight = 0.25, 60.0
	p, heading := geo.XY{}, 0.0
	length := 2*straight + radiusM*math.Abs(turnRad)
	for s := 0.0; s <= length; s += step {
		vs = append(vs, trace.Vertex{Pos: p, StationM: s})
		if s >= straight && s < length-straight {
			heading += math.Copysign(step/radiusM, turnRad)
		}
		p = p.Add(geo.XY{X: math.Sin(heading), Y: math.Cos(heading)}.Scale(step))
	}
	return vs, length / 2
}

// What the bends of a line do to peak and null agrees with a search over the field of the
// whole wire by the law of Biot and Savart; heading turns to the right, so that outward is
// to the left.
func TestPullsAgainstTheWholeField(t *testing.T) {
	for _, c := range []struct {
		radiusM, turnDeg, depthM float64
	}{{20, 90, 1}, {20, -90, 1}, {10, 60, 0.8}, {6, 90, 1.2}, {40, 170, 2}, {5, 150, 1}, {1.5, 180, 0.8}} {
		vs, midM := bent(c.radiusM, c.turnDeg*math.Pi/180)
		own := newOwnField(vs, nil)
		for _, at := range []float64{midM, midM + 2*c.depthM} {
			found := own.pullAt(at, c.depthM)
			peak, null := found.offM(peakMarked), found.offM(nullMarked)
			leg := own.leg(at)
			over, dir := own.place(leg, at), own.dir(leg)
			right := geo.XY{X: dir.Y, Y: -dir.X}
			var w receiver.Wire
			w.CurrentA = 1
			for _, v := range vs {
				p := v.Pos.Sub(over)
				w.Points = append(w.Points, receiver.Point{X: p.Dot(right), Y: p.Dot(dir), Z: -c.depthM})
			}
			wantPeak := w.PeakM(receiver.Point{}, receiver.Point{X: 1}, c.depthM)
			wantNull, _ := w.Across(receiver.Point{}, receiver.Point{X: 1}, 0.5, 2*c.depthM)
			// Both are to first order in what the bend adds: a tenth of what they are, and what is cut off far away.
			if math.Abs(peak-wantPeak) > 0.2*math.Abs(wantPeak)+0.01*c.depthM {
				t.Errorf("%+v at %.1f m: peak %.4f m, searched for %.4f m", c, at-midM, peak, wantPeak)
			}
			if math.Abs(null-wantNull) > 0.2*math.Abs(wantNull)+0.01*c.depthM {
				t.Errorf("%+v at %.1f m: null %.4f m, searched for %.4f m", c, at-midM, null, wantNull)
			}
			t.Logf("%+v: peak %.4f (%.4f) null %.4f (%.4f)", c, peak, wantPeak, null, wantNull)
		}
	}
}

// Whatever was marked over a bend, the band holds the line; and where the readings say
// that it was the peak across, it is as narrow as over a straight.
func TestBandHoldsTheLineWhateverWasMarked(t *testing.T) {
	const depthM = 1.4
	vs, midM := bent(8, math.Pi/2)
	line := make([]geo.XY, len(vs))
	for i, v := range vs {
		line[i] = v.Pos
	}
	truth, own := geo.NewPolyline(line), newOwnField(vs, nil)
	for what := peakMarked; what <= nullMarked; what++ {
		var rs []reading
		for s := midM - 40; s <= midM+40; s += 1.25 {
			d := truth.Direction(s)
			off := own.pullAt(s, depthM).offM(what) + 0.008*float64(len(rs)*7%5-2)
			p := truth.At(s).Add(geo.XY{X: d.Y, Y: -d.X}.Scale(off))
			r := plain(p.X, p.Y)
			r.SigmaM, r.TimeS, r.DepthM, r.Fix = 0.012, 6*float64(len(rs)), depthM, 4
			rs = append(rs, r)
		}
		res := sane(t, "bend", rs)
		in, all, widest := 0, 0, 0.0
		for _, p := range res.Parts {
			for _, v := range p.Vertices {
				all++
				if math.Abs(truth.Nearest(v.Pos).OffsetM) <= v.Horizontal95M {
					in++
				}
				if math.Abs(truth.Nearest(v.Pos).StationM-midM) < 20 {
					widest = math.Max(widest, v.Horizontal95M)
				}
			}
		}
		if float64(in) < 0.95*float64(all) {
			t.Errorf("marked %d: the band holds the line at %d of %d places", what, in, all)
		}
		if what == peakMarked && widest > 0.12 {
			t.Errorf("peak marked: a band of %.2f m at the bend", widest)
		}
		t.Logf("%d: %d/%d widest %.3f", what, in, all, widest)
	}
}
