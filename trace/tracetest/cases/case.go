package cases

import (
	"math"

	"loamline.example/geo"
)

// Case is one small locate.
type Case struct {
	Name  string // mechanism/variant
	Shows string // what happens, in a few words
	Table []byte // the readings table, CSV
	Job   []byte // the job file, TOML; nil for none
	Truth Truth
	// Or holds further truths that fit the table as well as Truth does: what the
	// readings cannot decide. The map has to hold, or tell of, each of them.
	Or []Truth

	// Plain says that nothing is wrong with the locate: a map of it that tells
	// of anything cries wolf.
	Plain bool
	// Input says that the fault is in the table itself (columns that contradict
	// each other, a cell that cannot be read): the list of problems, which heads
	// every summary, then tells of it as well as the check list does.
	Input bool
}

// Truth is what lies in the ground, in WGS 84.
type Truth struct {
	Lines   []TrueLine
	Read    []Place // where readings were taken, as far as is known
	Exposed []Place // where the line was seen and measured
}

// TrueLine is a buried line, or one part of one: parts share a name.
type TrueLine struct {
	Name    string
	Path    []geo.LonLat
	DepthM  []float64 // to the centre, one a vertex; nil where depth is not the point
	GroundM float64   // level ground, in the frame of elev_m; NaN where it is not the point
}

// Place is a reading's place, or an exposure's with its depth, NaN for none.
type Place struct {
	Line   string
	At     geo.LonLat
	DepthM float64
}

// Moved is the truth with every line further north by some distance, read and
// exposed where it was.
func (t Truth) Moved(northM float64) Truth {
	lines := t.Lines
	t.Lines = nil
	for _, l := range lines {
		path := l.Path
		plane := geo.NewPlane(path[0])
		l.Path = nil
		for _, p := range path {
			l.Path = append(l.Path, plane.LonLat(plane.XY(p).Add(geo.XY{Y: northM})))
		}
		t.Lines = append(t.Lines, l)
	}
	return t
}

// Judge judges a map of the case; the worst of its truths decides.
func (c Case) Judge(geojson []byte, opt Options) (Judgement, error) {
	opt.ProblemsTell = opt.ProblemsTell || c.Input
	var worst Judgement
	for i, truth := range append([]Truth{c.Truth}, c.Or...) {
		j, err := Judge(geojson, truth, opt)
		if err != nil {
			return j, err
		}
		if i == 0 || j.Verdict > worst.Verdict {
			worst = j
			if i > 0 && len(worst.Why) > 0 {
				worst.Why[0] = "if the other is true: " + worst.Why[0]
			}
		}
	}
	return worst, nil
}

// Mechanism is the part of the name before the slash.
func (c Case) Mechanism() string {
	for i, r := range c.Name {
		if r == '/' {
			return c.Name[:i]
		}
	}
	return c.Name
}

var unknown = math.NaN()
