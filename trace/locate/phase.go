package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// leastAgainst is how many neighbouring readings against the signal's direction are no
// slip of the hand (common practice, no source).
const leastAgainst = 3

var _ = find(phaseDoubts)

// phaseDoubts tells of stretches along which the receiver showed the current flowing
// against the signal that was put on: that is how it flows back on another line. What
// the detector suspects there anyway is not told twice.
func phaseDoubts(l *trace.Line) (found []trace.Finding) {
	var run []*trace.Reading
	end := func() {
		if len(run) >= leastAgainst {
			from, to := run[0].StationM, run[len(run)-1].StationM
			if !suspectedOver(l, from, to) {
				from, to, path := l.Centerline.Stretch(from, to)
				found = append(found, finding.Doubt{Line: l.Setup.Name, FromM: from, ToM: to, Path: path, Why: remark.AgainstSignal{N: len(run)}})
			}
		}
		run = nil
	}
	for _, r := range byStation(l.Readings) {
		switch r.Phase {
		case trace.PhaseAgainst:
			run = append(run, r)
		case trace.PhaseWith:
			end()
		}
	}
	end()
	return found
}

// suspectedOver reports whether bleed-over is suspected over most of a stretch.
func suspectedOver(l *trace.Line, fromM, toM float64) bool {
	for _, f := range l.Findings {
		if b, ok := f.(finding.BleedOver); ok && b.Grade != trace.GradeWatch && min(toM, b.ToM)-max(fromM, b.FromM) > (toM-fromM)/2 {
			return true
		}
	}
	return false
}
