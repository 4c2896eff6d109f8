package records

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
)

// IsOf reports whether a record is of the line itself and no neighbour: the same
// name and no other class of utility, or the same class and nowhere farther from the
// trace than a record may err. Of the trace the stations asked for count.
func IsOf(l *trace.Line, r trace.Record, counts func(stationM float64) bool) bool {
	if !sameLine(r, l.Setup) {
		return false
	}
	if r.Name == l.Setup.Name {
		return true
	}
	offs := slices.DeleteFunc(offsetsTo(l.Centerline, geo.NewPolyline(r.Path), 3*MatchM), func(o offsetAt) bool { return !counts(o.stationM) })
	return len(offs) > 0 && mostWithin(offs, 3*trace.RecordSigmaM+r.DoubtM)
}

// mostWithin reports whether all but one in fifty offsets are less than a limit and
// the trace's own band: a trace that lies on a record for most of the way, and
// elsewhere not, may have jumped onto another line of its kind. Such a record stays
// a neighbour, and that it may be the line's own is weighed there.
func mostWithin(offs []offsetAt, limitM float64) bool {
	far := 0
	for _, o := range offs {
		if math.Abs(o.offsetM) > math.Max(limitM, o.allowedM) {
			far++
		}
	}
	return 50*far <= len(offs) // one in fifty (judged; no source)
}
