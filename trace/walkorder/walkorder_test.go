package walkorder

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// readings are some at places along a line, at minutes from the first on where they have
// times; row k is the k-th of the file.
func readings(alongM []float64, minutes []int) []trace.Reading {
	rs := make([]trace.Reading, len(alongM))
	for k, x := range alongM {
		rs[k] = trace.NewReading()
		rs[k].Row = int32(k)
		rs[k].Pos = geo.XY{X: x}
		if minutes != nil {
			rs[k].Time = time.Date(2026, 5, 4, 9, minutes[k], 0, 0, time.UTC)
		}
	}
	return rs
}

// Times tell the order where half of the readings have one, and a reading without one is
// taken with its neighbour in the file; without them that of the file stands, and it is a
// walk's only where readings that follow each other lie together.
func TestTravel(t *testing.T) {
	along := make([]float64, 60)
	for k := range along {
		along[k] = float64(k)
	}
	shuffled := slices.Clone(along)
	rand.New(rand.NewPCG(1, 2)).Shuffle(len(shuffled), func(i, k int) { shuffled[i], shuffled[k] = shuffled[k], shuffled[i] })
	outAndBack := append(slices.Clone(along[:30]), along[:30]...)
	slices.Reverse(outAndBack[30:])
	without := func(rs []trace.Reading, rows ...int) []trace.Reading {
		for _, k := range rows {
			rs[k].Time = time.Time{}
		}
		return rs
	}
	oneTime := make([]int, len(shuffled))
	minutes := make([]int, len(shuffled))
	for k, x := range shuffled {
		minutes[k] = int(x)
	}
	byTime := make([]int, len(shuffled))
	for k, x := range shuffled {
		byTime[int(x)] = k
	}
	exposed := append(readings(shuffled, minutes), readings([]float64{30}, nil)...)
	exposed[60].Exposed = true
	for _, c := range []struct {
		name   string
		rs     []trace.Reading
		order  []int // of the first rows
		walked bool
	}{
		{"by time", readings([]float64{0, 1, 2}, []int{5, 3, 4}), []int{1, 2, 0}, true},
		{"at one time, as filed", readings([]float64{0, 1, 2}, []int{3, 3, 1}), []int{2, 0, 1}, true},
		{"one has no time", without(readings([]float64{0, 1, 2}, []int{2, 1, 0}), 1), []int{2, 0, 1}, true},
		{"the first has no time", without(readings([]float64{0, 1, 2}, []int{0, 2, 1}), 0), []int{2, 0, 1}, true},
		{"most have no time", without(readings([]float64{0, 1, 2}, []int{2, 1, 0}), 0, 1), []int{0, 1, 2}, true},
		{"stored by another order, and an exposure without a time", exposed, byTime[:3], true},
		{"shuffled, at one time", readings(shuffled, oneTime), []int{0, 1, 2}, false},
		{"as walked", readings(along, nil), []int{0, 1, 2}, true},
		{"out and back", readings(outAndBack, nil), []int{0, 1, 2}, true},
		{"shuffled", readings(shuffled, nil), []int{0, 1, 2}, false},
	} {
		order, walked := Travel(c.rs)
		if !slices.Equal(order[:3], c.order) || walked != c.walked {
			t.Errorf("%s: %v and a walk %v, want %v and %v", c.name, order[:3], walked, c.order, c.walked)
		}
	}
}

// Those that are asked for come by time where half of them have one, whatever the others
// have, and those without a place are left out.
func TestTaken(t *testing.T) {
	rs := readings([]float64{0, 1, 2, 3, 4}, []int{4, 3, 2, 1, 0})
	rs[1].Time = time.Time{}
	rs[3].Pos = trace.NewReading().Pos
	rows := func(wanted func(r *trace.Reading) bool) (out []int32) {
		for _, r := range Taken(rs, wanted) {
			out = append(out, r.Row)
		}
		return out
	}
	for _, c := range []struct {
		name   string
		wanted func(r *trace.Reading) bool
		want   []int32
	}{
		{"those with times", func(r *trace.Reading) bool { return !r.Time.IsZero() }, []int32{4, 2, 0}},
		{"all", func(r *trace.Reading) bool { return true }, []int32{4, 2, 0, 1}},
		{"none", func(r *trace.Reading) bool { return false }, nil},
	} {
		if got := rows(c.wanted); !slices.Equal(got, c.want) {
			t.Errorf("%s: rows %v, want %v", c.name, got, c.want)
		}
	}
}

// Two crews on one line at the same time are two walks; one walk that was written in two
// tables, tables one after the other, and one table, are as the times have them.
func TestTablesOfTwoCrewsAreTwoWalks(t *testing.T) {
	var even, odd, back []float64
	var minutes []int
	for k := range 20 {
		even, odd, back = append(even, float64(2*k)), append(odd, float64(2*k+1)), append(back, float64(100-2*k))
		minutes = append(minutes, 2*k)
	}
	later := slices.Clone(minutes)
	for k := range later {
		later[k] += 100
	}
	two := func(a, b []float64, atA, atB []int) []trace.Reading {
		rs := append(readings(a, atA), readings(b, atB)...)
		for k := len(a); k < len(rs); k++ {
			rs[k].File = 1
		}
		return rs
	}
	offset := func(of []int) (out []int) {
		for _, m := range of {
			out = append(out, m+1)
		}
		return out
	}
	for name, c := range map[string]struct {
		rs    []trace.Reading
		apart bool
	}{
		"two crews that walk towards each other": {two(even, back, minutes, offset(minutes)), true},
		"one walk in two tables":                 {two(even, odd, minutes, offset(minutes)), false},
		"one table after the other":              {two(even, back, minutes, later), false},
		"one table":                              {readings(append(slices.Clone(even), back...), append(slices.Clone(minutes), later...)), false},
		"tables without times":                   {two(even, back, nil, nil), false},
	} {
		apart := Apart(c.rs)
		if (apart != nil) != c.apart {
			t.Errorf("%s: %v", name, apart)
		}
		order, walked := Travel(c.rs)
		if !c.apart {
			continue
		}
		for k := 1; k < len(order); k++ {
			if c.rs[order[k]].File < c.rs[order[k-1]].File || !walked {
				t.Errorf("%s: %v", name, order)
				break
			}
		}
	}
}
