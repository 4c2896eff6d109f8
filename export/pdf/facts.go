package pdf

import (
	"math"
	"strconv"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// What several areas of the sheets tell of the job, in the same words.

func stated(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

func (j *drawnJob) frameWords() string {
	if said := j.s.Frame.In(j.u); said != "" {
		return said
	}
	return "datum " + stated(j.s.Job.Datum)
}

// ruleWords tells the rule of the first drawn zone; the notes have every line's.
func (j *drawnJob) ruleWords() string {
	for _, l := range j.lines {
		if l.Tolerance.HalfWidthM > 0 {
			return j.zoneWords() + "; " + words.ZoneRule(j.u, l.Tolerance)
		}
	}
	return ruleSource(j.s.Job.Tolerance.Rule)
}

// zoneWords tell how far the tolerance zone reaches from the mark, and where that
// comes from; of several widths the greatest.
func (j *drawnJob) zoneWords() string {
	half, edge := 0.0, false
	for i := range j.lines {
		z := j.lines[i].Tolerance
		half, edge = math.Max(half, z.HalfWidthM), edge || z.MeasuredFrom == trace.FromEdge
	}
	s := j.u.ShortUp(half) + " to each side of the drawn line"
	if edge {
		s += " (" + words.HalfWidth(j.u, j.s.Job.Tolerance.HalfWidthM) + " from the outer edge)"
	}
	return s
}

// validUntil tells when a locate lapses, or that nobody said so.
func validUntil(day string) string {
	if day == "" {
		return "no expiry date stated"
	}
	return "valid until " + day
}

func ruleSource(rule string) string {
	if rule == "" {
		return "rule not stated; local law takes precedence"
	}
	return rule
}

// fingerprint tells the inputs by the head of their SHA-256.
func (j *drawnJob) fingerprint() string {
	if len(j.s.Inputs) == 0 {
		return "none named"
	}
	s := "SHA-256 "
	for i, in := range j.s.Inputs {
		if i > 0 {
			s += ", "
		}
		s += in.SHA256[:min(12, len(in.SHA256))] + " " + in.Name
		if i == 3 && len(j.s.Inputs) > 4 {
			return s + " and " + strconv.Itoa(len(j.s.Inputs)-4) + " more, see the notes"
		}
	}
	return s
}

// depthNear words the read depth of a named line nearest to a place, the doubt
// about it included.
func (j *drawnJob) depthNear(name string, at geo.XY) string {
	if i := j.lineNamed(name); i >= 0 && j.lines[i].traced() {
		if v, ok := j.lines[i].at(j.lines[i].path.Nearest(at).StationM); ok {
			return words.StationLabel(j.u, j.lines[i].Line, v)
		}
	}
	return words.DepthLabel(j.u, trace.Unknown, trace.Unknown)
}

// noDatum reports that nobody stated the datum of the positions.
func (j *drawnJob) noDatum() bool {
	c := j.s.Doubted()
	return c.DoubtM > 0 && !c.DoubtStated
}

// stationStepM is the distance between the depths of a crew sheet: a few metres,
// more where the lines are long.
func (j *drawnJob) stationStepM(least float64) float64 {
	total := 0.0
	for i := range j.lines {
		total += j.lines[i].path.Length()
	}
	unit := 1.0
	if j.u == geo.US {
		unit = geo.FootM * 5
	}
	for _, s := range []float64{5, 10, 20, 50, 100} {
		if s >= least && total/(s*unit) <= 240 {
			return s * unit
		}
	}
	return 200 * unit
}
