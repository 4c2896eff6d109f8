package records

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// KnownCrossings finds where known lines, of reference layers and of earlier
// jobs, cross a traced line or come near it, as Crossings does for two traced
// ones: whoever digs there meets them too. A record is taken to come near where
// it may do so by what it is good for and, where its frame is not stated, by how
// far that may move it.
//
// The line's own record is compared with it (Compare) and crosses nothing.
// A record of another traced line is told where that line's trace does not tell
// of the same meeting already.
func KnownCrossings(s *trace.Sheet, index *Index) {
	own := make([]map[int]bool, len(s.Lines))
	reach := NearM + trace.RecordSigmaM + mostDoubtM(s.Records)
	for i := range s.Lines {
		own[i] = map[int]bool{}
		if c := s.Lines[i].Centerline; c != nil {
			for _, k := range index.Near(c, namedReachM) {
				own[i][k] = ownRecord(&s.Lines[i], s.Records[k])
			}
		}
	}
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Centerline == nil {
			continue
		}
		var found []finding.Crossing
		for _, k := range index.Near(l.Centerline, reach) {
			if own[i][k] {
				continue
			}
			for _, c := range recordMeetings(l, s.Records[k]) {
				if !knownByTrace(s, i, k, own, c) {
					found = append(found, c)
				}
			}
		}
		for _, c := range onceEach(l.Centerline, found, s.Records) {
			l.Findings = append(l.Findings, c)
		}
	}
}

func mostDoubtM(records []trace.Record) float64 {
	most := 0.0
	for _, r := range records {
		most = max(most, r.DoubtM)
	}
	return most
}

// ownRecord reports whether a record runs along a trace as its own would, so
// that the two are compared. A name alone does not make it so: two jobs may each
// have a line 1.
func ownRecord(l *trace.Line, r trace.Record) bool {
	if !sameLine(r, l.Setup) {
		return false
	}
	if named(r, l.Setup) {
		return len(offsetsTo(l.Centerline, geo.NewPolyline(r.Path), namedReachM)) >= 3
	}
	offs := offsetsTo(l.Centerline, geo.NewPolyline(r.Path), 3*MatchM)
	return len(offs) >= 3 && medianAbs(offs) <= MatchM+r.DoubtM
}

// knownByTrace reports whether a record's meeting with line i is one that the
// trace of the record's own line has with it. Where two lines run side by side,
// the places where they come closest say nothing and may lie far apart.
func knownByTrace(s *trace.Sheet, i, record int, own []map[int]bool, c finding.Crossing) bool {
	for j := range s.Lines {
		if j == i || !own[j][record] {
			continue
		}
		a, b := s.Lines[i].Setup.Name, s.Lines[j].Setup.Name
		for _, f := range slices.Concat(s.Lines[i].Findings, s.Lines[j].Findings) {
			t, ok := f.(finding.Crossing)
			if ok && !t.OnRecord() && (t.Line == a && t.Other == b || t.Line == b && t.Other == a) &&
				(c.SeparationM > 0 || t.At.Dist(c.At) <= MatchM) {
				return true
			}
		}
	}
	return false
}

// recordMeetings are the crossings of a record with a line or, without one, the
// place where it comes closest if that is near.
func recordMeetings(l *trace.Line, r trace.Record) []finding.Crossing {
	var crossed []finding.Crossing
	closest := finding.Crossing{SeparationM: math.Inf(1)}
	reachM := NearM + trace.RecordSigmaM + r.DoubtM
	path := geo.NewPolyline(r.Path)
	for _, p := range l.Centerline.Parts {
		for k := 1; k < len(p.Vertices); k++ {
			a, b := p.Vertices[k-1], p.Vertices[k]
			lo, hi := box([]geo.XY{a.Pos, b.Pos})
			for n := 1; n < len(r.Path); n++ {
				if q, t := r.Path[n-1], r.Path[n]; max(q.X, t.X) < lo[0]-reachM || min(q.X, t.X) > hi[0]+reachM ||
					max(q.Y, t.Y) < lo[1]-reachM || min(q.Y, t.Y) > hi[1]+reachM {
					continue
				}
				d, fa, fr := segmentDistance(a.Pos, b.Pos, r.Path[n-1], r.Path[n])
				if d > reachM || d > 0 && d >= closest.SeparationM {
					continue
				}
				c := finding.Crossing{Line: l.Setup.Name, Other: r.Name, Source: r.Source, At: a.Pos.Lerp(b.Pos, fa),
					StationM: a.StationM + fa*(b.StationM-a.StationM), SeparationM: d, DoubtM: r.DoubtM, DoubtWhy: r.DoubtWhy,
					OtherStationM: path.Station(n-1) + fr*(path.Station(n)-path.Station(n-1)), OtherDepthM: recordDepthM(r, n, fr)}
				c.DepthDifferenceM = c.OtherDepthM - (a.DepthM + fa*(b.DepthM-a.DepthM))
				if d == 0 {
					crossed = append(crossed, c)
				} else {
					closest = c
				}
			}
		}
	}
	if len(crossed) == 0 && !math.IsInf(closest.SeparationM, 1) {
		return []finding.Crossing{closest}
	}
	return crossed
}

// recordDepthM is the depth on record a share of the way along a record's leg;
// where one end's is not known, the other's stands for it.
func recordDepthM(r trace.Record, to int, share float64) float64 {
	if len(r.DepthM) != len(r.Path) {
		return trace.Unknown
	}
	a, b := r.DepthM[to-1], r.DepthM[to]
	switch {
	case !trace.Known(a):
		return b
	case !trace.Known(b):
		return a
	}
	return a + share*(b-a)
}

// onceEach leaves one of each meeting, by station: a record in pieces that go by
// one name meets the line once where piece joins piece, and one that sways about
// the line meets it once (as meetings has it for two traces).
func onceEach(c *trace.Centerline, found []finding.Crossing, records []trace.Record) []finding.Crossing {
	byStation := func(a, b finding.Crossing) int {
		return cmp.Or(cmp.Compare(a.StationM, b.StationM), cmp.Compare(a.Other, b.Other), cmp.Compare(a.Source, b.Source), cmp.Compare(a.SeparationM, b.SeparationM))
	}
	slices.SortStableFunc(found, byStation)
	pieces := map[knownLine][]*geo.PolylineIndex{}
	last := map[knownLine]int{} // index into out
	var out []finding.Crossing
	for _, f := range found {
		key := knownLine{f.Other, f.Source}
		n, seen := last[key]
		if seen && pieces[key] == nil {
			pieces[key] = piecesOf(key, records)
		}
		if seen && staysNearAny(c, pieces[key], out[n].StationM, f.StationM) {
			if f.SeparationM < out[n].SeparationM {
				out[n] = f
			}
			continue
		}
		last[key] = len(out)
		out = append(out, f)
	}
	slices.SortStableFunc(out, byStation)
	return out
}

// knownLine is what tells records apart for people.
type knownLine struct{ name, source string }

func piecesOf(key knownLine, records []trace.Record) []*geo.PolylineIndex {
	var out []*geo.PolylineIndex
	for _, r := range records {
		if r.Name == key.name && r.Source == key.source && len(r.Path) > 1 {
			out = append(out, geo.NewPolyline(r.Path).Index())
		}
	}
	return out
}

// nearStepM is the step in which a stretch is looked at for whether it stays near. Judgement.
const nearStepM = 0.25

// staysNearAny reports whether a line lies within NearM of some piece of a record
// all the way between two stations.
func staysNearAny(c *trace.Centerline, pieces []*geo.PolylineIndex, fromM, toM float64) bool {
	path := c.Polyline()
	for at := fromM; at < toM; at += nearStepM {
		p := path.At(at)
		if !slices.ContainsFunc(pieces, func(piece *geo.PolylineIndex) bool { return math.Abs(piece.Nearest(p).OffsetM) <= NearM }) {
			return false
		}
	}
	return true
}
