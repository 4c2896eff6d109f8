package words

import (
	"math"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Depth is the one sentence in which a depth may be told: what was read,
// its 95 % band, when, and what to do about it. Lengths are in metres; an
// Unknown depth or band is said to be unknown.
//
//	read depth to centre, 3 ft 5 in ± 6 in, on 2026-05-12; expose to verify
func Depth(u geo.Units, depthM, depth95M float64, date string) string {
	if !trace.Known(depthM) {
		return "depth not read; expose to verify"
	}
	if breaksSurface(depthM, depth95M) {
		return "depth not known: what it may be off reaches the surface; expose to verify"
	}
	s := "read depth to centre, " + u.WithBand(depthM, depth95M)
	if !trace.Known(depth95M) {
		s += " (error not known)"
	}
	return s + onDate(date) + "; expose to verify"
}

// breaksSurface reports that the band of a depth reaches the surface: such a depth is
// not known, and its figure would be taken for one that is.
func breaksSurface(depthM, depth95M float64) bool {
	return trace.Known(depthM) && trace.Known(depth95M) && depth95M >= depthM
}

// DepthLabel is the short form for a drawing, where the sentence stands in the
// legend: "read 3 ft 5 in ± 6 in", or "depth not read".
func DepthLabel(u geo.Units, depthM, depth95M float64) string {
	if !trace.Known(depthM) {
		return "depth not read"
	}
	if breaksSurface(depthM, depth95M) {
		return "depth not known"
	}
	s := "read " + u.WithBand(depthM, depth95M)
	if !trace.Known(depth95M) {
		s += " ± ?"
	}
	return s
}

// Position tells the horizontal 95 % band (half-width, metres): rounded up,
// since it is a promise.
func Position(u geo.Units, horizontal95M float64) string {
	if !trace.Known(horizontal95M) {
		return "position across the line: error not known"
	}
	return "position across the line: ± " + ShortUp(u, horizontal95M) + " (95 %)"
}

// DepthRange sums up the depths of a line: the shallowest and deepest
// reading with the widest band among them, or that none was read. Places where the
// depth must not be trusted are left out, and that is said: one band for both would
// be too wide for the good and too narrow for the bad.
func DepthRange(u geo.Units, l *trace.Line, date string) string {
	r := depthsOf(l)
	figures, known := r.figures(u)
	if !known {
		return "depth " + figures + "; expose to verify"
	}
	s := "read depth to centre, "
	if r.out {
		s = "read depth to centre outside stretches not to be trusted, "
	}
	s += figures
	if r.bare {
		s += " (error not known everywhere)"
	}
	return s + onDate(date) + "; expose to verify"
}

// DepthFigures are the figures of DepthRange for a list of lines, and whether places
// where the depth must not be trusted are left out of them.
func DepthFigures(u geo.Units, l *trace.Line) (figures string, leftOut bool) {
	r := depthsOf(l)
	figures, known := r.figures(u)
	if known && r.bare {
		figures += " ± ?"
	}
	return figures, known && r.out
}

// depthsRead are the shallowest and deepest depths of a line and the widest band.
type depthsRead struct {
	lo, hi, band float64
	bare, out    bool // a band is not known everywhere; places are left out
}

func depthsOf(l *trace.Line) depthsRead {
	lo, hi, band, bare, out := math.Inf(1), math.Inf(-1), 0.0, false, false
	along := NewAlong(l)
	for _, p := range l.Centerline.Parts {
		for _, vertex := range p.Vertices {
			v := along.At(vertex)
			if !trace.Known(v.DepthM) {
				out = out || trace.Known(vertex.DepthM) // read, and not that of the line
				continue
			}
			if v.Distrusted() || breaksSurface(v.DepthM, v.Depth95M) || besideDistrusted(along, vertex) {
				out = true
				continue
			}
			lo, hi = math.Min(lo, v.DepthM), math.Max(hi, v.DepthM)
			if trace.Known(v.Depth95M) {
				band = math.Max(band, v.Depth95M)
			} else {
				bare = true
			}
		}
	}
	if bare {
		band = trace.Unknown
	}
	return depthsRead{lo, hi, band, bare, out}
}

// figures words them: "0.94 to 1.15 m ± 0.16"; else why there are none.
func (r depthsRead) figures(u geo.Units) (s string, known bool) {
	switch {
	case math.IsInf(r.lo, 1) && r.out:
		return "not known", false
	case math.IsInf(r.lo, 1):
		return "not read", false
	}
	if from := bareNumber(u, r.lo, r.band); from != bareNumber(u, r.hi, r.band) {
		s = from + " to "
	}
	return s + u.WithBand(r.hi, r.band), true
}

// besideDistrusted reports a place just beyond a stretch that must not be trusted: its
// band falls back over that length, and is none of the readings there.
func besideDistrusted(along *Along, v trace.Vertex) bool {
	for _, s := range [...]float64{v.StationM - trace.ZoneShoulderM, v.StationM + trace.ZoneShoulderM} {
		beside := v
		if beside.StationM = s; along.At(beside).Distrusted() {
			return true
		}
	}
	return false
}

// bareNumber is the figure of u.WithBand without unit and band; feet and inches
// keep their units.
func bareNumber(u geo.Units, m, bandM float64) string {
	s, _, _ := strings.Cut(u.WithBand(m, bandM), " ±")
	return strings.TrimSuffix(s, " m")
}

// Shift tells a distance and its band: "3 in ± 2 in", "0.08 m ± 0.05".
func Shift(u geo.Units, m, bandM float64) string { return u.WithBand(m, bandM) }

// ShortUp is geo.Units.ShortUp.
func ShortUp(u geo.Units, m float64) string { return u.ShortUp(m) }

// Range tells a stretch by its stations: "12.0 to 34.5 m", "39 to 113 ft".
func Range(u geo.Units, fromM, toM float64) string {
	return strings.TrimSuffix(strings.TrimSuffix(u.Long(fromM), " ft"), " m") + " to " + u.Long(toM)
}

// DepthsHead heads a table of depths: their step along the line, and the day they are
// estimates of, where one is stated.
func DepthsHead(u geo.Units, everyM float64, date string) string {
	of := " of " + date
	if date == "" {
		of = ", date not stated"
	}
	return "DEPTHS TO CENTRE, every " + u.Long(everyM) + ": estimates" + of + "; expose to verify"
}

func onDate(date string) string {
	if date == "" {
		return ", date not given"
	}
	return ", on " + date
}

// JobDate is the day of the locate as the outputs tell it: the job's, else the
// first day on which a reading was taken, else empty.
func JobDate(s *trace.Sheet) string {
	if s.Job.Date != "" {
		return s.Job.Date
	}
	first := ""
	for _, l := range s.Lines {
		for i := range l.Readings {
			t := l.Readings[i].Time
			if t.IsZero() {
				continue
			}
			if d := t.Format("2006-01-02"); first == "" || d < first {
				first = d
			}
		}
	}
	return first
}

// ReadingDay is the day a reading was taken, else the job's.
func ReadingDay(r *trace.Reading, jobDate string) string {
	if !r.Time.IsZero() {
		return r.Time.Format("2006-01-02")
	}
	return jobDate
}
