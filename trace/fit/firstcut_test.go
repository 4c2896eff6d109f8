package fit

import (
	"context"
	"math"
	"slices"
	"testing"

	"loamline.example/geo"
)

// TestSearchesAfterTheFirst holds them to what a search from every sample finds, for larger noise
// and without readings, and to fewer places that pieces are let grow from.
func TestSearchesAfterTheFirst(t *testing.T) {
	var all []sample
	p, heading := geo.XY{}, 0.3
	for i := range 300 {
		if i%60 == 59 {
			heading += 0.9
		}
		p = p.Add(geo.XY{X: math.Cos(heading), Y: math.Sin(heading)}.Scale(1.5))
		off := 0.03 * math.Sin(7.1*float64(i))
		if i%83 == 40 {
			off = 2.5 // it leapt
		}
		q := &observation{p: p.Add(geo.XY{X: -math.Sin(heading), Y: math.Cos(heading)}.Scale(off)), wt: 1 / sq(0.03)}
		q.index, q.stationM = int32(i), 1.5*float64(i)
		all = append(all, q)
	}
	search := func(s []sample, known *firstCut) []span {
		out, err := segment(context.Background(), s, 1, 5, known)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	var known firstCut
	search(all, &known)
	if n := count(known.begins(all)); n == 0 || 3*n > len(all) {
		t.Errorf("pieces of %d samples are let grow from %d", len(all), n)
	}
	larger := make([]sample, len(all))
	for i, q := range all {
		own := *q
		own.wt /= sq(2)
		larger[i] = &own
	}
	without := slices.Delete(slices.Clone(all), 100, 104)
	if begins := known.begins(without); !begins[100] || !begins[100-nearBreak] {
		t.Error("no piece is let grow from beside readings that were left out")
	}
	for name, s := range map[string][]sample{"the same": all, "larger noise": larger, "without some": without, "turned": reversed(all)} {
		if got, want := search(s, &known), search(s, &firstCut{}); !slices.Equal(got, want) {
			t.Errorf("%s: pieces %v, from every sample %v", name, got, want)
		}
	}
}

func count(v []bool) (n int) {
	for _, is := range v {
		if is {
			n++
		}
	}
	return n
}

func reversed(s []sample) []sample {
	out := slices.Clone(s)
	slices.Reverse(out)
	return out
}
