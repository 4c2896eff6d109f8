package zones

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// The reach over a stretch is that of all that is drawn on it, also between two
// places where it is known.
func TestReachOfAStretch(t *testing.T) {
	zs := []trace.ZoneReach{{StationM: 0, LeftM: 0.6, RightM: 0.5}, {StationM: 10, LeftM: 0.6, RightM: 0.9}, {StationM: 20, LeftM: 1.6, RightM: 0.9}}
	all := func(float64) bool { return false }
	for _, tt := range []struct {
		from, to float64
		want     Reach
	}{
		{0, 10, Reach{[2]float64{0.6, 0.6}, [2]float64{0.5, 0.9}, true}},
		{2, 4, Reach{[2]float64{0.6, 0.6}, [2]float64{0.58, 0.66}, true}},
		{12, 20, Reach{[2]float64{0.8, 1.6}, [2]float64{0.9, 0.9}, true}},
		{30, 40, Reach{}},
	} {
		got := ReachOver(zs, tt.from, tt.to, all)
		for i := range 2 {
			if math.Abs(got.Left[i]-tt.want.Left[i]) > 1e-9 || math.Abs(got.Right[i]-tt.want.Right[i]) > 1e-9 || got.Known != tt.want.Known {
				t.Errorf("%g to %g m: %+v, want %+v", tt.from, tt.to, got, tt.want)
			}
		}
	}
}

// What is told of a zone is what is drawn, also just beyond a wide stretch, where the zone
// is round: square to the line nothing of it lies outside the reach.
func TestReachHoldsWhatIsDrawn(t *testing.T) {
	straight := func(toM float64) *trace.Centerline {
		var p trace.Part
		for x := 0.0; x <= toM; x += 2 {
			p.Vertices = append(p.Vertices, trace.Vertex{Pos: geo.XY{X: x}, StationM: x, Horizontal95M: 0.1})
		}
		return &trace.Centerline{Parts: []trace.Part{p}}
	}
	course := []trace.CourseStrip{{Path: []geo.XY{{X: 20, Y: 0}, {X: 24, Y: 1.2}, {X: 36, Y: 1.2}, {X: 40, Y: 0}}, Half95M: []float64{0.1, 0.5, 0.5, 0.1}}}
	for name, f := range map[string]finding.BleedOver{
		"widened":     {Line: "A", FromM: 20, ToM: 40, Grade: trace.GradeStrong, WidenLeftM: 1.7, WidenRightM: 0.3},
		"own course":  {Line: "A", FromM: 20, ToM: 40, Grade: trace.GradeStrong, Jump: true, OwnCourse: course},
		"to its end":  {Line: "A", FromM: 20, ToM: 60, Grade: trace.GradeStrong, WidenLeftM: 1.7, WidenRightM: 0.3},
		"watched":     {Line: "A", FromM: 20, ToM: 40, Grade: trace.GradeWatch, WidenLeftM: 0.9, WidenRightM: 0.9},
		"very narrow": {Line: "A", FromM: 30, ToM: 30.5, Grade: trace.GradeStrong, WidenLeftM: 3, WidenRightM: 3},
	} {
		c, findings := straight(60), []trace.Finding{f}
		_, caution, err := Draw(c, findings, trace.Tolerance{HalfWidthM: 0.46, MeasuredFrom: trace.FromCenterline}, trace.LineSetup{Name: "A"})
		if err != nil {
			t.Fatal(err)
		}
		reach := ReachAlong(c, findings, 0.46)
		for i := 1; i < len(reach); i++ {
			for s := reach[i-1].StationM; s < reach[i].StationM; s += 0.05 {
				at := (s - reach[i-1].StationM) / (reach[i].StationM - reach[i-1].StationM)
				left := reach[i-1].LeftM + at*(reach[i].LeftM-reach[i-1].LeftM)
				right := reach[i-1].RightM + at*(reach[i].RightM-reach[i-1].RightM)
				up, down := drawnAt(caution.Area, s)
				if up > left+0.06 || down > right+0.06 { // a tape's last figure, and the sides of an arc
					t.Errorf("%s, %.2f m: drawn %.2f left and %.2f right, told %.2f and %.2f", name, s, up, down, left, right)
					break
				}
			}
		}
	}
}

// drawnAt is how far an area about the x axis reaches to both sides at x.
func drawnAt(area orb.MultiPolygon, x float64) (up, down float64) {
	for _, poly := range area {
		for _, ring := range poly {
			for i := 1; i < len(ring); i++ {
				a, b := ring[i-1], ring[i]
				if (a[0] <= x) == (b[0] <= x) {
					continue
				}
				y := a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
				up, down = math.Max(up, y), math.Max(down, -y)
			}
		}
	}
	return up, down
}
