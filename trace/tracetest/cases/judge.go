package cases

import (
	"fmt"
	"math"
	"slices"

	"loamline.example/geo"
)

// Verdict says what a map is to the person who digs by it.
type Verdict int

// The verdicts.
const (
	Drawn  Verdict = iota // the truth lies within band and zone
	Told                  // it does not, and the map says so where it does not
	Silent                // wrong, and looks sure
)

func (v Verdict) String() string { return [...]string{"drawn", "told", "SILENT"}[v] }

// Judgement is a verdict with its reasons.
type Judgement struct {
	Verdict Verdict
	Why     []string // what is wrong, told or not
	Items   []string // of the check list, without the frame's
	// ReadM is how much true line was read, UntoldM how much of it neither lies in
	// the zone of its line nor is told of.
	ReadM, UntoldM float64
}

// Options choose how strict the judge is.
type Options struct {
	// BandFactor is how many half-widths of a 95 % band count as within it; 0 is
	// one. Where thousands of maps are judged, one in twenty errors is outside by
	// right, and correlated errors take whole lines with them: then a larger
	// factor asks for what chance cannot do.
	BandFactor float64
	// ProblemsTell counts the list of problems as telling of the whole job.
	ProblemsTell bool
}

const (
	sampleM = 0.25 // of true and drawn lines
	// slackM is for rounding in files and for the zone's own flattening.
	slackM = 0.005
	// looseM is how much true line may lie outside zone and told stretches: half
	// a metre at the two ends together, where a reading's own error moves the end.
	looseM = 0.5
	// mostlyWithin is the share of the drawn length that has to hold the truth:
	// a 95 % band may miss by chance.
	mostlyWithin = 0.90
	// grossM and grossFactor say what no chance does: a run of a metre that is
	// wrong by twice the band and this much more.
	grossM      = 0.15
	grossFactor = 2
	grossRunM   = 1.0
	// sideM is how far beside a told stretch the truth may lie, beyond the
	// stretch's own length, and still be told of by it.
	sideM = 3.0
	// exposedNoiseM is the 95 % error of a measured exposure.
	exposedNoiseM = 0.03
	exposedDepthM = 0.05
)

// Refused is the judgement of a locate of which no map was made: the reader is
// told, by an error and the exit status.
func Refused(err error) Judgement {
	return Judgement{Verdict: Told, Why: []string{"refused: " + err.Error()}}
}

// Judge compares a map with the truth. Every metre of true line between the
// first and the last place read lies in the caution zone of its name, the drawn
// line's bands hold the truth in position and depth on nine tenths of its length
// and are nowhere grossly wrong, every exposure lies within them, or the map
// tells of it there.
func Judge(geojson []byte, truth Truth, opt Options) (Judgement, error) {
	if opt.BandFactor == 0 {
		opt.BandFactor = 1
	}
	j := judge{opt: opt, truth: truth, plane: geo.NewPlane(truth.Lines[0].Path[0])}
	var err error
	if j.m, err = readMap(geojson, j.plane); err != nil {
		return Judgement{}, err
	}
	for _, t := range truth.Lines {
		b := buriedPart{name: t.Name, depthM: t.DepthM, groundM: t.GroundM}
		var path []geo.XY
		for _, p := range t.Path {
			path = append(path, j.plane.XY(p))
		}
		b.path = geo.NewPolyline(path)
		j.parts = append(j.parts, b)
	}
	j.out.Items = []string{}
	for _, a := range j.m.advice {
		j.out.Items = append(j.out.Items, a.words)
	}
	j.readStretches()
	for i := range j.parts {
		j.coverage(&j.parts[i])
	}
	for _, name := range j.names() {
		j.bands(name)
	}
	j.exposures()
	return j.out, nil
}

type judge struct {
	opt   Options
	plane geo.Plane
	truth Truth
	parts []buriedPart
	m     *written
	out   Judgement
}

// buriedPart is a true line in the plane, with the stretch that was read.
type buriedPart struct {
	name       string
	path       geo.Polyline
	depthM     []float64
	groundM    float64
	fromM, toM float64 // the stretch read; to before from where none was
}

// names are the names of the true lines, in order.
func (j *judge) names() []string {
	var out []string
	for _, p := range j.parts {
		if !slices.Contains(out, p.name) {
			out = append(out, p.name)
		}
	}
	return out
}

// fault notes that something is wrong, told there or not.
func (j *judge) fault(isTold bool, format string, args ...any) {
	words := fmt.Sprintf(format, args...)
	if j.opt.ProblemsTell && j.m.problems > 0 {
		isTold = true
	}
	if isTold {
		j.out.Verdict = max(j.out.Verdict, Told)
		words += " (told)"
	} else {
		j.out.Verdict = Silent
	}
	j.out.Why = append(j.out.Why, words)
}

// readStretches finds the first and last place read on every true line.
func (j *judge) readStretches() {
	for i := range j.parts {
		j.parts[i].fromM, j.parts[i].toM = math.Inf(1), math.Inf(-1)
	}
	for _, r := range j.truth.Read {
		if p, f, _ := j.nearestTrue(r.Line, j.plane.XY(r.At)); p != nil {
			p.fromM, p.toM = min(p.fromM, f.StationM), max(p.toM, f.StationM)
		}
	}
	for i := range j.parts {
		// A closed line is read where it meets itself, at either end of it.
		p := &j.parts[i]
		if n := len(p.path.Points); p.path.Points[0].Dist(p.path.Points[n-1]) < 0.5 && p.toM-p.fromM > 0.8*p.path.Length() {
			p.fromM, p.toM = 0, p.path.Length()
		}
	}
}

// nearestTrue is the true line of a name that lies nearest to a place.
func (j *judge) nearestTrue(name string, q geo.XY) (*buriedPart, geo.Foot, float64) {
	var best *buriedPart
	var foot geo.Foot
	dist := math.Inf(1)
	for i := range j.parts {
		if p := &j.parts[i]; p.name == name {
			if f := p.path.Nearest(q); f.At.Dist(q) < dist {
				best, foot, dist = p, f, f.At.Dist(q)
			}
		}
	}
	return best, foot, dist
}

func (p *buriedPart) depthAt(f geo.Foot) float64 {
	if p.depthM == nil {
		return unknown
	}
	if len(p.path.Points) < 2 {
		return p.depthM[0]
	}
	i := min(f.Segment, len(p.path.Points)-2)
	a, b := p.path.Station(i), p.path.Station(i+1)
	if b <= a {
		return p.depthM[i]
	}
	return value(p.depthM, i, min(1, max(0, (f.StationM-a)/(b-a))))
}

// coverage asks whether every metre of a true line is in a zone or told of.
func (j *judge) coverage(p *buriedPart) {
	if p.toM <= p.fromM {
		return
	}
	n := max(1, int(math.Ceil((p.toM-p.fromM)/sampleM)))
	step := (p.toM - p.fromM) / float64(n)
	var silent, loud, worst float64
	d := j.m.lines[p.name]
	for i := range n {
		q := p.path.At(p.fromM + (float64(i)+0.5)*step)
		if d != nil && d.holds(q) {
			continue
		}
		if j.toldAt(p.name, q) {
			loud += step
		} else {
			silent += step
			if d != nil {
				worst = max(worst, d.distance(q))
			}
		}
	}
	j.out.ReadM += p.toM - p.fromM
	j.out.UntoldM += silent
	if silent > looseM {
		j.fault(false, "%.1f of %.1f m of %s outside its zone, up to %.2f m from what is drawn", silent, p.toM-p.fromM, p.name, worst)
	} else if loud > looseM {
		j.fault(true, "%.1f of %.1f m of %s outside its zone", loud, p.toM-p.fromM, p.name)
	}
}

// distance is how far a place lies from what is drawn.
func (d *drawn) distance(q geo.XY) float64 {
	best := math.Inf(1)
	for _, p := range d.parts {
		best = min(best, p.path.Nearest(q).At.Dist(q))
	}
	return best
}
