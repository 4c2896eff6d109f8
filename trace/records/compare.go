package records

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// When a record is of a traced line, and when it differs. Judgement.
const (
	// MatchM is how far a record may lie from a trace, at the median, to be
	// taken for the same line.
	MatchM = 5.0
	// namedReachM is how far off a record is looked for that goes by the trace's own name:
	// across a street with both its verges.
	namedReachM = 30.0
	// minDifferenceM is the shortest stretch of disagreement worth a finding.
	minDifferenceM = 3.0
	// maxKink is the least cosine between record and trace where the two are
	// taken to run side by side and not to cross.
	maxKink = 0.7
)

// Compare lays each trace over the records of the same line and says how
// far they lie apart: a note for each record that runs along it, and a finding
// for each stretch where they disagree by more than both bands explain. Where
// several records may be meant, the nearest at each place counts; but where a layer
// has a record of the trace's own name, that is the one meant, however far off it lies
// and whatever lies nearer: the trace may follow the wrong one of two mains.
func Compare(s *trace.Sheet, index *Index) {
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Centerline == nil {
			continue
		}
		near := index.Near(l.Centerline, namedReachM)
		for n, offs := range nearestRecords(s, l, near) {
			record := s.Records[near[n]]
			if len(offs) < 3 || medianAbs(offs) > MatchM && !named(record, l.Setup) {
				continue
			}
			mean, largest := summarize(offs)
			l.Checked = append(l.Checked, remark.ComparedWith{Record: record.Name, Source: record.Source, MeanM: mean, LargestM: largest, Doubt: Doubt(record)})
			for _, o := range offs {
				l.Compared = append(l.Compared, trace.RecordOffset{Record: record.Name, Source: record.Source,
					StationM: o.stationM, OffsetM: o.offsetM, AllowedM: o.allowedM})
			}
			l.Findings = append(l.Findings, differences(l, record, offs)...)
		}
	}
}

// Doubt says of a comparison what the record's frame alone explains of it.
func Doubt(r trace.Record) remark.RecordDoubt {
	return remark.RecordDoubt{OffM: r.DoubtM, Why: r.DoubtWhy}
}

// nearestRecords returns, for each of the records named, its offsets at the
// vertices of the trace where it is the nearest that may be of this line. Where one
// goes by the line's name, no other may be.
func nearestRecords(s *trace.Sheet, l *trace.Line, records []int) [][]offsetAt {
	type place struct{ part, vertex int }
	best, byName := map[place]float64{}, map[place]bool{}
	all := make([][]offsetAt, len(records))
	for k, n := range records {
		r := s.Records[n]
		if !sameLine(r, l.Setup) {
			continue
		}
		reachM, its := 3*MatchM, named(r, l.Setup)
		if its {
			reachM = namedReachM
		}
		all[k] = offsetsTo(l.Centerline, geo.NewPolyline(r.Path), reachM)
		for i := range all[k] {
			all[k][i].allowedM += r.DoubtM
		}
		for _, o := range all[k] {
			at := place{o.part, o.vertex}
			if d, ok := best[at]; !ok || its && !byName[at] || its == byName[at] && math.Abs(o.offsetM) < d {
				best[at] = math.Abs(o.offsetM)
			}
			byName[at] = byName[at] || its
		}
	}
	for k, n := range records {
		its := named(s.Records[n], l.Setup)
		kept := all[k][:0]
		for _, o := range all[k] {
			if at := (place{o.part, o.vertex}); math.Abs(o.offsetM) <= best[at] && its == byName[at] {
				kept = append(kept, o)
			}
		}
		all[k] = kept
	}
	return all
}

// named reports whether a layer has the record by the trace's own name.
func named(r trace.Record, setup trace.LineSetup) bool {
	return !r.Earlier && r.Name != "" && r.Name == setup.Name
}

// sameLine reports whether a record may be of the traced line: the same class of
// utility, or the same name where not both classes are known. Two lines of two classes
// that go by one name, as line 1 of two jobs may, are two lines.
func sameLine(r trace.Record, setup trace.LineSetup) bool {
	if r.Utility.Known() && setup.Utility.Known() {
		return r.Utility == setup.Utility
	}
	return r.Name != "" && r.Name == setup.Name
}

// offsetAt is the record's signed distance from one vertex of the trace,
// positive where the record lies to the right.
type offsetAt struct {
	part, vertex      int
	stationM, offsetM float64
	allowedM          float64
}

// offsetsTo are those of a record at the vertices that it runs beside, within reachM.
func offsetsTo(c *trace.Centerline, record geo.Polyline, reachM float64) []offsetAt {
	if len(record.Points) < 2 {
		return nil
	}
	var out []offsetAt
	near := record.Index()
	for pi, p := range c.Parts {
		path := geo.NewPolyline(p.Path())
		for vi, v := range p.Vertices {
			f := near.Nearest(v.Pos)
			if f.StationM <= 0 || f.StationM >= record.Length() || math.Abs(f.OffsetM) > reachM {
				continue // past the record's ends, or far off
			}
			dir := path.Direction(path.Station(vi))
			along := dir.Dot(record.Direction(f.StationM))
			if math.Abs(along) < maxKink {
				continue
			}
			off := f.At.Sub(v.Pos)
			d := off.Norm()
			if dir.Cross(off) > 0 {
				d = -d
			}
			band := 0.0
			if trace.Known(v.Horizontal95M) {
				band = v.Horizontal95M
			}
			out = append(out, offsetAt{pi, vi, v.StationM, d, math.Hypot(band, 1.96*trace.RecordSigmaM)})
		}
	}
	return out
}

func medianAbs(offs []offsetAt) float64 {
	a := make([]float64, len(offs))
	for i, o := range offs {
		a[i] = math.Abs(o.offsetM)
	}
	return ranked.Median(a)
}

// summarize returns the mean and the largest signed offset.
func summarize(offs []offsetAt) (mean, largest float64) {
	for _, o := range offs {
		mean += o.offsetM / float64(len(offs))
		if math.Abs(o.offsetM) > math.Abs(largest) {
			largest = o.offsetM
		}
	}
	return mean, largest
}

// differences are the runs of vertices at which the record lies outside what
// both bands explain.
func differences(l *trace.Line, r trace.Record, offs []offsetAt) []trace.Finding {
	var out []trace.Finding
	for i := 0; i < len(offs); {
		j := i
		for j < len(offs) && math.Abs(offs[j].offsetM) > offs[j].allowedM && (j == i || offs[j].part == offs[i].part && offs[j].vertex == offs[j-1].vertex+1) {
			j++
		}
		if j == i {
			i++
			continue
		}
		run := offs[i:j]
		from, to := run[0].stationM, run[len(run)-1].stationM
		if to-from >= minDifferenceM {
			mean, largest := summarize(run)
			allowed := 0.0
			for _, o := range run {
				allowed = math.Max(allowed, o.allowedM)
			}
			path := make([]geo.XY, 0, len(run))
			for _, o := range run {
				path = append(path, l.Centerline.Parts[o.part].Vertices[o.vertex].Pos)
			}
			out = append(out, finding.RecordDifference{Line: l.Setup.Name, Record: r.Name, FromM: from, ToM: to, Path: path,
				MeanOffsetM: mean, LargestOffsetM: largest, AllowedM: allowed})
		}
		i = j
	}
	return out
}
