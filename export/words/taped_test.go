package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A tape has feet and inches: items say so, a range whole, and in a list of several.
func TestItemsAreTaped(t *testing.T) {
	item := func(from, to float64) trace.Advice {
		return trace.Advice{Remark: remark.BleedItem{Line: "A", Grade: trace.GradeWatch, LeavesM: trace.Unknown, Stretches: []remark.Stretch{{FromM: from, ToM: to}},
			Reach: remark.Reach{LeftM: [2]float64{0.9, 1.5}, RightM: [2]float64{0.9, 1.5}, Known: true}}}
	}
	one := Item(geo.US, item(10, 20))
	if !strings.Contains(one, "within 3 ft to 5 ft of the paint") {
		t.Errorf("%q", one)
	}
	list := Grouped(geo.US, []trace.Advice{item(10, 20), item(30, 40)})
	if len(list) != 1 || strings.Count(list[0], "3 ft to 5 ft") != 2 {
		t.Errorf("%q", list)
	}
}

// A limit is never told as less than it is.
func TestHalfWidthIsRoundedUp(t *testing.T) {
	for _, c := range []struct {
		u    geo.Units
		m    float64
		want string
	}{
		{geo.Metric, 0.4826, "0.49 m"}, {geo.Metric, 0.46, "0.46 m"}, {geo.US, 0.4572, "18 in"}, {geo.US, 0.5, "1 ft 8 in"}, {geo.US, 0.4826, "19 in"},
	} {
		if got := HalfWidth(c.u, c.m); got != c.want {
			t.Errorf("%s %g: %q, want %q", c.u, c.m, got, c.want)
		}
	}
	if got := Zone(geo.Metric, trace.Zone{HalfWidthM: 0.4826, Rule: "local law"}); !strings.HasPrefix(got, "0.49 m to each side") {
		t.Errorf("%q", got)
	}
}
