package layer

import (
	"iter"

	"loamline.example/export/words"
	"loamline.example/trace"
)

var toleranceLayer = Layer{
	Role: trace.RoleToleranceZone, Shape: ShapeArea,
	Words: "the zone about the drawn line that the rule prescribes for digging by hand",
	Columns: []Column{
		{Name: "half_width_m", Type: TypeReal, Unit: "m", Decimals: 4, Words: "from the drawn line to the edge of the zone, half the diameter included", Contract: true, Always: true},
		{Name: "measured_from", Type: TypeText, Words: "edge or centerline", Contract: true, Enum: []string{trace.FromEdge, trace.FromCenterline}},
		{Name: "rule", Type: TypeText, Words: "law or practice that it follows, as the job states it", Contract: true},
	},
	Each: func(s *trace.Sheet) iter.Seq[*Feature] {
		return eachZone(s, func(l *trace.Line) (trace.Zone, []Value) {
			z := l.Tolerance
			return z, []Value{realValue(z.HalfWidthM), textValue(z.MeasuredFrom), textValue(words.ZoneRule(s.Job.Units, z))}
		})
	},
}

var cautionLayer = Layer{
	Role: trace.RoleCautionZone, Shape: ShapeArea,
	Words: "the tolerance zone widened, place by place, by the 95 % horizontal band and by any suspected displacement, and carried on past the ends as far as they may be off along the line",
	Columns: []Column{
		{Name: "confidence", Type: TypeReal, Decimals: 3, Words: "of the horizontal band, 0 to 1", Contract: true},
		{Name: "datum_doubt_m", Type: TypeReal, Unit: "m", Decimals: 2, Words: "how far the whole map may be off for its frame: because the datum was not stated, or the one stated converts to WGS 84 no better; 0 where that is known well. The zone is not widened by it", Always: true},
		{Name: "datum_doubt", Type: TypeText, Words: "what that means, in words"},
	},
	Each: func(s *trace.Sheet) iter.Seq[*Feature] {
		return eachZone(s, func(l *trace.Line) (trace.Zone, []Value) {
			return l.Caution, []Value{realValue(l.Caution.Confidence), realValue(l.Caution.DoubtM), textValue(words.DatumDoubt(s.Job.Units, l.Caution))}
		})
	},
}

func eachZone(s *trace.Sheet, get func(*trace.Line) (trace.Zone, []Value)) iter.Seq[*Feature] {
	return func(yield func(*Feature) bool) {
		for i := range s.Lines {
			l := &s.Lines[i]
			z, values := get(l)
			if len(z.Area) == 0 {
				continue
			}
			if !yield(&Feature{Line: l.Setup.Name, Utility: l.Setup.Utility, Area: z.Area, Values: values}) {
				return
			}
		}
	}
}
