// Package session parts a walk where it paused for long or goes on in another table, and
// tells where two such sessions do not agree, or one does not meet its own beginning; and
// where a walk that went on from another place does not meet what it had read.
//
// Another base, or a table in another reference system, moves all positions of a session by
// as much. Where sessions overlap, or one goes on from the other, the readings show that; a
// shift along the line, or in a bend between them, they do not.
package session

import (
	"math"
	"slices"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/ranked"
)

// What makes a session, and when two of them do not agree. Judgement.
const (
	// A base is set up anew, or another one is heard, after pause; a table of its own is of
	// another job where the walk paused for tablePause.
	pause, tablePause = 2 * time.Hour, 10 * time.Minute
	// Least readings are a session; of more than mostCompared sessions each is held against
	// the one before it alone, for the time that it takes.
	Least, mostCompared = 3, 12
	// A walk that goes on leastLeapM away and leapStrides usual strides is taken up at another
	// place, as from the far end of the line back to where it was left; where the two lie more
	// than besideM from each other there, they are branches.
	leastLeapM, leapStrides = 10.0, 4.0
	// Sessions meet over at most seamM, or seamStrides usual strides.
	seamM, seamStrides = 8.0, 3.0
	// Where they overlap, within besideM, or besideBackM of one that goes the other way, as
	// the other leg of a line that turns back does, windows of so many readings are compared,
	// whose offsets scatter by less than even of the offset.
	besideM, besideBackM, window, even = 2.5, 1.5, 3, 0.25
	// They are apart that lie leastApartM, and apartSigmas of what a reading is off, from
	// each other.
	leastApartM, apartSigmas = 0.15, 4.0
	// A chord of the other session's readings may pass a bend by chordTimes its sagitta.
	chordTimes = 2.0
	// A ring is ringM long at the least, and ringTimes as long as the way between its ends,
	// which are no more than a stride and ringOpenM apart: a line that ends farther from where it
	// began was laid so.
	ringM, ringTimes, ringOpenM = 15.0, 8.0, 1.5
	// mostAsked readings from an end are asked for the course there.
	mostAsked = 4 * sidestep.RunPlaces
)

// Walk is the readings that are asked, in travel order.
type Walk struct {
	Readings []trace.Reading
	Order    []int             // of those that were taken over the line
	OwnM     func(int) float64 // how far a reading may be off across, one sigma
}

// Session is a run of readings between two pauses, in travel order.
type Session struct {
	Readings []int
	places   []geo.XY
	strideM  float64 // usual
}

// Apart is two sessions that do not agree.
type Apart struct {
	A, B    *Session
	ApartM  float64
	Overlap bool   // they lie beside each other; else the one does not go on from the other
	Near    [2]int // the readings next to each other, where it does not
	Resumed bool   // the later one begins where the walk leaped to, not after a pause
}

// Split parts the walk where it paused.
func (w Walk) Split() []Session { return w.cut(w.parts) }

// cut parts the walk between readings that part, one after the other.
func (w Walk) cut(parts func(before, i int) bool) []Session {
	var out []Session
	for n, i := range w.Order {
		if n == 0 || parts(w.Order[n-1], i) {
			out = append(out, Session{})
		}
		s := &out[len(out)-1]
		s.Readings = append(s.Readings, i)
	}
	for k := range out {
		out[k].Readings = w.withoutLeaps(out[k].Readings)
	}
	out = slices.DeleteFunc(out, func(s Session) bool { return len(s.Readings) < Least })
	for k := range out {
		s := &out[k]
		s.places = w.placesOf(s.Readings)
		var strides []float64
		for n := 1; n < len(s.places); n++ {
			strides = append(strides, s.places[n].Dist(s.places[n-1]))
		}
		s.strideM = ranked.Median(strides)
	}
	return out
}

// parts tells whether another session begins with a reading, after the one before it.
func (w Walk) parts(before, i int) bool {
	last, r := &w.Readings[before], &w.Readings[i]
	timed := !last.Time.IsZero() && !r.Time.IsZero()
	paused := r.Time.Sub(last.Time).Abs()
	if last.File != r.File {
		return !timed || paused >= tablePause || r.Time.Before(last.Time) // of another crew
	}
	return timed && paused >= pause
}

// longStride is how many times the stride behind it the stride from the first readings of a
// session, or to the last, is at the most (judgement).
const longStride = 1.5

// isStride tells whether readings at either end of a session that were set aside are a
// stride from it: a fit that runs past a step leaves out what is next to it.
func (w Walk) isStride(of []int, k, end int) bool {
	from, to := end-1, end
	if k > 0 {
		from, to = k, k-1
	}
	past := 2*to - from
	if k > 0 && end < len(of) || past < 0 || past >= len(of) {
		return false
	}
	stride, next := w.Readings[of[to]].Pos.Sub(w.Readings[of[from]].Pos), w.Readings[of[past]].Pos.Sub(w.Readings[of[to]].Pos)
	return stride.Norm() <= longStride*next.Norm() && stride.Dot(next) > 0
}

// withoutLeaps are readings without those set aside by ones and twos, but for a stride from
// either end: a place that leaped is no course.
func (w Walk) withoutLeaps(of []int) []int {
	var out []int
	for k := 0; k < len(of); {
		end := k + 1
		for end < len(of) && w.Readings[of[end]].Outlier() == w.Readings[of[k]].Outlier() {
			end++
		}
		if !w.Readings[of[k]].Outlier() || end-k >= Least || w.isStride(of, k, end) {
			out = append(out, of[k:end]...)
		}
		k = end
	}
	return out
}

func (w Walk) placesOf(which []int) []geo.XY {
	at := make([]geo.XY, len(which))
	for k, i := range which {
		at[k] = w.Readings[i].Pos
	}
	return at
}

// Apart finds sessions that do not agree, where they overlap or where one goes on from the
// one before it.
func (w Walk) Apart(all []Session) []Apart {
	var out []Apart
	for k := range all {
		first := 0
		if len(all) > mostCompared {
			first = max(0, k-1)
		}
		for m := first; m < k; m++ {
			x := Apart{A: &all[m], B: &all[k]}
			x.ApartM, x.Overlap = w.overlapApart(x.A, x.B)
			if !x.Overlap && m == k-1 {
				x.ApartM, x.Near = w.seamApart(x.A, x.B)
			}
			if x.ApartM > 0 {
				out = append(out, x)
			}
		}
	}
	return out
}

// Resumed finds where a walk that leaped to another place, as to the far end of the line to
// come back from there, does not meet what was read before: one of the two was read over
// another line, or both from another side.
func (w Walk) Resumed() []Apart {
	var strides []float64
	for n := 1; n < len(w.Order); n++ {
		strides = append(strides, w.strideM(w.Order[n-1], w.Order[n]))
	}
	if len(strides) == 0 {
		return nil
	}
	leapM := math.Max(leastLeapM, leapStrides*ranked.Median(strides))
	all := w.cut(func(before, i int) bool { return w.parts(before, i) || w.strideM(before, i) > leapM })
	var out []Apart
	for k := 1; k < len(all); k++ {
		x := Apart{A: &all[k-1], B: &all[k], Resumed: true}
		if w.parts(x.A.Readings[len(x.A.Readings)-1], x.B.Readings[0]) {
			continue // sessions, which are compared as such
		}
		if x.ApartM, x.Near = w.seamApart(x.A, x.B); x.ApartM > 0 && x.ApartM <= besideM { // farther off a branch lies
			out = append(out, x)
		}
	}
	return out
}

// strideM is the way from one reading to another.
func (w Walk) strideM(from, to int) float64 { return w.Readings[from].Pos.Dist(w.Readings[to].Pos) }

// overlapApart is how far the later session lies beside the earlier one where it goes along
// it, 0 where no farther than their accuracy and the chords between readings explain, and
// whether it goes along it at all.
func (w Walk) overlapApart(a, b *Session) (apartM float64, overlap bool) {
	course := geo.NewPolyline(a.places)
	index := course.Index()
	var offs []float64
	limit := leastApartM
	for n, i := range b.Readings {
		f, beside := index.Nearest(b.places[n]), besideM
		if way := b.places[min(n+1, len(b.places)-1)].Sub(b.places[max(0, n-1)]); way.Dot(course.Direction(f.StationM)) < 0 {
			beside = besideBackM
		}
		if f.StationM <= 0 || f.StationM >= course.Length() || math.Abs(f.OffsetM) > beside {
			offs, limit = nil, leastApartM
			continue
		}
		offs = append(offs, f.OffsetM)
		own := math.Hypot(w.OwnM(i), w.OwnM(a.Readings[f.Segment]))
		limit = math.Max(limit, math.Max(apartSigmas*own, chordTimes*sagittaM(a.places, f.Segment)))
		if len(offs) < window {
			continue
		}
		overlap = true
		mean, scatter := meanOf(offs[len(offs)-window:])
		if math.Abs(mean) > limit && scatter <= math.Max(2*own, even*math.Abs(mean)) {
			apartM = math.Max(apartM, math.Abs(mean))
		}
	}
	return apartM, overlap
}

// meanOf is the mean and how far the farthest is from it.
func meanOf(of []float64) (mean, farthest float64) {
	for _, x := range of {
		mean += x / float64(len(of))
	}
	for _, x := range of {
		farthest = math.Max(farthest, math.Abs(x-mean))
	}
	return mean, farthest
}

// sagittaM is how far a line that bends at the ends of a chord as its neighbours do may lie
// beside it: half of it times the tangent of half of both turns (derived, for one corner
// between).
func sagittaM(at []geo.XY, segment int) float64 {
	turn := 0.0
	for k := segment; k <= segment+1; k++ {
		if k > 0 && k+1 < len(at) {
			a, b := at[k].Sub(at[k-1]), at[k+1].Sub(at[k])
			turn += math.Abs(math.Atan2(a.Cross(b), a.Dot(b)))
		}
	}
	return at[segment].Dist(at[segment+1]) / 2 * math.Tan(math.Min(turn, math.Pi/2)/2)
}

// seamApart is by how much two sessions miss each other where an end of the one is next to
// an end of the other.
func (w Walk) seamApart(a, b *Session) (apartM float64, near [2]int) {
	best := math.Inf(1)
	var before, after []int
	for _, x := range a.ends() {
		for _, y := range b.ends() {
			if d := w.Readings[x[0]].Pos.Dist(w.Readings[y[0]].Pos); d < best {
				best, before, after = d, x, y
			}
		}
	}
	if best > math.Max(seamM, seamStrides*math.Max(a.strideM, b.strideM)) {
		return 0, near
	}
	return w.missOf(before, after), [2]int{before[0], after[0]}
}

// ends are the readings from the last of a session and from the first of it inwards.
func (s *Session) ends() [2][]int {
	back := slices.Clone(s.Readings)
	slices.Reverse(back)
	return [2][]int{back, s.Readings}
}

// missOf is by how much runs, each from where they should meet outwards, miss each other; 0
// where that is within what their places may be off.
func (w Walk) missOf(before, after []int) float64 {
	before, after = w.spaced(before[:min(len(before), mostAsked)]), w.spaced(after[:min(len(after), mostAsked)])
	own := math.Max(w.OwnM(before[0]), w.OwnM(after[0]))
	miss, ok := sidestep.Meet(w.placesOf(before), w.placesOf(after), own)
	if !ok || miss.AsideM < math.Max(leastApartM, apartSigmas*miss.SigmaM) || miss.AsideM > sidestep.MostM {
		return 0
	}
	return miss.AsideM
}

// againSigmas is within how many times its own error a reading repeats the place of another
// (judgement).
const againSigmas = 3

// spaced are readings without those taken again at the place of the one before.
func (w Walk) spaced(of []int) []int {
	var out []int
	for _, i := range of {
		if n := len(out); n > 0 && w.Readings[i].Pos.Dist(w.Readings[out[n-1]].Pos) < againSigmas*w.OwnM(i) {
			continue
		}
		out = append(out, i)
	}
	return out
}

// RingMiss is by how much a session that comes back to where it began misses it: its closing
// error. It is 0 where it does not come back, or meets it.
func (w Walk) RingMiss(s *Session) float64 {
	openM := s.places[0].Dist(s.places[len(s.places)-1])
	if openM > ringOpenM+s.strideM || geo.NewPolyline(s.places).Length() < math.Max(ringM, ringTimes*openM) {
		return 0
	}
	ends := s.ends()
	return w.missOf(ends[0], ends[1])
}
