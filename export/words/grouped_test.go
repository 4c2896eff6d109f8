package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
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
		return trace.Advice{Remark: remark.LookAt{Line: "A", Finding: finding.Gap{Line: "A", FromM: from, ToM: to}}}
	}
	list := []trace.Advice{gap(1, 2), watched(10, 20, 1, 1), gap(3, 4), watched(30, 40, 1, 2), watched(50, 60, 1, 1, "C"),
		{Remark: remark.LookAt{Line: "A", Finding: finding.Crossing{Line: "A", Other: "B", StationM: 5}}}}
	got := Grouped(geo.Metric, list)
	want := []string{
		"2 × not traced: A 1.0 to 2.0 m; 3.0 to 4.0 m. Find the line there before digging.",
		"2 × possible bleed-over. Expose before digging within these distances of the paint: A 10.0 to 20.0 m (perhaps from B) 1.00 m, farther near 20.0 m; 30.0 to 40.0 m (perhaps from B) 1.00 m right, 2.00 m left, farther near 40.0 m.",
		Remark(geo.Metric, list[4].Remark),
		"A crosses B at 5.0 m: expose both by hand.",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Ranges in such a list say that the place decides, and which end holds in doubt.
func TestGroupedSaysWhatARangeIs(t *testing.T) {
	item := func(from, most float64) trace.Advice {
		return trace.Advice{Remark: remark.BleedItem{Line: "A", Stretches: []remark.Stretch{{FromM: from, ToM: from + 5}}, Grade: trace.GradeWatch, From: "B",
			LeavesM: trace.Unknown, Reach: remark.Reach{RightM: [2]float64{1, most}, LeftM: [2]float64{1, 1}, Known: true}}}
	}
	got := strings.Join(Grouped(geo.Metric, []trace.Advice{item(10, 1), item(20, 3)}), "\n")
	if want := "20.0 to 25.0 m (perhaps from B) 1.00 to 3.00 m right, 1.00 m left. A range depends on the place; if in doubt, take the larger figure."; !strings.HasSuffix(got, want) {
		t.Errorf("%q", got)
	}
	if got := strings.Join(Grouped(geo.Metric, []trace.Advice{item(10, 1), item(20, 1)}), "\n"); strings.Contains(got, "range") {
		t.Errorf("%q", got)
	}
}

// So are crossings with lines on record, with and without signal from them, and positions
// that nothing bounds; what tells why a record may lie elsewhere stays an item of its own.
func TestGroupedKnownLines(t *testing.T) {
	known := func(line string, at, separationM, doubtM float64) finding.Crossing {
		return finding.Crossing{Line: line, Other: "main 3", Source: "town.geojson", StationM: at, SeparationM: separationM, DoubtM: doubtM, DoubtWhy: "its frame is not stated"}
	}
	look := func(c finding.Crossing) trace.Advice {
		return trace.Advice{Remark: remark.LookAt{Line: c.Line, Finding: c}}
	}
	watched := func(at, right, left float64) trace.Advice {
		return trace.Advice{Remark: remark.WatchedCrossing{Line: "A", Crossing: known("A", at, 0, 0), Watched: finding.BleedOver{Grade: trace.GradeWatch, FromM: at - 5, ToM: at + 5},
			Reach: remark.Reach{RightM: [2]float64{right, right}, LeftM: [2]float64{left, left}, Known: true}}}
	}
	unbounded := func(line string) trace.Advice {
		return trace.Advice{Remark: remark.OnLine{Line: line, StationM: trace.Unknown, What: remark.PositionsUnbounded{OffM: 6.41}}}
	}
	list := []trace.Advice{unbounded("A"), look(known("A", 4, 0, 0)), watched(30, 0.71, 0.70), look(known("A", 60, 0.25, 0)), unbounded("B"),
		watched(50, 0.7, 1.2), look(known("B", 8, 0, 0)), look(known("B", 9, 0, 1.2))}
	got := Grouped(geo.Metric, list)
	want := []string{
		"2 × nothing bounds the error of the positions, and the whole line may lie this far off: A 6.41 m; B 6.41 m. Measure from the paint, not from the map.",
		"3 × a known line that was not located here crosses or comes close. Locate it, and expose both by hand: A and 'main 3' (town.geojson) at 4.0 m; within 0.25 m at 60.0 m; B and 'main 3' (town.geojson) at 8.0 m.",
		"2 × a known line that was not located here crosses or comes close, and possible bleed-over from it. Locate it, and expose both by hand before digging within these distances of the paint: " +
			"A and 'main 3' (town.geojson) at 30.0 m (signal from 25.0 to 35.0 m) 0.71 m; at 50.0 m (signal from 45.0 to 55.0 m) 0.70 m right, 1.20 m left.",
		Remark(geo.Metric, list[7].Remark),
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The same words on several lines and stations are told once, with every place.
func TestGroupedTellsTheSameWordsOnce(t *testing.T) {
	on := func(line string, stationM, measuredM float64) trace.Advice {
		return trace.Advice{Remark: remark.OnLine{Line: line, StationM: stationM, What: remark.DepthsWrongOn{Other: "A", MeasuredM: measuredM, ReadM: 2}}}
	}
	list := []trace.Advice{on("B", trace.Unknown, 1), on("C", trace.Unknown, 1.5), on("D", 12, 1)}
	got := Grouped(geo.Metric, list)
	want := []string{"B; D, 12.0 m: the depths may be", Remark(geo.Metric, list[1].Remark)}
	if len(got) != 2 || !strings.HasPrefix(got[0], want[0]) || got[1] != want[1] {
		t.Errorf("%q", got)
	}
}
