package export

import (
	"iter"

	"loamline/trace"
)

var toleranceLayer = layer{
	Role: "tolerance_zone", Shape: shapeArea,
	Words: "the zone about the drawn line that the rule prescribes for digging by hand",
	Columns: []column{
		{Name: "half_width_m", Type: typeReal, Unit: "m", Decimals: 4, Words: "from the drawn line to the edge of the zone, half the diameter included", Contract: true, Always: true},
		{Name: "measured_from", Type: typeText, Words: "edge or centerline", Contract: true, Enum: []string{"edge", "centerline"}},
		{Name: "rule", Type: typeText, Words: "law or practice that it follows, as the job states it", Contract: true},
	},
	Each: func(s *trace.Sheet) iter.Seq[*feature] {
		return eachZone(s, func(l *trace.Line) (trace.Zone, []value) {
			z := l.Tolerance
			return z, []value{realValue(z.HalfWidthM), textValue(z.MeasuredFrom), textValue(z.Rule)}
		})
	},
}

var cautionLayer = layer{
	Role: "caution_zone", Shape: shapeArea,
	Words: "the tolerance zone widened, place by place, by the 95 % horizontal band and by any suspected displacement",
	Columns: []column{
		{Name: "confidence", Type: typeReal, Decimals: 3, Words: "of the horizontal band, 0 to 1", Contract: true},
		{Name: "datum_doubt_m", Type: typeReal, Unit: "m", Decimals: 1, Words: "how far the whole map may be off because the datum was not stated; 0 where it was. The zone is not widened by it", Always: true},
		{Name: "datum_doubt", Type: typeText, Words: "what that means, in words"},
	},
	Each: func(s *trace.Sheet) iter.Seq[*feature] {
		return eachZone(s, func(l *trace.Line) (trace.Zone, []value) {
			return l.Caution, []value{realValue(l.Caution.Confidence), realValue(l.Caution.DoubtM), textValue(DatumDoubtWords(l.Caution))}
		})
	},
}

func eachZone(s *trace.Sheet, get func(*trace.Line) (trace.Zone, []value)) iter.Seq[*feature] {
	return func(yield func(*feature) bool) {
		for i := range s.Lines {
			l := &s.Lines[i]
			z, values := get(l)
			if len(z.Area) == 0 {
				continue
			}
			if !yield(&feature{Line: l.Setup.Name, Utility: l.Setup.Utility, Area: z.Area, Values: values}) {
				return
			}
		}
	}
}
