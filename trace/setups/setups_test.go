package setups

import (
	"slices"
	"testing"

	"loamline.example/trace"
)

// What a row leaves open is as in the row before it, whatever the order of the readings, and
// before the first row that tells it as there.
func TestOf(t *testing.T) {
	told := []Setup{{"", 0}, {trace.HookupDirect, 0}, {"", 8192}, {trace.HookupClamp, 0}, {"", 0}, {"", 33000}}
	want := []Setup{{trace.HookupDirect, 8192}, {trace.HookupDirect, 8192}, {trace.HookupDirect, 8192}, {trace.HookupClamp, 8192}, {trace.HookupClamp, 8192}, {trace.HookupClamp, 33000}}
	for _, order := range [][]int{{0, 1, 2, 3, 4, 5}, {3, 0, 5, 1, 4, 2}} {
		var rs []trace.Reading
		for _, row := range order {
			r := trace.NewReading()
			r.Row, r.Hookup = int32(row), told[row].Hookup
			if told[row].FreqHz > 0 {
				r.FreqHz = told[row].FreqHz
			}
			rs = append(rs, r)
		}
		for k, got := range Of(rs) {
			if got != want[order[k]] {
				t.Errorf("in the order %v: row %d has %v, want %v", order, order[k], got, want[order[k]])
			}
		}
	}
}

// Frequencies of one name are one set-up; of a row of ever higher ones not all are.
func TestSame(t *testing.T) {
	direct := func(hz float64) Setup { return Setup{trace.HookupDirect, hz} }
	for _, c := range []struct {
		a, b Setup
		same bool
	}{
		{direct(8192), direct(8000), true}, {direct(33000), direct(32768), true}, {direct(8192), direct(9820), false},
		{direct(0), direct(0), true}, {direct(0), direct(8192), false}, {direct(8192), Setup{trace.HookupClamp, 8192}, false},
	} {
		if c.a.Same(c.b) != c.same || c.b.Same(c.a) != c.same {
			t.Errorf("%v and %v: not %v", c.a, c.b, c.same)
		}
	}
	got := Alike([]Setup{direct(8192), direct(33000), direct(8000), direct(8300), direct(8500), direct(32768)})
	if want := []Setup{direct(8000), direct(32768), direct(8000), direct(8000), direct(8500), direct(32768)}; !slices.Equal(got, want) {
		t.Errorf("alike are %v, want %v", got, want)
	}
}
