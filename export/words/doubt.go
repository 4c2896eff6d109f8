package words

import (
	"slices"
	"sync"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// Doubt is why position and depth at a station are not to be taken as they
// stand.
type Doubt struct {
	trace.Finding
	Words string      // in short, to stand before a depth
	Grade trace.Grade // of bleed-over, else empty
	Watch bool        // to be taken with doubt; without it, not to be trusted
	edgeM float64     // how far it reaches beyond its stretch
	rank  int
	atM   float64 // where it begins on the line, of one that lies beside it and has no stretch
}

// holds reports whether the doubt is about a station.
func (d Doubt) holds(stationM float64) bool {
	from, to := d.stretch()
	return from-d.edgeM <= stationM && stationM <= to+d.edgeM
}

// stretch is from where to where on its line a doubt is.
func (d Doubt) stretch() (fromM, toM float64) {
	if from, to := d.Span(); trace.Known(from) || d.Role() != (finding.Gap{}).Role() {
		return from, to
	}
	return d.atM, d.atM
}

// doubtsOf are the doubts that a finding is about its line. What was not traced beside the
// line, or past an end of it, has its edge where it begins on the line, and where it comes
// back.
func doubtsOf(f trace.Finding, course func() *geo.PolylineIndex) []Doubt {
	d := doubts.Of(f)
	if d.rank == 0 {
		return nil
	}
	path := f.Where()
	if from, _ := f.Span(); trace.Known(from) || f.Role() != (finding.Gap{}).Role() || len(path) == 0 || course() == nil {
		return []Doubt{d}
	}
	var out []Doubt
	for _, end := range []geo.XY{path[0], path[len(path)-1]} {
		if foot := course().Nearest(end); end.Dist(foot.At) <= edgeM {
			at := d
			at.atM = foot.StationM
			out = append(out, at)
		}
	}
	return out
}

// courseOf is the drawn line, made when it is first asked for; nil where none is drawn.
func courseOf(l *trace.Line) func() *geo.PolylineIndex {
	return sync.OnceValue(func() *geo.PolylineIndex {
		if l.Centerline == nil || len(l.Centerline.Parts) == 0 {
			return nil
		}
		return l.Centerline.Polyline().Index()
	})
}

// unbounded reports a doubt that leaves open how far off the line may lie.
func (d Doubt) unbounded() bool {
	b, ok := d.Finding.(finding.BleedOver)
	return !d.Watch && (!ok || !trace.Known(shiftedM(b)))
}

// BandHolds reports a doubt that the line's own band was widened to hold.
func BandHolds(f trace.Finding) bool { return remark.BandHolds(f) }

// doubts ranks what each kind means for a depth at a station within its stretch;
// a kind without a rank of its own that needs a person's eyes counts as a doubt.
var doubts = finding.PerKind[Doubt]{
	BleedOver: func(f finding.BleedOver) Doubt {
		rank := map[trace.Grade]int{trace.GradeSuspect: 3, trace.GradeStrong: 4}[f.Grade]
		return Doubt{Finding: f, Words: Grade(f.Grade), Grade: f.Grade, Watch: rank == 0, edgeM: endM, rank: max(rank, 1)}
	},
	Doubt: func(f finding.Doubt) Doubt {
		if BandHolds(f) {
			return Doubt{Finding: f, Words: "line in doubt", Watch: true, edgeM: endM, rank: 1}
		}
		return Doubt{Finding: f, Words: "line in doubt", edgeM: endM, rank: 2}
	},
	Gap: func(f finding.Gap) Doubt {
		return Doubt{Finding: f, Words: "edge of a stretch not traced", edgeM: edgeM, rank: 2}
	},
	Crossing:         func(finding.Crossing) Doubt { return Doubt{} },
	FieldCheck:       func(finding.FieldCheck) Doubt { return Doubt{} }, // what a transmitter's own field makes doubtful is a doubt of its own
	ExposedCheck:     func(finding.ExposedCheck) Doubt { return Doubt{} },
	RecordDifference: func(finding.RecordDifference) Doubt { return Doubt{} }, // the trace stands as it was read
	Else: func(f trace.Finding) Doubt {
		if !f.NeedsEyes() {
			return Doubt{}
		}
		return Doubt{Finding: f, Words: "line in doubt", edgeM: endM, rank: 2}
	},
}

// doubtsAt are all doubts about a station, in the order of the findings.
func doubtsAt(l *trace.Line, stationM float64) []Doubt {
	return slices.DeleteFunc(doubtsOn(l), func(d Doubt) bool { return !d.holds(stationM) })
}

// doubtsOn are all doubts about a line, in the order of the findings.
func doubtsOn(l *trace.Line) []Doubt {
	var out []Doubt
	course := courseOf(l)
	for _, f := range l.Findings {
		out = append(out, doubtsOf(f, course)...)
	}
	return out
}

// gravest is the first of the highest rank, nil of none.
func gravest(ds []Doubt) *Doubt {
	var worst *Doubt
	for i := range ds {
		if worst == nil || ds[i].rank > worst.rank {
			worst = &ds[i]
		}
	}
	return worst
}

// StationLabel is the depth at a station for a drawing or a list; the doubt
// comes first.
func StationLabel(u geo.Units, l *trace.Line, v trace.Vertex) string {
	return At(l, v).DepthLabel(u)
}
