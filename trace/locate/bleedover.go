package locate

import (
	"context"
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/clean"
	"loamline.example/trace/finding"
	"loamline.example/trace/records"
	"loamline.example/trace/remark"
	"loamline.example/trace/transmitter"
)

// findBleedOver tests every line against the other lines of the job and the
// records, and adds what it finds, with the checks that were and were not
// possible. A record of a line that was traced is no neighbour of any: the trace
// stands for it.
func findBleedOver(ctx context.Context, s *trace.Sheet, known *records.Index) error {
	paths, lineOf := neighborPaths(s, known)
	index := bleed.NewIndex(paths)
	own := map[int][]int{} // its paths, by line
	for k, of := range lineOf {
		own[of] = append(own[of], k)
	}
	return eachLine(ctx, len(s.Lines), func(i int) error {
		l := &s.Lines[i]
		if l.Centerline == nil {
			return nil
		}
		line := bleedLine(s, l)
		line.Exclude = own[i]
		all := chainsOf(l.Centerline)
		for k, part := range alongChains(line, l.Centerline, all) {
			rep, err := bleed.Detect(ctx, part, index)
			if err != nil {
				return err
			}
			for _, st := range rep.Stretches {
				tellDoubt(&st, s)
				for _, x := range onCenterline(st, all[k], len(all) > 1) {
					x = onTheLine(x, endM(l.Centerline))
					x.Evidence = traceAgainAt(x, st)
					l.Findings = append(l.Findings, bleedFinding(l, x))
				}
			}
			l.Checked = addNew(l.Checked, rep.Notes)
			l.TryNext = addNew(l.TryNext, rep.Advice)
		}
		checks, doubts := judgeFieldChecks(l, line)
		for _, c := range checks {
			l.Findings = append(l.Findings, c)
		}
		for _, d := range doubts {
			l.Findings = append(l.Findings, d)
		}
		return nil
	})
}

// alongChains is a line as the detector wants it, along each of its chains.
func alongChains(line bleed.Line, of *trace.Centerline, all []chain) []bleed.Line {
	if len(all) == 1 {
		return []bleed.Line{line}
	}
	out := make([]bleed.Line, len(all))
	for k, c := range all {
		out[k] = line
		out[k].Path, out[k].TeesM, out[k].Readings = partPath(line.Name, c.vertices(of)), c.tees(), nil
	}
	links := linksOf(all)
	for _, r := range line.Readings {
		if k, at, ok := links.along(r.StationM); ok {
			r.StationM = at
			out[k].Readings = append(out[k].Readings, r)
		}
	}
	for k := range out {
		for i, other := range out {
			if i != k {
				out[k].Ways = append(out[k].Ways, bleed.Way{Points: other.Points, Readings: other.Readings})
			}
		}
	}
	return out
}

// onCenterline is a stretch of a chain as stretches of the centerline.
func onCenterline(st bleed.Stretch, c chain, cut bool) []bleed.Stretch {
	if !cut || math.IsNaN(st.FromM) || math.IsNaN(st.ToM) {
		return []bleed.Stretch{st}
	}
	var out []bleed.Stretch
	for _, p := range c.back(st.FromM, st.ToM) {
		x := st
		x.FromM, x.ToM = p.fromM, p.toM
		out = append(out, x)
	}
	return out
}

// addNew adds the remarks that are not there yet; those of the detector on a line as a
// whole have no figures, and can be compared.
func addNew(to, more []trace.Remark) []trace.Remark {
	for _, r := range more {
		if !slices.Contains(to, r) {
			to = append(to, r)
		}
	}
	return to
}

// tellDoubt adds to the evidence on a neighbour that is a record how far off it
// may lie for its frame alone, where the detector has not said so itself.
func tellDoubt(st *bleed.Stretch, s *trace.Sheet) {
	for _, r := range s.Records {
		if r.Name != st.Neighbor || r.DoubtM <= 0 {
			continue
		}
		if !slices.ContainsFunc(st.Evidence, doubtsRecord) {
			st.Evidence = append(st.Evidence, remark.RecordUncertain{Record: r.Name, Doubt: records.Doubt(r)})
		}
		if st.SeparationM <= r.DoubtM {
			st.SeparationM = trace.Unknown
		}
		return
	}
}

// doubtsRecord reports whether evidence says how far off its record may lie.
func doubtsRecord(e trace.Remark) bool {
	switch e := e.(type) {
	case remark.CloseRun:
		return e.Doubt.OffM > 0
	case remark.RecordAnywhere:
		return true
	}
	return false
}

// neighborPaths lists everything that may be a neighbour: each line's traced
// parts, then the records of lines that were not traced. lineOf tells the line a
// path belongs to, -1 for a record.
func neighborPaths(s *trace.Sheet, known *records.Index) (paths []bleed.Path, lineOf []int) {
	traced := map[int]bool{} // records of traced lines
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Centerline == nil {
			continue
		}
		for _, p := range l.Centerline.Parts {
			paths = append(paths, partPath(l.Setup.Name, p.Vertices))
			lineOf = append(lineOf, i)
		}
		main := mainOf(chainsOf(l.Centerline)) // a record need not have a branch that was traced
		for _, k := range known.Near(l.Centerline, records.MatchM) {
			traced[k] = traced[k] || records.IsOf(l, s.Records[k], main.has)
		}
	}
	for k, r := range s.Records {
		if traced[k] {
			continue
		}
		sigma := make([]float64, len(r.Path))
		for i := range sigma {
			sigma[i] = math.Hypot(trace.RecordSigmaM, r.DoubtM)
		}
		paths = append(paths, bleed.Path{Name: r.Name, Points: r.Path, DepthM: r.DepthM, SigmaM: sigma, Reference: true, DoubtM: r.DoubtM, DoubtWhy: r.DoubtWhy, Utility: r.Utility})
		lineOf = append(lineOf, -1)
	}
	return paths, lineOf
}

func partPath(name string, vs []trace.Vertex) bleed.Path {
	p := bleed.Path{Name: name}
	for _, v := range vs {
		p.Points = append(p.Points, v.Pos)
		p.DepthM = append(p.DepthM, v.DepthM)
		p.SigmaM = append(p.SigmaM, v.Horizontal95M/1.96)
	}
	return p
}

// bleedLine is a traced line as the detector wants it. Gaps are bridged: the
// stations are the centerline's own.
func bleedLine(s *trace.Sheet, l *trace.Line) bleed.Line {
	var vs []trace.Vertex
	for _, p := range l.Centerline.Parts {
		vs = append(vs, p.Vertices...)
	}
	// A copy of a reading is no second witness.
	readings := l.Readings
	if slices.ContainsFunc(readings, func(r trace.Reading) bool { return r.Repeated() }) {
		readings = slices.DeleteFunc(slices.Clone(readings), func(r trace.Reading) bool { return r.Repeated() })
	}
	out := bleed.Line{Path: partPath(l.Setup.Name, vs), Readings: readings, AntennaGapM: clean.AntennaGapM(trace.Trace{Readings: readings}, s.Job.AntennaGap), PowerW: l.Setup.PowerW}
	out.Transmitter, out.TransmitterInferred = transmitter.At(readings, l.Setup, s.Plane)
	out.Utility = l.Setup.Utility
	return out
}

func bleedFinding(l *trace.Line, st bleed.Stretch) finding.BleedOver {
	return finding.BleedOver{Line: l.Setup.Name, FromM: st.FromM, ToM: st.ToM, Path: l.Centerline.Polyline().Slice(st.FromM, st.ToM),
		Grade: st.Grade, Score: st.Score, Neighbor: st.Neighbor, SeparationM: st.SeparationM, Evidence: st.Evidence,
		LikelyShiftM: st.ShiftM, Shift95M: st.Shift95M, LikelySide: st.Side,
		WidenLeftM: finite(st.WidenLeftM), WidenRightM: finite(st.WidenRightM), LnDepth95: st.LnDepth95, Jump: st.Jump, OwnCourse: st.Own}
}

// finite holds a widening to a number that a zone can be drawn with.
func finite(m float64) float64 {
	if math.IsNaN(m) || m < 0 {
		return 0
	}
	return m
}
