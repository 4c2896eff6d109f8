package locate

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/clean"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// doubtDepths tells of a line whose depths are deeper than the method reads well
// throughout, and has the band hold a tenth of them: a lost decimal point makes that of
// every row alike.
func doubtDepths(l *trace.Line) {
	var read []*trace.Reading
	for i := range l.Readings {
		r := &l.Readings[i]
		if r.Status != trace.StatusUsed && r.Status != trace.StatusExposed || !trace.Known(r.DepthM) || r.DepthDropped {
			continue
		}
		if r.Exposed {
			return
		}
		read = append(read, r)
	}
	if !clean.DeepThroughout(read) {
		return
	}
	for _, p := range l.Centerline.Parts {
		for k := range p.Vertices {
			v := &p.Vertices[k]
			// The band of a tenfold depth holds a tenth of it, and half of that to spare.
			// Judgement.
			v.Depth95M = math.Max(v.Depth95M, 0.95*v.DepthM)
		}
	}
	line := l.Centerline.Polyline()
	l.Findings = append(l.Findings, finding.Doubt{Line: l.Setup.Name, FromM: 0, ToM: line.Length(), Path: line.Points,
		Why: remark.DepthsOfATenth{}})
}
