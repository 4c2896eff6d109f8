package locate

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// tellBothOfAMixUp tells the second line of a possible mix-up what the first one is told:
// where the marks of one line may lie on another and nothing shows which of the two they
// follow, the other's may lie on the first as well.
func tellBothOfAMixUp(s *trace.Sheet) {
	var told []finding.BleedOver
	for i := range s.Lines {
		for _, f := range s.Lines[i].Findings {
			if b, ok := f.(finding.BleedOver); ok && eitherLine(b) {
				told = append(told, b)
			}
		}
	}
	for _, b := range told {
		l := s.Drawn(b.Neighbor)
		if l == nil {
			continue
		}
		from, to := besideStations(l, b.Path)
		if !slices.ContainsFunc(told, func(o finding.BleedOver) bool {
			return o.Line == b.Neighbor && o.Neighbor == b.Line && o.FromM <= to && o.ToM >= from
		}) {
			l.Findings = append(l.Findings, otherHalf(b, l, from, to))
		}
	}
}

// eitherLine reports a jump of which nothing shows whose marks lie on the other line.
func eitherLine(b finding.BleedOver) bool {
	return b.Jump && named(b) && slices.Contains(b.Evidence, trace.Remark(remark.OrNeighborHere{Neighbor: b.Neighbor}))
}

// otherHalf is what a mix-up, found on one line, says of the other. Where the first must
// not be trusted neither must this one, and nothing bounds how far off it may lie: its own
// marks show no course that leaves them. What is only possible is as far off as the first
// line's courses lie apart, on whichever side.
func otherHalf(b finding.BleedOver, l *trace.Line, fromM, toM float64) trace.Finding {
	path := l.Centerline.Polyline().Slice(fromM, toM)
	if b.Grade != trace.GradeWatch {
		return finding.Doubt{Line: l.Setup.Name, FromM: fromM, ToM: toM, Path: path, Why: remark.MixedUp{Other: b.Line}}
	}
	far := max(b.WidenLeftM, b.WidenRightM)
	return finding.BleedOver{Line: l.Setup.Name, FromM: fromM, ToM: toM, Path: path, Grade: trace.GradeWatch,
		Score:    min(b.Score, 1-b.Score), // no likelier than the first, and not both
		Neighbor: b.Line, SeparationM: b.SeparationM, LikelyShiftM: trace.Unknown, Shift95M: trace.Unknown, LnDepth95: trace.Unknown, Jump: true,
		WidenLeftM: far, WidenRightM: far, Evidence: []trace.Remark{remark.OrNeighborHere{Neighbor: b.Line}}}
}

// besideStations is from where to where on a line a path lies beside it.
func besideStations(l *trace.Line, path []geo.XY) (fromM, toM float64) {
	index := l.Centerline.Polyline().Index()
	fromM, toM = math.Inf(1), math.Inf(-1)
	for _, p := range path {
		at := index.Nearest(p).StationM
		fromM, toM = min(fromM, at), max(toM, at)
	}
	return fromM, toM
}
