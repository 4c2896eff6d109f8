package setting

import (
	"testing"
	"time"

	"loamline.example/trace"
)

// When readings were taken is one answer for the epoch, for what is held against it and
// for what is told of the clock: rows from before it was set, and past any year, have no
// part in it while others tell.
func TestTakenAt(t *testing.T) {
	for _, c := range []struct {
		years      []int // 0 without a time
		at, unset  int   // 0 for none
		told, sane bool
	}{
		{nil, 0, 0, false, false},
		{[]int{0, 0}, 0, 0, false, false},
		{[]int{2024, 2026, 2025}, 2025, 0, true, true},
		{[]int{1980, 2026, 2026, 0}, 2026, 0, true, true},
		{[]int{1980, 1980, 1980, 2026}, 2026, 1980, true, true},
		{[]int{1980, 1980}, 1980, 1980, true, false},
		{[]int{2105, 2026, 2107}, 2026, 0, true, true},
		{[]int{2105}, 2105, 0, true, false},
	} {
		var rs []trace.Reading
		for _, y := range c.years {
			r := trace.NewReading()
			if y > 0 {
				r.Time = time.Date(y, 5, 12, 0, 0, 0, 0, time.UTC)
			}
			rs = append(rs, r)
		}
		year := func(at time.Time) int {
			if at.IsZero() {
				return 0
			}
			return at.Year()
		}
		got := TakenAt(rs)
		if year(got.At) != c.at || year(got.Unset) != c.unset || got.Told != c.told || got.Set != c.sane {
			t.Errorf("%v: %+v", c.years, got)
		}
		if epoch := DatedBy(trace.Job{}, rs).Epoch; int(epoch) != map[bool]int{true: c.at}[c.sane] {
			t.Errorf("%v: epoch %g", c.years, epoch)
		}
	}
}
