package returnleg

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

const legLongM = 60.0

// overLegs is the field of two long wires, heightM over the ground and x metres outward of the
// first, by the law of Biot and Savart: across and downward.
func overLegs(x, heightM, legsM, depthM, times float64) (across, down float64) {
	for _, w := range []receiver.Wire{
		{Points: []receiver.Point{{Y: -1e4, Z: -depthM}, {Y: 1e4, Z: -depthM}}, CurrentA: 1},
		{Points: []receiver.Point{{X: -legsM, Y: 1e4, Z: -depthM}, {X: -legsM, Y: -1e4, Z: -depthM}}, CurrentA: times},
	} {
		b := w.B(receiver.Point{X: x, Z: heightM})
		across, down = across+b.X, down+b.Z
	}
	return math.Abs(across), math.Abs(down)
}

// marked is where a patient search out from over the leg comes to.
func marked(m mark, legsM, depthM, times float64) (out, shown float64) {
	worth := func(x float64) float64 {
		a, d := overLegs(x, 0, legsM, depthM, times)
		if m == null {
			return -d
		}
		return a
	}
	for worth(out+0.001) > worth(out) {
		out += 0.001
	}
	low, _ := overLegs(out, 0, legsM, depthM, times)
	high, _ := overLegs(out, receiver.UsualGapM, legsM, depthM, times)
	return out, receiver.TwoAntennaDepthM(low, high, receiver.UsualGapM)
}

// What stands where over a leg is by Biot and Savart what the table has.
func TestPairAgainstWires(t *testing.T) {
	for _, c := range []struct{ legsM, depthM float64 }{{0.7, 0.5}, {0.7, 1}, {1.2, 0.6}, {2, 1.5}} {
		for _, k := range []int{timesTries - 1, timesTries, timesTries + 1} {
			for m := range marks {
				if m == null && k > timesTries && c.legsM < c.depthM {
					continue // the stronger leg's field leaves none
				}
				out, shown := marked(m, c.legsM, c.depthM, times(k))
				if got := c.depthM * outIn(m, k, c.legsM/c.depthM); math.Abs(got-out) > 0.03*c.depthM {
					t.Errorf("%+v, currents %.2f, mark %d: %.3f m outward, by the wires %.3f", c, times(k), m, got, out)
				}
				if got := shownM(k, c.legsM, out, c.depthM, receiver.UsualGapM); math.Abs(got-shown) > 0.01 {
					t.Errorf("%+v, currents %.2f, mark %d: shown %.3f m, by the wires %.3f", c, times(k), m, got, shown)
				}
			}
		}
	}
}

// turnedBack is a line drawn through marks that stand outM outward of two legs, read every two
// metres with one depth shown.
func turnedBack(legsM, out, shown float64) *trace.Line {
	l := &trace.Line{Centerline: &trace.Centerline{}}
	var vs []trace.Vertex
	put := func(x, y, station float64) {
		vs = append(vs, trace.Vertex{Pos: geo.XY{X: x, Y: y}, StationM: station, Horizontal95M: 0.05, DepthM: shown, Depth95M: 0.05})
		r := trace.NewReading()
		r.Status, r.Pos, r.StationM, r.OffsetM, r.DepthM = trace.StatusUsed, geo.XY{X: x, Y: y}, station, 0, shown
		l.Readings = append(l.Readings, r)
	}
	apart := legsM + 2*out
	for y := 0.0; y <= legLongM; y += 2 {
		put(0, y, y)
	}
	for y := legLongM; y >= 0; y -= 2 {
		put(-apart, y, legLongM+apart+legLongM-y)
	}
	l.Centerline.Parts = []trace.Part{{Vertices: vs}}
	return l
}

func good(sigmaM float64) func(*trace.Reading) float64 {
	return func(*trace.Reading) float64 { return sigmaM }
}

// Two legs that lie close: the bands hold them, whether peak or null was marked.
func TestBandsHoldBothLegs(t *testing.T) {
	for _, c := range []struct{ legsM, depthM float64 }{{0.7, 0.5}, {0.8, 0.9}, {1.2, 0.6}, {1.8, 1.9}} {
		for m := range marks {
			out, shown := marked(m, c.legsM, c.depthM, 1)
			l := turnedBack(c.legsM, out, shown)
			Widen(l, trace.Unknown, good(0.01))
			for _, i := range []int{5, 15, 40, 50} {
				v := l.Centerline.Parts[0].Vertices[i]
				if v.Horizontal95M < out {
					t.Errorf("%+v, mark %d: the leg lies %.2f m from where it is drawn, with a band of %.2f", c, m, out, v.Horizontal95M)
				}
				if v.Depth95M < c.depthM-shown {
					t.Errorf("%+v, mark %d: read at %.2f m, with a band of %.2f", c, m, shown, v.Depth95M)
				}
			}
		}
	}
}

// Where no other leg matters, or nothing tells where it lies, or somebody looked, the bands are
// as they were.
func TestBandsStay(t *testing.T) {
	far := turnedBack(12, 0, 1)
	loose := turnedBack(1, 0.1, 0.4)
	exposed := turnedBack(1, 0.1, 0.4)
	for i := range exposed.Readings {
		exposed.Readings[i].Exposed = i%3 == 0
	}
	there := turnedBack(0.1, 0, 1) // one line walked there and back: no pair shows so deep so near
	straight := turnedBack(1, 0.1, 0.4)
	straight.Centerline.Parts[0].Vertices = straight.Centerline.Parts[0].Vertices[:30]
	for name, c := range map[string]struct {
		line   *trace.Line
		sigmaM float64
	}{"far": {far, 0.01}, "loose": {loose, 0.5}, "exposed": {exposed, 0.01}, "there and back": {there, 0.01}, "straight": {straight, 0.01}} {
		Widen(c.line, 0.4, good(c.sigmaM))
		for _, v := range c.line.Centerline.Parts[0].Vertices {
			if v.Horizontal95M != 0.05 || v.Depth95M != 0.05 {
				t.Errorf("%s: bands %.2f and %.2f at %.0f m", name, v.Horizontal95M, v.Depth95M, v.StationM)
				break
			}
		}
	}
}
