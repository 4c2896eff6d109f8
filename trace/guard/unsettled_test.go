package guard

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Three neighbours that lost their depth or their position, some one and some the
// other, are told together; two of them, or three apart, are slips, and figures that no
// depth is say nothing of where the trace goes.
func TestUnsettled(t *testing.T) {
	spike := remark.DepthSpike{DepthM: 2, AroundM: 1}
	for what, c := range map[string]struct {
		aside, dropped []int
		why            trace.Remark
		told           bool
	}{
		"two depths and a position":         {[]int{2}, []int{0, 1}, spike, true},
		"a depth and two positions between": {[]int{6, 8}, []int{7}, spike, true},
		"a depth and a position":            {[]int{6}, []int{7}, spike, false},
		"apart":                             {[]int{6}, []int{2, 10}, spike, false},
		"depths in another unit":            {[]int{2}, []int{0, 1, 3, 4, 5}, remark.TooDeep{DepthM: 40}, false},
		"fillers":                           {[]int{2}, []int{0, 1, 3}, remark.FillerDepth{DepthM: 999}, false},
	} {
		l := read(line(0.1, geo.XY{}, geo.XY{X: 60}), along(31, level)...)
		for _, i := range c.aside {
			l.Readings[i].Pos.Y = 0.4
			l.Readings[i].SetAside(remark.Outlier{OffM: 0.4})
		}
		for _, i := range c.dropped {
			l.Readings[i].DropDepth(c.why)
		}
		told := false
		for _, b := range Check(l, rule()) {
			_, is := b.Remark.(remark.Unsettled)
			told = told || is && b.Kind == Uncovered && b.Covered && trace.Known(b.FromM)
		}
		if told != c.told {
			t.Errorf("%s: told %v", what, told)
		}
	}
}
