package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Places of one kind are one item with the figures of each; what tells more than its
// kind stays an item of its own, and so does what is alone.
func TestGroupedLosesNothing(t *testing.T) {
	watched := func(from, to, right, left float64, also ...string) trace.Advice {
		return trace.Advice{Remark: remark.BleedItem{Line: "A", Stretches: []remark.Stretch{{FromM: from, ToM: to}}, Grade: trace.GradeWatch, From: "B", Also: also,
			LeavesM: trace.Unknown, Reach: remark.Reach{RightM: [2]float64{right, right}, LeftM: [2]float64{left, left}, Known: true, FartherAtM: []float64{to}}}}
	}
	gap := func(from, to float64) trace.Advice {
		return trace.Advice{Remark: remark.LookAt{Line: "A", Finding: trace.Gap{Line: "A", FromM: from, ToM: to}}}
	}
	list := []trace.Advice{gap(1, 2), watched(10, 20, 1, 1), gap(3, 4), watched(30, 40, 1, 2), watched(50, 60, 1, 1, "C"),
		{Remark: remark.LookAt{Line: "A", Finding: trace.Crossing{Line: "A", Other: "B", StationM: 5}}}}
	got := Grouped(geo.Metric, list)
	want := []string{
		"2 × not traced: A 1.0 to 2.0 m; 3.0 to 4.0 m. Find the line there before digging.",
		"2 × possible bleed-over. Expose before digging within these distances of the mark: A 10.0 to 20.0 m (perhaps from B) 1.00 m, farther close to 20.0 m; 30.0 to 40.0 m (perhaps from B) 1.00 m right, 2.00 m left, farther close to 40.0 m.",
		Remark(geo.Metric, list[4].Remark),
		"A crosses B at 5.0 m: expose both by hand.",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
