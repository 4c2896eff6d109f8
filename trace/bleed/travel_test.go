package bleed

import (
	"math/rand/v2"
	"testing"
	"time"

	"loamline.example/trace"
)

// there lists the stations of a way along a line and back, so many times, some of them
// disturbed by the receiver's error.
func there(ways int, sigmaM float64, rng *rand.Rand) (stations []float64, back []bool) {
	for w := range ways {
		for i := range 20 {
			s := 2 * float64(i)
			if w%2 == 1 {
				s = 38 - s
			}
			stations, back = append(stations, s+sigmaM*rng.NormFloat64()), append(back, w%2 == 1)
		}
	}
	return stations, back
}

func rowsAt(stations []float64, timed bool) []trace.Reading {
	rows := make([]trace.Reading, len(stations))
	for i, s := range stations {
		r := trace.NewReading()
		r.StationM, r.Pos.X, r.HAccM, r.Status, r.NullOffsetM = s, s, 0.02, trace.StatusUsed, 0.3
		if timed {
			r.Time = time.Date(2026, 5, 12, 10, 0, 9*i, 0, time.UTC)
		}
		rows[i] = r
	}
	return rows
}

// A null is positive to the right of travel: on the way back, whose stations fall, its
// sign is turned, and nowhere else.
func TestNullsAreTurnedOnTheWayBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 7))
	for ways := 1; ways <= 3; ways++ {
		for _, timed := range []bool{false, true} {
			stations, back := there(ways, 0.02, rng)
			for _, r := range inStationOrder(rowsAt(stations, timed)) {
				at := int(r.index)
				if at%20 == 0 || at%20 == 19 {
					continue // where the walk turns, either may be said
				}
				if turned := r.NullOffsetM < 0; turned != back[at] {
					t.Fatalf("%d ways, timed %v: row %d at %.1f m turned %v", ways, timed, at, r.StationM, turned)
				}
			}
		}
	}
}

// A receiver that is good to metres steps back now and then on a way that does not, and
// rows in no order go to and fro: neither turns a null.
func TestNullsStayWhereNothingTellsTheWay(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 8))
	loose, _ := there(1, 1.5, rng)
	shuffled, _ := there(2, 0.02, rng)
	rng.Shuffle(len(shuffled), func(a, b int) { shuffled[a], shuffled[b] = shuffled[b], shuffled[a] })
	for what, stations := range map[string][]float64{"loose": loose, "shuffled": shuffled} {
		rows := rowsAt(stations, false)
		for i := range rows {
			rows[i].HAccM = 1.5
			if what == "shuffled" {
				rows[i].HAccM = 0.02
			}
		}
		for _, r := range inStationOrder(rows) {
			if r.NullOffsetM < 0 {
				t.Errorf("%s: the null of row %d is turned", what, r.index)
			}
		}
	}
}
