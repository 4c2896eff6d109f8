package words

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

const (
	edgeM = trace.GapEdgeM
	endM  = trace.StretchEndM
)

// Told is what may be told of a line at a station: its figures are those of the
// true line with any suspected shift in them, Unknown where a doubt leaves none.
type Told struct {
	DepthM, Depth95M float64
	Horizontal95M    float64 // without FrameM
	// LeftM and RightM are the band on either side where what is suspected widens it to
	// one of them more than to the other; 0 where Horizontal95M is that of both.
	LeftM, RightM float64
	Along95M      float64 // how far along the line an end of it may be off; 0 elsewhere
	FrameM        float64 // how far the whole map may lie off because no datum was stated
	FrameOpen     bool    // it may lie farther off: FrameM is no limit
	Doubt         *Doubt  // the gravest, or nil
	// WatchM is how far from the mark the line may lie by what is only possible there,
	// which no band holds: 0 where nothing is, Unknown where nothing bounds it.
	WatchM float64
}

// Depths are depth and band as figures: none where the words know none, for the band reaches
// the surface.
func (t Told) Depths() (depthM, depth95M float64) {
	if breaksSurface(t.DepthM, t.Depth95M) {
		return trace.Unknown, trace.Unknown
	}
	return t.DepthM, t.Depth95M
}

// At is what may be told at a vertex.
func At(l *trace.Line, v trace.Vertex) Told { return tell(l, v, doubtsAt(l, v.StationM)) }

// tell is what may be told at a vertex with these doubts about it.
func tell(l *trace.Line, v trace.Vertex, ds []Doubt) Told {
	t := Told{DepthM: v.DepthM, Depth95M: v.Depth95M, Horizontal95M: v.Horizontal95M,
		FrameM: max(l.Caution.DoubtM, 0), FrameOpen: l.Caution.DoubtOpen(), Doubt: gravest(ds)}
	if l.Centerline != nil {
		t.Along95M = endAlong(l, v.StationM)
	}
	for i := range ds {
		if ds[i].Watch {
			t.WatchM = math.Max(t.WatchM, WatchedM(ds[i].Finding))
		}
	}
	if t.Doubt == nil || t.Doubt.Watch {
		return t
	}
	// Every finding that holds the place counts, not only the gravest: a strong
	// bleed-over with a bound does not lift a doubt that has none.
	for i := range ds {
		if ds[i].Watch {
			continue
		}
		b, ok := ds[i].Finding.(finding.BleedOver)
		if !ok {
			t.Depth95M, t.Horizontal95M = trace.Unknown, trace.Unknown
			continue
		}
		// math.Max keeps what is not known unknown.
		t.Horizontal95M = math.Max(t.Horizontal95M, shiftedM(b))
		if trace.Known(t.DepthM) {
			t.Depth95M = math.Max(t.Depth95M, t.DepthM*math.Expm1(b.LnDepth95))
		}
	}
	if !trace.Known(t.Depth95M) {
		t.DepthM = trace.Unknown // as read it is not that of the line
	}
	if trace.Known(t.Horizontal95M) {
		t.LeftM, t.RightM = sidesAt(l, v.StationM, t.Horizontal95M)
	}
	return t
}

// shiftedM is how far the true line may lie from the mark by a finding alone, as far as
// the zone is drawn for it; Unknown where nothing bounds it, 0 where it is the courses
// beside that do, which the line's own band holds.
func shiftedM(b finding.BleedOver) float64 {
	if len(b.OwnCourse) > 0 {
		return 0
	}
	if far := foundM(b); far > 0 {
		return far
	}
	return trace.Unknown
}

// foundM is the farthest that a finding's own figures put the line from the mark.
func foundM(b finding.BleedOver) float64 {
	far := math.Max(b.WidenLeftM, b.WidenRightM)
	if trace.Known(b.LikelyShiftM) && trace.Known(b.Shift95M) {
		far = math.Max(far, math.Abs(b.LikelyShiftM)+b.Shift95M)
	}
	return far
}

// WatchedM is how far from the mark the line may lie by a finding that is only watched,
// Unknown where nothing bounds it, 0 where the line's own band holds it.
func WatchedM(f trace.Finding) float64 {
	if BandHolds(f) {
		return 0
	}
	b, ok := f.(finding.BleedOver)
	if !ok {
		return trace.Unknown
	}
	far := foundM(b)
	if !(far > 0) && len(b.OwnCourse) == 0 {
		return trace.Unknown
	}
	return far
}

// Distrusted reports that figures must not stand here as read.
func (t Told) Distrusted() bool { return t.Doubt != nil && !t.Doubt.Watch }

// Across95M is the half-width across the line that may be shown: the band and
// what the frame may be off. Unknown where it is not known.
func (t Told) Across95M() float64 { return t.Horizontal95M + t.FrameM }

// depthKnown reports that a depth may be told with its band.
func (t Told) depthKnown() bool {
	return trace.Known(t.DepthM) && trace.Known(t.Depth95M) && !breaksSurface(t.DepthM, t.Depth95M)
}

// Depth is the sentence about the depth.
func (t Told) Depth(u geo.Units, date string) string {
	switch {
	case !t.Distrusted():
		return Depth(u, t.DepthM, t.Depth95M, date)
	case !t.depthKnown():
		return t.Doubt.Words + ": depth of the line not known; expose to verify"
	}
	return t.Doubt.Words + ": depth of the line, suspected error included, " + u.WithBand(t.DepthM, t.Depth95M) + onDate(date) + "; expose to verify"
}

// DepthLabel is the depth for a drawing or a list; the doubt comes first.
func (t Told) DepthLabel(u geo.Units) string {
	switch {
	case !t.Distrusted():
		label := DepthLabel(u, t.DepthM, t.Depth95M)
		if t.Doubt != nil {
			label += " (doubtful)"
		}
		return label
	case !t.depthKnown():
		if t.Doubt.Role() == (finding.Gap{}).Role() {
			return "depth not known (" + t.Doubt.Words + ")"
		}
		return "DO NOT TRUST (depth not known)"
	}
	return "DO NOT TRUST (perhaps " + u.WithBand(t.DepthM, t.Depth95M) + ")"
}

// Position is the sentence about the place across the line: no surer than the list of
// what to check is, so with what is only possible there.
func (t Told) Position(u geo.Units) string {
	s := t.band(u) + t.doubtful(u)
	if t.Along95M > t.Horizontal95M+leastAlongM {
		s += "; the end itself, along the line: ± " + ShortUp(u, t.Along95M) + " (95 %)"
	}
	return s
}

// leastAlongM is by how much worse an end must be known along its line than across it for
// that to be told. Judgement.
const leastAlongM = 0.1

// endAlong is how far along the line an end of a traced stretch may be off; 0 elsewhere.
func endAlong(l *trace.Line, stationM float64) float64 {
	parts := l.Centerline.Parts
	k := sort.Search(len(parts), func(k int) bool { return parts[k].ToM() >= stationM })
	switch {
	case k == len(parts):
		return 0
	case stationM == parts[k].FromM():
		return parts[k].StartAlong95M
	case stationM == parts[k].ToM():
		return parts[k].EndAlong95M
	}
	return 0
}

// doubtful says how far the line may lie off by what is only possible there, empty
// where nothing is.
func (t Told) doubtful(u geo.Units) string {
	switch {
	case t.Distrusted() || t.Doubt == nil || !trace.Known(t.Across95M()):
		return ""
	case !trace.Known(t.WatchM): // a band alone would look as if it bounded that too
		return " (doubtful: nothing says how far off)"
	case !(t.WatchM > t.Horizontal95M):
		return " (doubtful)"
	}
	return " (doubtful: perhaps up to " + ShortUp(u, t.WatchM) + " off)"
}

// HoldingDoubt is what may be told where a figure has no room for words beside it: its band
// across holds what is only possible there too, so that it looks no surer than the list of
// what to check is.
func (t Told) HoldingDoubt() Told {
	if t.Doubt != nil && !t.Distrusted() && t.WatchM > t.Horizontal95M {
		t.Horizontal95M = t.WatchM
	}
	return t
}

// OneSided reports that the band is wider on one side of the drawn line than on the other.
func (t Told) OneSided() bool { return t.LeftM > 0 && t.RightM > 0 }

// onSides is the band on either side in a sentence: one of both would be told as if it
// were that of the other side too.
func (t Told) onSides(u geo.Units) string {
	left, right := withFrame(u, t.LeftM, t.FrameM), withFrame(u, t.RightM, t.FrameM)
	switch {
	case t.FrameOpen:
		return left + " or more to the left and " + right + " or more to the right (" + ShortUp(u, t.FrameM) + " or more of each from the datum)"
	case t.FrameM > 0:
		return left + " to the left and " + right + " to the right (" + ShortUp(u, t.FrameM) + " of each from the datum)"
	}
	return left + " to the left and " + right + " to the right (95 %)"
}

// band is the 95 % band across the line in a sentence.
func (t Told) band(u geo.Units) string {
	switch {
	case t.OneSided():
		return "position across the line, suspected displacement included: " + t.onSides(u)
	case !trace.Known(t.Horizontal95M):
		if t.Distrusted() {
			return "position across the line: not known"
		}
		return Position(u, trace.Unknown)
	case t.Distrusted():
		if t.FrameM > 0 {
			return "position across the line, suspected displacement included: " + t.Across(u)
		}
		return "position across the line, suspected displacement included: " + t.Across(u) + " (95 %)"
	case t.FrameM > 0:
		return "position across the line: " + t.Across(u)
	}
	return Position(u, t.Horizontal95M)
}

// Across is the band across the line, and where a part of it is the datum's, how much
// is whose: one total is shown wherever one is.
func (t Told) Across(u geo.Units) string {
	if !(t.FrameM > 0) || !trace.Known(t.Horizontal95M) {
		return t.PositionLabel(u)
	}
	return t.PositionLabel(u) + " (" + ShortUp(u, t.Horizontal95M) + " from the readings, " + frameLimit(u, t.FrameM, t.FrameOpen) + " from the datum)"
}

// AcrossBriefly is Across in few words: the whole, how much of it is the datum's, and
// how far off the line may lie by what is only possible.
func (t Told) AcrossBriefly(u geo.Units) string {
	s := t.PositionLabel(u)
	if t.FrameM > 0 && trace.Known(t.Horizontal95M) {
		s += " (datum " + frameLimit(u, t.FrameM, t.FrameOpen) + ")"
	}
	switch {
	case t.doubtful(u) == "" || t.WatchM <= t.Horizontal95M:
		return s
	case !trace.Known(t.WatchM):
		return s + ", doubtful"
	}
	return s + ", perhaps " + ShortUp(u, t.WatchM)
}

// PositionLabel is the band across the line for a column of a table.
func (t Told) PositionLabel(u geo.Units) string {
	if !trace.Known(t.Across95M()) {
		return "not known"
	}
	if t.OneSided() {
		left, right := withFrame(u, t.LeftM, t.FrameM), withFrame(u, t.RightM, t.FrameM)
		if t.FrameOpen {
			left, right = left+orMore, right+orMore
		}
		return "left " + left + ", right " + right
	}
	s := "± " + withFrame(u, t.Horizontal95M, t.FrameM)
	if t.FrameOpen {
		s += orMore
	}
	return s
}

// DepthAlone is the depth where nothing else on its line tells of a doubt: the doubt
// stands before the figure, and a figure that is not to be trusted is not called read.
func (t Told) DepthAlone(u geo.Units, date string) string {
	switch {
	case t.Distrusted():
		return t.DepthLabel(u)
	case t.Doubt != nil:
		return "doubtful: " + t.Depth(u, date)
	}
	return t.Depth(u, date)
}

// PositionAlone is the band across the line likewise: with how far the line may lie off
// by what is only possible there.
func (t Told) PositionAlone(u geo.Units) string {
	return t.PositionLabel(u) + t.doubtful(u)
}

// Widest is the widest band across a line that may be told, with the farthest that it
// may lie off by what is only possible, and whether there are places where none is known.
func Widest(l *trace.Line) (widest Told, bare bool) {
	widest = Told{Horizontal95M: trace.Unknown, FrameM: max(l.Caution.DoubtM, 0), FrameOpen: l.Caution.DoubtOpen()}
	along := NewAlong(l)
	for _, p := range l.Centerline.Parts {
		for _, v := range p.Vertices {
			t := along.At(v)
			if t.doubtful(geo.Metric) != "" {
				widest.Doubt, widest.WatchM = t.Doubt, math.Max(widest.WatchM, t.WatchM)
			}
			switch {
			case !trace.Known(t.Horizontal95M):
				bare = true
			case !(t.Horizontal95M <= widest.Horizontal95M):
				widest.Horizontal95M = t.Horizontal95M
			}
		}
	}
	return widest, bare
}

// PositionRange tells the widest band across a line, and whether there are
// places where none is known.
func PositionRange(u geo.Units, l *trace.Line) string {
	widest, bare := Widest(l)
	s := widest.Position(u)
	if bare && trace.Known(widest.Horizontal95M) {
		s += "; not known in places that are in doubt and beside stretches that are not traced"
	}
	return s
}
