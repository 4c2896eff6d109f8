package guard

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// TestDepthPasses: where two passes meet and one reads deeper by a factor, both are told
// all along, and not where they agree.
func TestDepthPasses(t *testing.T) {
	walks := func(times float64) *trace.Line {
		at := along(16, level) // to 30 m
		for x := 22.5; x <= 60; x += 2 {
			at = append(at, geo.XY{X: x})
		}
		l := read(line(0.05, geo.XY{}, geo.XY{X: 60}), at...)
		for i := 16; i < len(l.Readings); i++ {
			l.Readings[i].DepthM = times
		}
		for k := range l.Centerline.Parts[0].Vertices {
			l.Centerline.Parts[0].Vertices[k].Depth95M = 0.5 // holds them all
		}
		return l
	}
	if got := Check(walks(1.1), rule(), Deep); len(got) > 0 {
		t.Errorf("a tenth apart: %+v", got)
	}
	got := Check(walks(1.3), rule(), Deep)
	if len(got) != 1 || got[0].FromM > 1 || got[0].ToM < 59 || got[0].DepthBandM < 0.29 {
		t.Errorf("three tenths apart: %+v, want one over all and a band of 0.3 m", got)
	}
}

// TestScatteredDepths: a tenth of the depths far off, here and there, are two depths; as
// many in one place are not this.
func TestScatteredDepths(t *testing.T) {
	with := func(which ...int) *trace.Line {
		l := read(line(0.03, geo.XY{}, geo.XY{X: 58}), along(30, level)...)
		for _, i := range which {
			l.Readings[i].DepthM = 1.6
		}
		return l
	}
	for _, c := range []struct {
		which []int
		want  int
	}{{nil, 0}, {[]int{3, 11, 19}, 0}, {[]int{3, 9, 15, 26}, 1}, {[]int{12, 13, 14, 15}, 0}} {
		if got := newView(with(c.which...), rule()).scattered(); len(got) != c.want {
			t.Errorf("depths %v off: %+v, want %d", c.which, got, c.want)
		}
		told := 0
		for _, b := range Check(with(c.which...), rule()) {
			if _, is := b.Remark.(remark.DepthsScattered); is {
				told++
			}
		}
		if told != c.want {
			t.Errorf("depths %v off: %d told, want %d", c.which, told, c.want)
		}
	}
}
