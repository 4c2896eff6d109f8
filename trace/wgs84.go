package trace

import (
	"math"
	"slices"
	"time"

	"loamline/geo"
)

// Frame resolves the job's reference system, datum and epoch. Where no epoch is
// stated the day of the job stands for it: that is when the positions were taken.
func (j Job) Frame() (geo.Frame, error) {
	epoch := j.Epoch
	if math.IsNaN(epoch) {
		epoch = 0
	}
	if day, err := time.Parse(time.DateOnly, j.Date); err == nil && epoch == 0 {
		epoch = decimalYear(day)
	}
	return geo.NewFrame(j.CRS, j.Datum, epoch)
}

// datedBy returns the job with the day of its readings as epoch, where neither
// epoch nor date is stated: a frame on a moving plate is decimetres off after ten
// years. The median stands for all, so that a clock that was not set yet counts
// for little.
func (j Job) datedBy(rs []Reading) Job {
	if j.Epoch > 0 || j.Date != "" {
		return j
	}
	var times []time.Time
	for i := range rs {
		if y := rs[i].Time.Year(); y >= 1980 && y < 2100 {
			times = append(times, rs[i].Time)
		}
	}
	if len(times) > 0 {
		slices.SortFunc(times, time.Time.Compare)
		j.Epoch = math.Round(decimalYear(times[len(times)/2])*100) / 100
	}
	return j
}

// decimalYear gives a day as a year with a fraction, to a few hours.
func decimalYear(t time.Time) float64 {
	t = t.UTC()
	year := time.Date(t.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	return float64(t.Year()) + t.Sub(year).Hours()/24/365.25
}

// unproject turns eastings and northings into longitude and latitude of the
// job's own frame. A place far outside the area of the reference system is set
// aside: there the code, the unit or a digit is wrong.
//
// A row that has degrees too must have the same place twice.
func (p *placer) unproject(rs []Reading) error {
	crs := p.frame.CRS
	both := newPairs(crs)
	for i := range rs {
		r := &rs[i]
		e, n := r.Projected[0], r.Projected[1]
		if r.Status != "" || math.IsNaN(e) || math.IsNaN(n) {
			continue
		}
		if crs.Geographic() {
			if math.IsNaN(r.Geographic.LonDeg) {
				r.setAside("east and north without a grid to read them in, set crs to its EPSG code: %s has none", crs.ID())
			}
			continue
		}
		g, err := crs.Unproject(e, n)
		if err != nil {
			r.setAside("impossible position: %v", err)
			continue
		}
		both.add(r, g)
		if r.Geographic = g; !crs.Covers(g) {
			r.setAside("far outside the area of %s, check crs and whether the columns are metres, feet or US survey feet: easting %.2f m, northing %.2f m in %s", crs.Name, e, n, crs.ID())
		}
	}
	problems, err := both.judge(p.inputs)
	p.problems = append(p.problems, problems...)
	return err
}

// shift carries the positions from the job's frame to WGS 84.
func (p *placer) shift(rs []Reading) {
	if !p.frame.Datum.Moves() {
		return
	}
	for i := range rs {
		if rs[i].Status == "" {
			rs[i].Geographic = p.frame.ToWGS84(rs[i].Geographic)
		}
	}
}

// needGrid refuses a job all of whose positions are eastings and northings that
// no reference system is named for: nothing in it could be drawn.
func (p *placer) needGrid(rs []Reading) error {
	for i := range rs {
		if math.IsNaN(rs[i].Projected[0]) || rs[i].Status == "" {
			return nil
		}
	}
	if len(rs) == 0 || !p.frame.CRS.Geographic() {
		return nil
	}
	return &Problem{File: p.inputs[rs[0].File].Name, Cause: "the positions are eastings and northings, and the job names no grid to read them in",
		Hint: "set crs to the grid's EPSG code in the job file, or with --crs EPSG:…"}
}
