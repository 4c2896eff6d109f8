package placing

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// unproject turns eastings and northings into longitude and latitude of the
// job's own frame. A place far outside the area of the reference system is set
// aside: there the code, the unit or a digit is wrong.
//
// A row that has degrees too must have the same place twice.
func (p *placer) unproject(rs []trace.Reading) error {
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
				r.SetAside(remark.NoGrid{CRS: crs.ID()})
			}
			continue
		}
		g, err := crs.Unproject(e, n)
		if err != nil {
			r.SetAside(remark.NotProjected{Why: err.Error()})
			continue
		}
		both.add(r, g)
		if r.Geographic = g; !crs.Covers(g) {
			r.SetAside(remark.OutsideCRS{Name: crs.Name, CRS: crs.ID(), EastM: e, NorthM: n})
		}
	}
	found, err := both.judge(p.inputs)
	p.found = append(p.found, found...)
	return err
}

// shift carries the positions from the job's frame to WGS 84.
func (p *placer) shift(rs []trace.Reading) {
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
func (p *placer) needGrid(rs []trace.Reading) error {
	for i := range rs {
		if math.IsNaN(rs[i].Projected[0]) || rs[i].Status == "" {
			return nil
		}
	}
	if len(rs) == 0 || !p.frame.CRS.Geographic() {
		return nil
	}
	return &trace.Problem{File: p.inputs[rs[0].File].Name, Cause: "the positions are eastings and northings, and the job names no grid to read them in",
		Hint: "set crs to the grid's EPSG code in the job file, or with --crs EPSG:…"}
}
