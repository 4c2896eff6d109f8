package compare

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
)

// located draws a line northwards of constant depth, eastM east of the origin,
// with bands of 0.1 m.
func located(name string, eastM func(northM float64) float64, depthM float64) trace.Located {
	plane := geo.NewPlane(geo.LonLat{LonDeg: -30.5, LatDeg: 44.1})
	l := trace.LocatedLine{Name: name}
	var part []trace.LocatedVertex
	for y := 0.0; y <= 40; y += 2 {
		part = append(part, trace.LocatedVertex{At: plane.LonLat(geo.XY{X: eastM(y), Y: y}), StationM: y, DepthM: depthM, Depth95M: 0.1, Horizontal95M: 0.1})
	}
	l.Parts = append(l.Parts, part)
	return trace.Located{Name: "map", Lines: []trace.LocatedLine{l}}
}

func TestOverlayLocates(t *testing.T) {
	straight := located("A", func(float64) float64 { return 0 }, 1)
	tests := []struct {
		name     string
		other    trace.Located
		meanM    float64
		position [][2]float64 // stretches that disagree in position
		depth    int          // and in depth
	}{
		{"within both bands", located("A", func(float64) float64 { return 0.15 }, 1.1), 0.15, nil, 0},
		{"a bulge", located("A", func(y float64) float64 {
			if y > 10 && y < 20 {
				return 0.5
			}
			return 0
		}, 1), 0.5 * 4 / 19, [][2]float64{{12, 18}}, 0},
		{"deeper", located("A", func(float64) float64 { return 0 }, 1.3), 0, nil, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o := OverlayLocates(straight, tt.other)[0]
			if math.Abs(o.MeanOffsetM()-tt.meanM) > 0.02 {
				t.Errorf("mean offset %.3f m, want %.3f", o.MeanOffsetM(), tt.meanM)
			}
			if d, want := o.Places[0].DepthDifferenceM, tt.other.Lines[0].Parts[0][0].DepthM-1; math.Abs(d-want) > 1e-9 {
				t.Errorf("the second is %.2f m deeper, want %.2f", d, want)
			}
			var pos [][2]float64
			depth := 0
			for _, d := range o.Disagree {
				if d.Depth {
					depth++
				} else {
					pos = append(pos, [2]float64{d.FromM, d.ToM})
				}
			}
			if len(pos) != len(tt.position) || depth != tt.depth {
				t.Fatalf("disagreements %+v", o.Disagree)
			}
			for i := range pos {
				if pos[i] != tt.position[i] {
					t.Errorf("stretch %v, want %v", pos[i], tt.position[i])
				}
			}
		})
	}
}

func TestOverlayNamesLinesOfOneMapOnly(t *testing.T) {
	a := located("A", func(float64) float64 { return 0 }, 1)
	b := located("B", func(float64) float64 { return 0 }, 1)
	got := OverlayLocates(a, b)
	if len(got) != 2 || !got[0].FirstOnly || !got[1].OtherOnly {
		t.Errorf("got %+v", got)
	}
}

// That nothing differs says little where one map has half of the line, takes it for another
// kind, or does not trust it itself.
func TestOverlayTellsWhatOneMapLacks(t *testing.T) {
	straight := located("A", func(float64) float64 { return 0 }, 1)
	half := located("A", func(float64) float64 { return 0 }, 1)
	half.Lines[0].Parts[0] = half.Lines[0].Parts[0][:9] // 16 of 40 m
	shorter := located("A", func(float64) float64 { return 0 }, 1)
	shorter.Lines[0].Parts[0] = shorter.Lines[0].Parts[0][1:20] // a stride less at both ends
	gas, water, doubted := located("A", func(float64) float64 { return 0 }, 1), located("A", func(float64) float64 { return 0 }, 1), located("A", func(float64) float64 { return 0 }, 1)
	gas.Lines[0].Utility, water.Lines[0].Utility = trace.Gas, trace.Water
	doubted.Lines[0].Doubted = []trace.LocatedStretch{{FromM: 8, ToM: 14}}
	for name, c := range map[string]struct {
		a, b      trace.Located
		lacks     [2]bool
		disagrees bool
		doubted   int
	}{
		"alike":                        {straight, straight, [2]bool{}, false, 0},
		"half of it in the second":     {straight, half, [2]bool{true, false}, true, 0},
		"half of it in the first":      {half, straight, [2]bool{false, true}, true, 0},
		"begun and ended a stride off": {straight, shorter, [2]bool{}, false, 0},
		"another kind":                 {gas, water, [2]bool{}, true, 0},
		"a kind that one map has":      {gas, straight, [2]bool{}, false, 0},
		"doubted":                      {straight, doubted, [2]bool{}, false, 1},
	} {
		o := OverlayLocates(c.a, c.b)[0]
		if o.Lacks(0) != c.lacks[0] || o.Lacks(1) != c.lacks[1] || o.Disagrees() != c.disagrees || len(o.Doubted[1]) != c.doubted {
			t.Errorf("%s: alone %v of %v, kinds %v, doubted %v", name, o.AloneM, o.LengthM, o.Kinds, o.Doubted)
		}
	}
	if o := OverlayLocates(straight, half)[0]; math.Abs(o.AloneM[0]-24) > aloneStepM || math.Abs(o.LengthM[0]-40) > 0.01 {
		t.Errorf("%g of %g m are alone, want 24 of 40", o.AloneM[0], o.LengthM[0])
	}
}
