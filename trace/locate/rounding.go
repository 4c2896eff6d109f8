package locate

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// rounding is the step of the figures in which a file's positions were written,
// in metres to the east and to the north; 0 where they show none.
type rounding struct {
	eastM, northM float64
	grid          bool // the figures are eastings and northings
}

// roundingOf is the rounding of each file.
type roundingOf []rounding

// of is the rounding of a reading's file.
func (k roundingOf) of(r *trace.Reading) rounding {
	if int(r.File) < len(k) {
		return k[r.File]
	}
	return rounding{}
}

// roundings finds the rounding of each file from its figures as they were
// written: before anything is moved to another frame.
func roundings(rs []trace.Reading, files int) roundingOf {
	figures := make([]struct{ lon, lat, east, north []float64 }, files)
	for i := range rs {
		r := &rs[i]
		if int(r.File) >= files || r.Status != "" {
			continue
		}
		f := &figures[r.File]
		if trace.Known(r.Geographic.LonDeg) && trace.Known(r.Geographic.LatDeg) {
			f.lon, f.lat = append(f.lon, r.Geographic.LonDeg), append(f.lat, r.Geographic.LatDeg)
		} else if trace.Known(r.Projected[0]) && trace.Known(r.Projected[1]) {
			f.east, f.north = append(f.east, r.Projected[0]), append(f.north, r.Projected[1])
		}
	}
	out := make(roundingOf, files)
	for k, f := range figures {
		if d := receiver.Step(f.lon, f.lat); d > 0 {
			out[k] = rounding{d * perDegM * math.Cos(f.lat[0]*math.Pi/180), d * perDegM, false}
		} else if len(f.lon) == 0 {
			m := receiver.StepIn([]float64{1, geo.FootM, usSurveyFootM}, f.east, f.north)
			out[k] = rounding{m, m, true}
		}
	}
	return out
}

const (
	perDegM       = math.Pi / 180 * 6371000 // of latitude, mean radius
	usSurveyFootM = 1200.0 / 3937           // US survey foot (US Metric Law of 1866)
)

// sigmaM is what the rounding of one position hides, one sigma per axis: a step
// over the square root of twelve.
func (r rounding) sigmaM() float64 { return math.Max(r.eastM, r.northM) / math.Sqrt(12) }

// acrossM is by how much a line in a direction may be displaced by the rounding
// of its readings: half a step, less where the readings nearby fall on several
// steps, so that their roundings differ.
func (r rounding) acrossM(dir geo.XY, near []*trace.Reading) float64 {
	if r.eastM <= 0 {
		return 0
	}
	east, north := map[int64]bool{}, map[int64]bool{}
	for _, n := range near {
		e, no, e1, n1 := n.Geographic.LonDeg, n.Geographic.LatDeg, r.northM/perDegM, r.northM/perDegM
		if r.grid {
			e, no, e1, n1 = n.Projected[0], n.Projected[1], r.eastM, r.northM
		}
		east[int64(math.Round(e/e1))], north[int64(math.Round(no/n1))] = true, true
	}
	spread := func(steps map[int64]bool) float64 { return math.Sqrt(math.Max(1, float64(len(steps)))) }
	return (math.Abs(dir.Y)*r.eastM/spread(east) + math.Abs(dir.X)*r.northM/spread(north)) / 2
}
