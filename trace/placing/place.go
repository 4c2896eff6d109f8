package placing

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// OutlierKm is how far from the rest of its line, or of its job, a position is impossible.
// Judgement.
const OutlierKm = 50.0

// placer puts readings into the plane of the job and says what it did.
type placer struct {
	inputs   []trace.Input
	anchors  []geo.LonLat // where the job is known to lie: transmitters, reference layers
	problems []trace.Problem
	found    []clean.Contradiction // rows that contradict themselves
	frame    geo.Frame             // of the job's positions, as far as it can be believed there
	datum    string                // as stated; empty once it cannot be believed
	features bool                  // the job has fixed features by east and north
}

// Placed is what is known of a job's readings once they have their place: the plane, the
// frame of the positions and its datum as far as they can be believed there, what is to
// be told, and the rows that contradict themselves.
type Placed struct {
	Plane    geo.Plane
	Frame    geo.Frame
	Datum    string // as stated; empty where it cannot be believed
	Problems []trace.Problem
	Found    []clean.Contradiction
}

// Place gives every reading of a job with a possible position its WGS 84 position and its
// place in the job's plane, and sets the others aside with the reason. It fails with a
// [trace.Problem] where the positions as a whole cannot be what the job says.
func Place(src trace.Source, frame geo.Frame) (Placed, error) {
	p := newPlacer(src, frame)
	plane, err := p.place(src.Readings)
	return Placed{plane, p.frame, p.datum, p.problems, p.found}, err
}

func newPlacer(src trace.Source, frame geo.Frame) placer {
	return placer{inputs: src.Inputs, anchors: anchors(src), frame: frame, datum: src.Job.Datum,
		features: slices.ContainsFunc(src.Job.Features, func(f trace.FixedFeature) bool { return f.Grid })}
}

// place gives every reading with a possible position its WGS 84 position and
// its place in the plane; the others are set aside with the reason.
func (p *placer) place(rs []trace.Reading) (geo.Plane, error) {
	if err := p.unproject(rs); err != nil {
		return geo.Plane{}, err
	}
	if err := p.needGrid(rs); err != nil {
		return geo.Plane{}, err
	}
	if err := p.needDegrees(rs); err != nil {
		return geo.Plane{}, err
	}
	p.checkRanges(rs)
	if err := p.restoreSigns(rs); err != nil {
		return geo.Plane{}, err
	}
	p.findSwapped(rs)
	if err := p.checkReach(rs); err != nil {
		return geo.Plane{}, err
	}
	if err := p.checkFrame(rs); err != nil {
		return geo.Plane{}, err
	}
	p.shift(rs)
	var possible []geo.LonLat
	for i := range rs {
		if rs[i].Status == "" {
			possible = append(possible, rs[i].Geographic)
		}
	}
	var origin geo.LonLat // of a job without a position, which draws nothing
	if len(possible) > 0 {
		origin = medianOf(possible)
	}
	plane := geo.NewPlane(origin)
	for i := range rs {
		if rs[i].Status == "" {
			rs[i].Pos = plane.XY(rs[i].Geographic)
		}
	}
	return plane, nil
}

// checkRanges sets aside what is no position on the globe.
func (p *placer) checkRanges(rs []trace.Reading) {
	for i := range rs {
		r := &rs[i]
		g := r.Geographic
		switch {
		case r.Status != "":
		case math.IsNaN(g.LonDeg) || math.IsNaN(g.LatDeg):
			r.SetAside(remark.NoPosition)
		case g.LonDeg == 0 && g.LatDeg == 0:
			r.SetAside(remark.ZeroPosition)
		case !g.Valid() && (geo.LonLat{LonDeg: g.LatDeg, LatDeg: g.LonDeg}).Valid():
			r.SetAside(remark.Swapped{At: g})
		case g.LonDeg > 180 && g.LonDeg <= 360 && math.Abs(g.LatDeg) <= 90:
			r.SetAside(remark.LongitudeOver{LonDeg: g.LonDeg})
		case !g.Valid():
			r.SetAside(remark.Impossible{At: g})
		}
	}
}

// restoreSigns finds files whose longitude or latitude lost its sign: as
// written they lie far from the rest of the job, and with the sign turned they
// lie with it. The rest is the other files and the transmitters' positions.
// The sign is turned, and said: half a map on another continent is no map.
func (p *placer) restoreSigns(rs []trace.Reading) error {
	byFile := map[int32][]int{}
	for i := range rs {
		if rs[i].Status == "" {
			byFile[rs[i].File] = append(byFile[rs[i].File], i)
		}
	}
	files := make([]int32, 0, len(byFile))
	for f := range byFile {
		files = append(files, f)
	}
	sort.Slice(files, func(a, b int) bool { return files[a] < files[b] })
	medians := make([]geo.LonLat, len(files))
	for k, f := range files {
		pos := make([]geo.LonLat, len(byFile[f]))
		for n, i := range byFile[f] {
			pos[n] = rs[i].Geographic
		}
		medians[k] = medianOf(pos)
	}
	for k, f := range files {
		here := medians[k]
		rest, sure, ok := p.elsewhere(medians, k)
		if !ok || geo.RoughKm(here, rest) < 2*OutlierKm {
			continue
		}
		for _, turn := range []geo.LonLat{{LonDeg: -1, LatDeg: 1}, {LonDeg: 1, LatDeg: -1}, {LonDeg: -1, LatDeg: -1}} {
			turned := geo.LonLat{LonDeg: here.LonDeg * turn.LonDeg, LatDeg: here.LatDeg * turn.LatDeg}
			if geo.RoughKm(turned, rest) > OutlierKm {
				continue
			}
			if !sure {
				return &trace.Problem{File: p.inputs[f].Name,
					Cause: fmt.Sprintf("this file and the only other place that the job knows (a transmitter, a record or another file) lie %.0f km apart, and would lie together if one of them had not lost the sign of its %s", geo.RoughKm(here, rest), turnedAxes(turn)),
					Hint:  "correct the sign where it is wrong"}
			}
			for _, i := range byFile[f] {
				rs[i].Geographic.LonDeg *= turn.LonDeg
				rs[i].Geographic.LatDeg *= turn.LatDeg
			}
			medians[k] = turned
			p.problems = append(p.problems, trace.Problem{File: p.inputs[f].Name, Warn: true,
				Cause: fmt.Sprintf("the sign of the %s is lost in the whole file: as written it lies %.0f km from the rest of the job", turnedAxes(turn), geo.RoughKm(here, rest)),
				Hint:  "the sign was reversed for this map; check the place, and correct the file at its source",
				Check: remark.SignTurned{File: p.inputs[f].Name}})
			break
		}
	}
	return nil
}

func turnedAxes(turn geo.LonLat) string {
	switch {
	case turn.LonDeg > 0:
		return "latitude"
	case turn.LatDeg > 0:
		return "longitude"
	}
	return "latitude and longitude"
}

// mostWitnesses is how many places are compared with each other. Judgement: time.
const mostWitnesses = 1000

// elsewhere returns where the rest of the job lies by its witnesses, which are
// the anchors and each other file: that with which most of them agree, the first
// of several. It is sure where two agree; a single one may itself be wrong, such
// as a transmitter typed without its sign.
func (p *placer) elsewhere(files []geo.LonLat, but int) (at geo.LonLat, sure, ok bool) {
	witnesses := slices.Concat(p.anchors, files[:but], files[but+1:])
	if len(witnesses) == 0 {
		return geo.LonLat{}, false, false
	}
	for len(witnesses) > mostWitnesses { // a national layer: every other one will do
		for i := range len(witnesses) / 2 {
			witnesses[i] = witnesses[2*i]
		}
		witnesses = witnesses[:len(witnesses)/2]
	}
	agree := 0
	for _, a := range witnesses {
		n := 0
		for _, b := range witnesses {
			if geo.RoughKm(a, b) <= OutlierKm {
				n++
			}
		}
		if n > agree {
			at, agree = a, n
		}
		if 2*n > len(witnesses) {
			break // no other place can have more
		}
	}
	return at, agree >= 2, true
}

// findSwapped looks, line by line, for rows far from the others that lie with
// them once latitude and longitude change places or a sign is turned, and sets
// aside whatever else is impossibly far.
func (p *placer) findSwapped(rs []trace.Reading) {
	center, _ := centers(rs)
	for i := range rs {
		r := &rs[i]
		if r.Status != "" {
			continue
		}
		g, c := r.Geographic, center[r.Line]
		far := geo.RoughKm(g, c)
		if far <= OutlierKm {
			continue
		}
		if s := slip(g, c); s != "" {
			r.SetAside(remark.Slipped{Slip: s, At: g})
		} else {
			r.SetAside(remark.FarOff{At: g, FarKm: far})
		}
	}
}

// medianOf is the component-wise median; longitudes are taken about the first
// one, so that a job on the antimeridian has its middle there and not in Africa.
func medianOf(pos []geo.LonLat) geo.LonLat {
	lon, lat := make([]float64, len(pos)), make([]float64, len(pos))
	for i, q := range pos {
		lon[i] = pos[0].LonDeg + math.Remainder(q.LonDeg-pos[0].LonDeg, 360)
		lat[i] = q.LatDeg
	}
	return geo.LonLat{LonDeg: math.Remainder(ranked.At(lon, len(lon)/2), 360), LatDeg: ranked.At(lat, len(lat)/2)}
}

// anchors are the places where the job is known to lie.
func anchors(src trace.Source) []geo.LonLat {
	var out []geo.LonLat
	for _, l := range src.Job.Lines {
		if l.Transmitter != nil {
			out = append(out, *l.Transmitter)
		}
	}
	for _, r := range src.Records {
		if len(r.Path) > 0 {
			out = append(out, r.Path[0])
		}
	}
	return out
}
