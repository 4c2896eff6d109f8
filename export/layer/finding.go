package layer

import (
	"iter"
	"slices"
	"strings"

	"loamline.example/export/literal"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

var (
	fromColumn  = Column{Name: "from_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "station at which the stretch begins", Contract: true, Always: true}
	toColumn    = Column{Name: "to_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "station at which it ends", Contract: true, Always: true}
	atColumn    = Column{Name: "station_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "station on the line"}
	wordsColumn = Column{Name: "words", Type: TypeTexts, Words: "the finding in sentences, in the job's units", Always: true}
)

var bleedOverLayer = Layer{
	Role: finding.RoleBleedOver, Shape: ShapeLine,
	Words: "a stretch where the signal is suspected to come, in part or in whole, from another line",
	Columns: []Column{
		fromColumn, toColumn,
		{Name: "grade", Type: TypeText, Words: "watch, suspect or strong", Contract: true, Always: true, Enum: []string{string(trace.GradeWatch), string(trace.GradeSuspect), string(trace.GradeStrong)}},
		{Name: "score", Type: TypeReal, Decimals: 3, Words: "0 to 1", Contract: true, Always: true},
		{Name: "neighbor", Type: TypeText, Words: "the other line, or unknown", Contract: true},
		{Name: "separation_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "distance of the other line", Contract: true},
		{Name: "evidence", Type: TypeTexts, Words: "the evidence, with figures", Contract: true, Always: true},
		{Name: "likely_shift_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "how far the true line probably lies from the drawn line; null where it cannot be told", Contract: true},
		{Name: "likely_shift_95_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "half-width of its 95 % band", Contract: true},
		{Name: "likely_side", Type: TypeText, Words: "left or right: where the true line lies, seen from the drawn line in the direction of travel", Contract: true, Enum: []string{string(trace.Left), string(trace.Right)}},
		{Name: "jump", Type: TypeBoolean, Words: "the trace left its line and lies on the neighbour", Always: true},
		{Name: "widen_left_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "by how much the caution zone grew on the left"},
		{Name: "widen_right_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "by how much it grew on the right"},
		wordsColumn,
	},
	Each: eachFinding(func(f *Feature, b finding.BleedOver, u geo.Units) {
		f.Values = append(f.Values,
			realValue(b.FromM), realValue(b.ToM), textValue(string(b.Grade)), realValue(b.Score),
			textValue(b.Neighbor), realValue(b.SeparationM), textsValue(words.Remarks(u, b.Evidence)),
			realValue(b.LikelyShiftM), realValue(b.Shift95M), textValue(string(b.LikelySide)),
			booleanValue(b.Jump), realValue(b.WidenLeftM), realValue(b.WidenRightM))
	}),
}

var gapLayer = Layer{
	Role: finding.RoleGap, Shape: ShapeLine,
	Words:   "a stretch with too few usable readings to be called traced; its geometry only joins the ends",
	Columns: []Column{fromColumn, toColumn, {Name: "why", Type: TypeText, Words: "why it is not traced", Contract: true}, wordsColumn},
	Each: eachFinding(func(f *Feature, g finding.Gap, u geo.Units) {
		f.Values = append(f.Values, realValue(g.FromM), realValue(g.ToM), textValue(words.Remark(u, g.Why)))
	}),
}

var doubtLayer = Layer{
	Role: finding.RoleDoubt, Shape: ShapeLine,
	Words:   "a stretch of a line, or places beside it, where the map must not be trusted as it stands",
	Columns: []Column{fromColumn, toColumn, {Name: "why", Type: TypeText, Words: "what contradicts what", Always: true}, wordsColumn},
	Each: eachFinding(func(f *Feature, d finding.Doubt, u geo.Units) {
		f.Values = append(f.Values, realValue(d.FromM), realValue(d.ToM), textValue(words.Remark(u, d.Why)))
	}),
}

var crossingLayer = Layer{
	Role: finding.RoleCrossing, Shape: ShapePoint,
	Words: "where two lines cross or come closest: two traced ones, or a traced and a known one",
	Columns: []Column{
		{Name: "other", Type: TypeText, Words: "the other line", Contract: true},
		{Name: "source", Type: TypeText, Words: "the layer or archive that a known line comes from; null where the other line was traced"},
		{Name: "separation_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "horizontal distance, 0 where they cross", Contract: true},
		{Name: "depth_difference_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "depth of the other, as read or as on record, less that of this line", Contract: true},
		{Name: "depth_difference_95_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "how far both depths may be off together (95 %): with a smaller difference nobody knows which is deeper; null where the other is known from a record"},
		atColumn, wordsColumn,
	},
	Each: eachFinding(func(f *Feature, c finding.Crossing, _ geo.Units) {
		f.Values = append(f.Values, textValue(c.Other), textValue(c.Source), realValue(c.SeparationM), realValue(c.DepthDifferenceM), depthsOff(c), realValue(c.StationM))
	}),
}

// depthsOff is known with the difference of two depths that were read.
func depthsOff(c finding.Crossing) Value {
	if c.OnRecord() || !trace.Known(c.DepthDifferenceM) {
		return realValue(trace.Unknown)
	}
	return realValue(c.DepthsOffM)
}

var fieldCheckLayer = Layer{
	Role: finding.RoleFieldCheck, Shape: ShapePoint,
	Words: "a check made in the field and how it came out",
	Columns: []Column{
		{Name: "kind", Type: TypeText, Words: "lift or air_coupling", Always: true, Enum: []string{string(trace.CheckLift), string(trace.CheckAirCoupling)}},
		{Name: "passed", Type: TypeBoolean, Words: "no sign of trouble was seen; never proof that there is none", Always: true},
		{Name: "outcome", Type: TypeText, Words: "passed, failed or inconclusive: a check that could not tell trouble from none", Always: true, Contract: true,
			Enum: []string{string(trace.OutcomePassed), string(trace.OutcomeFailed), string(trace.OutcomeInconclusive)}},
		atColumn, wordsColumn,
	},
	Each: eachFinding(func(f *Feature, c finding.FieldCheck, _ geo.Units) {
		f.Values = append(f.Values, textValue(string(c.Kind)), booleanValue(c.Passed()), textValue(string(c.Outcome)), realValue(c.StationM))
	}),
}

var exposedCheckLayer = Layer{
	Role: finding.RoleExposedCheck, Shape: ShapePoint,
	Words: "the traced line against a place where it was exposed and measured",
	Columns: []Column{
		{Name: "point", Type: TypeText, Words: "number of the exposed reading"},
		{Name: "offset_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "exposed place from the line as traced without it, positive to the right of travel"},
		{Name: "depth_difference_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "traced depth less measured depth"},
		atColumn, wordsColumn,
	},
	Each: eachFinding(func(f *Feature, c finding.ExposedCheck, _ geo.Units) {
		f.Values = append(f.Values, textValue(c.Point), realValue(c.OffsetM), realValue(c.DepthDifferenceM), realValue(c.StationM))
	}),
}

var recordDifferenceLayer = Layer{
	Role: finding.RoleRecordDifference, Shape: ShapeLine,
	Words: "a stretch where a record lies farther from the trace than the bands of both allow",
	Columns: []Column{
		fromColumn, toColumn,
		{Name: "record", Type: TypeText, Words: "name of the record"},
		{Name: "mean_offset_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "record from trace, positive to the right of travel"},
		{Name: "largest_offset_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "the same where it is largest"},
		{Name: "allowed_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "what both bands explain"},
		wordsColumn,
	},
	Each: eachFinding(func(f *Feature, d finding.RecordDifference, _ geo.Units) {
		f.Values = append(f.Values, realValue(d.FromM), realValue(d.ToM), textValue(d.Record),
			realValue(d.MeanOffsetM), realValue(d.LargestOffsetM), realValue(d.AllowedM))
	}),
}

// plainLayers are the layers of the kinds that are told in words alone, of a shape.
func plainLayers(of shape) []Layer {
	var out []Layer
	for _, f := range finding.All() {
		if l := plainLayer(f); !ownLayer(f.Role()) && l.Shape == of {
			out = append(out, l)
		}
	}
	return out
}

func ownLayer(role string) bool {
	return slices.ContainsFunc(slices.Concat(broadly, finely), func(l Layer) bool { return l.Role == role })
}

// plainLayer is the layer of a kind that has none of its own, by one of it.
func plainLayer(one trace.Finding) Layer {
	l := Layer{Role: one.Role(), Shape: ShapeLine, Words: strings.ToLower(words.RoleTitle(one.Role())) + ", told in sentences"}
	l.Columns = []Column{fromColumn, toColumn, wordsColumn}
	if len(one.Where()) == 1 {
		l.Shape, l.Columns = ShapePoint, []Column{atColumn, wordsColumn}
	}
	l.Each = each(func(f trace.Finding) bool { return f.Role() == one.Role() }, func(f *Feature, found trace.Finding, _ geo.Units) {
		from, to := found.Span()
		f.Values = append(f.Values, realValue(from))
		if l.Shape == ShapeLine {
			f.Values = append(f.Values, realValue(to))
		}
	})
	return l
}

// eachFinding yields the findings of one kind; fill sets the values, of which
// the words come last.
func eachFinding[T trace.Finding](fill func(*Feature, T, geo.Units)) func(*trace.Sheet) iter.Seq[*Feature] {
	return each(func(f trace.Finding) bool { _, is := f.(T); return is },
		func(f *Feature, found trace.Finding, u geo.Units) { fill(f, found.(T), u) })
}

func each(is func(trace.Finding) bool, fill func(*Feature, trace.Finding, geo.Units)) func(*trace.Sheet) iter.Seq[*Feature] {
	return func(s *trace.Sheet) iter.Seq[*Feature] {
		return func(yield func(*Feature) bool) {
			for i := range s.Lines {
				l := &s.Lines[i]
				for _, found := range l.Findings {
					if !is(found) {
						continue
					}
					f := &Feature{Line: found.OnLine(), Utility: l.Setup.Utility, Path: found.Where()}
					fill(f, found, s.Job.Units)
					f.Values = append(f.Values, textsValue(words.Finding(s.Job.Units, found)))
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
func placeFinding(plane geo.Plane, f *Feature) {
	switch {
	case len(f.Path) == 0 || !literal.Finite(f.Path[0].X) || !literal.Finite(f.Path[0].Y):
		f.Path, f.NoPlace = nil, true
	case len(f.Path) == 1:
		f.At = plane.LonLat(f.Path[0])
	}
}
