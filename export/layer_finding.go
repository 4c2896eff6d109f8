package export

import (
	"iter"

	"loamline/geo"
	"loamline/trace"
)

var (
	fromColumn = column{Name: "from_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "station at which the stretch begins", Contract: true, Always: true}
	toColumn   = column{Name: "to_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "station at which it ends", Contract: true, Always: true}
	atColumn   = column{Name: "station_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "station on the line"}
	words      = column{Name: "words", Type: typeTexts, Words: "the finding in sentences, in the job's units", Always: true}
)

var bleedOverLayer = layer{
	Role: "bleed_over", Shape: shapeLine,
	Words: "a stretch where the signal is suspected to come, in part or in whole, from another line",
	Columns: []column{
		fromColumn, toColumn,
		{Name: "grade", Type: typeText, Words: "watch, suspect or strong", Contract: true, Always: true, Enum: []string{"watch", "suspect", "strong"}},
		{Name: "score", Type: typeReal, Decimals: 3, Words: "0 to 1", Contract: true, Always: true},
		{Name: "neighbor", Type: typeText, Words: "the other line, or unknown", Contract: true},
		{Name: "separation_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "distance of the other line", Contract: true},
		{Name: "evidence", Type: typeTexts, Words: "what speaks for it, with figures", Contract: true, Always: true},
		{Name: "likely_shift_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "how far the true line probably lies from the mark; null where it cannot be told", Contract: true},
		{Name: "likely_shift_95_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "half-width of its 95 % band", Contract: true},
		{Name: "likely_side", Type: typeText, Words: "left or right: where the true line lies, seen from the mark in the direction of travel", Contract: true, Enum: []string{"left", "right"}},
		{Name: "jump", Type: typeBoolean, Words: "the trace left its line and lies on the neighbour", Always: true},
		{Name: "widen_left_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "by how much the caution zone grew on the left"},
		{Name: "widen_right_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "by how much it grew on the right"},
		words,
	},
	Each: eachFinding(func(f *feature, b trace.BleedOver) {
		f.Path = b.Path
		f.Values = append(f.Values,
			realValue(b.FromM), realValue(b.ToM), textValue(string(b.Grade)), realValue(b.Score),
			textValue(b.Neighbor), realValue(b.SeparationM), textsValue(b.Evidence),
			realValue(b.LikelyShiftM), realValue(b.Shift95M), textValue(string(b.LikelySide)),
			booleanValue(b.Jump), realValue(b.WidenLeftM), realValue(b.WidenRightM))
	}),
}

var gapLayer = layer{
	Role: "gap", Shape: shapeLine,
	Words:   "a stretch with too few usable readings to be called traced; its course is only a bridge",
	Columns: []column{fromColumn, toColumn, {Name: "why", Type: typeText, Words: "why it is not traced", Contract: true}, words},
	Each: eachFinding(func(f *feature, g trace.Gap) {
		f.Path = g.Path
		f.Values = append(f.Values, realValue(g.FromM), realValue(g.ToM), textValue(g.Why))
	}),
}

var doubtLayer = layer{
	Role: "doubt", Shape: shapeLine,
	Words:   "a stretch of a line, or places beside it, where the map must not be trusted as it stands",
	Columns: []column{fromColumn, toColumn, {Name: "why", Type: typeText, Words: "what contradicts what", Always: true}, words},
	Each: eachFinding(func(f *feature, d trace.Doubt) {
		f.Path = d.Path
		f.Values = append(f.Values, realValue(d.FromM), realValue(d.ToM), textValue(d.Why))
	}),
}

var crossingLayer = layer{
	Role: "crossing", Shape: shapePoint,
	Words: "where two lines cross or come closest",
	Columns: []column{
		{Name: "other", Type: typeText, Words: "the other line", Contract: true},
		{Name: "separation_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "horizontal distance, 0 where they cross", Contract: true},
		{Name: "depth_difference_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "read depth of the other less that of this line", Contract: true},
		atColumn, words,
	},
	Each: eachFinding(func(f *feature, c trace.Crossing) {
		f.Path = []geo.XY{c.At}
		f.Values = append(f.Values, textValue(c.Other), realValue(c.SeparationM), realValue(c.DepthDifferenceM), realValue(c.StationM))
	}),
}

var fieldCheckLayer = layer{
	Role: "field_check", Shape: shapePoint,
	Words: "a check made in the field and how it came out",
	Columns: []column{
		{Name: "kind", Type: typeText, Words: "lift or air_coupling", Always: true, Enum: []string{"lift", "air_coupling"}},
		{Name: "passed", Type: typeBoolean, Words: "no sign of trouble was seen; never proof that there is none", Always: true},
		atColumn, words,
	},
	Each: eachFinding(func(f *feature, c trace.FieldCheck) {
		f.Path = []geo.XY{c.At}
		f.Values = append(f.Values, textValue(c.Kind), booleanValue(c.Passed), realValue(c.StationM))
	}),
}

var exposedCheckLayer = layer{
	Role: "exposed_check", Shape: shapePoint,
	Words: "the traced line against a place where it was exposed and measured",
	Columns: []column{
		{Name: "point", Type: typeText, Words: "number of the exposed reading"},
		{Name: "offset_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "exposed place from the line as traced without it, positive to the right of travel"},
		{Name: "depth_difference_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "traced depth less measured depth"},
		atColumn, words,
	},
	Each: eachFinding(func(f *feature, c trace.ExposedCheck) {
		f.Path = []geo.XY{c.At}
		f.Values = append(f.Values, textValue(c.Point), realValue(c.OffsetM), realValue(c.DepthDifferenceM), realValue(c.StationM))
	}),
}

var recordDifferenceLayer = layer{
	Role: "record_difference", Shape: shapeLine,
	Words: "a stretch where a record lies farther from the trace than the bands of both allow",
	Columns: []column{
		fromColumn, toColumn,
		{Name: "record", Type: typeText, Words: "name of the record"},
		{Name: "mean_offset_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "record from trace, positive to the right of travel"},
		{Name: "largest_offset_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "the same where it is largest"},
		{Name: "allowed_m", Type: typeReal, Unit: "m", Decimals: 3, Words: "what both bands explain"},
		words,
	},
	Each: eachFinding(func(f *feature, d trace.RecordDifference) {
		f.Path = d.Path
		f.Values = append(f.Values, realValue(d.FromM), realValue(d.ToM), textValue(d.Record),
			realValue(d.MeanOffsetM), realValue(d.LargestOffsetM), realValue(d.AllowedM))
	}),
}

// eachFinding yields the findings of one kind; fill sets place and values, the
// words come last.
func eachFinding[T trace.Finding](fill func(*feature, T)) func(*trace.Sheet) iter.Seq[*feature] {
	return func(s *trace.Sheet) iter.Seq[*feature] {
		return func(yield func(*feature) bool) {
			for i := range s.Lines {
				l := &s.Lines[i]
				for _, any := range l.Findings {
					found, ok := any.(T)
					if !ok {
						continue
					}
					f := &feature{Line: found.OnLine(), Utility: l.Setup.Utility}
					fill(f, found)
					f.Values = append(f.Values, textsValue(FindingWords(s.Job.Units, found)))
					placeFinding(s.Plane, f)
					if !yield(f) {
						return
					}
				}
			}
		}
	}
}

// placeFinding turns a path of one vertex into a point.
func placeFinding(plane geo.Plane, f *feature) {
	switch {
	case len(f.Path) == 0 || !finite(f.Path[0].X) || !finite(f.Path[0].Y):
		f.Path, f.NoPlace = nil, true
	case len(f.Path) == 1:
		f.At = plane.LonLat(f.Path[0])
	}
}
