package guard

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// TestBesideCourse: ten positions that leapt aside together, by more than any step to another
// line is wide, and were taken for the line: the band holds the straight way past them, and
// the map tells of it. Past what was set aside nothing is drawn wrong, and a line that winds
// goes out and back all along.
func TestBesideCourse(t *testing.T) {
	burst := func(x float64) float64 {
		if x >= 20 && x < 40 {
			return 12
		}
		return 0
	}
	winds := func(x float64) float64 { // to alternate sides, by as much as the burst
		return []float64{0, 0, 0, 12, 12, 12}[int(x/2)%6]
	}
	aside := func(at []geo.XY, drawn []geo.XY) (n int, bandM float64) {
		l := read(line(0.1, drawn...), at...)
		Apply(l, rule())
		for _, f := range l.Findings {
			if d, ok := f.(finding.Doubt); ok {
				if a, ok := d.Why.(remark.AsideOfTheWalk); ok && a.Readings > 2 && d.FromM >= 18 && d.ToM <= 66 {
					n++
				}
			}
		}
		for _, x := range l.Centerline.Parts[0].Vertices {
			if x.Pos.Y > 11 && x.Horizontal95M > bandM {
				bandM = x.Horizontal95M
			}
		}
		return n, bandM
	}
	walk := along(31, burst)
	if n, bandM := aside(walk, walk); n != 1 || bandM < 12 {
		t.Errorf("ten that leapt: %d told, band %.2f m", n, bandM)
	}
	if n, _ := aside(walk, along(31, level)); n != 0 {
		t.Errorf("the line is drawn straight past them: %d told", n)
	}
	walk = along(31, winds)
	if n, _ := aside(walk, walk); n != 0 {
		t.Errorf("out and back all along: %d told", n)
	}
}
