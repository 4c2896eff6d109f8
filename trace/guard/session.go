package guard

import (
	"math"
	"slices"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/sidestep"
)

// What makes a session, and when two of them do not agree. Judgement.
const (
	// A base is set up anew, or another one is heard, after sessionPause; a table of its own
	// is one of another job where the walk paused for pausedFor at least.
	sessionPause = 2 * time.Hour
	// leastSession readings are a session; of more than mostSessions each is held against
	// the one before it alone, for the time that it takes.
	leastSession, mostSessions = 3, 12
	// Sessions meet over at most seamM, or seamStrides usual strides.
	seamM, seamStrides = 8.0, 3.0
	// Where they overlap, windows of sessionWindow readings are compared, whose offsets
	// scatter by less than sessionEven of the offset.
	sessionWindow, sessionEven = 3, 0.25
	// A chord of the other session's readings may pass a bend by chordTimes its sagitta.
	chordTimes = 2.0
	// A ring is ringM long at the least, and ringTimes as long as the way between its ends.
	ringM, ringTimes = 15.0, 8.0
)

// session is a run of readings between two pauses, in travel order.
type session struct {
	readings   []int
	places     []geo.XY
	fromM, toM float64 // stations
	strideM    float64 // usual
}

// sessions are the readings over the line by session, those set aside for their position
// too: a whole session may be that the other one outvoted.
func (v *view) sessions() []session {
	if !v.inOrder {
		return nil
	}
	var out []session
	begun := false
	for _, i := range v.order {
		r := &v.Readings[i]
		if v.feet[i].part < 0 || r.Status != trace.StatusUsed && !r.Outlier() || r.Repeated() {
			continue
		}
		if !begun || v.newSession(out[len(out)-1].readings, i) {
			out, begun = append(out, session{}), true
		}
		s := &out[len(out)-1]
		s.readings = append(s.readings, i)
	}
	out = slices.DeleteFunc(out, func(s session) bool { return len(s.readings) < leastSession })
	for k := range out {
		s := &out[k]
		s.places = v.placesOf(s.readings)
		s.fromM, s.toM = math.Inf(1), math.Inf(-1)
		var strides []float64
		for n, i := range s.readings {
			s.fromM, s.toM = math.Min(s.fromM, v.feet[i].stationM), math.Max(s.toM, v.feet[i].stationM)
			if n > 0 {
				strides = append(strides, s.places[n].Dist(s.places[n-1]))
			}
		}
		slices.Sort(strides)
		s.strideM = strides[len(strides)/2]
	}
	return out
}

// newSession tells whether a reading is of another session than those before it.
func (v *view) newSession(before []int, i int) bool {
	last, r := &v.Readings[before[len(before)-1]], &v.Readings[i]
	timed := !last.Time.IsZero() && !r.Time.IsZero()
	pause := r.Time.Sub(last.Time).Abs()
	if last.File != r.File {
		return !timed || pause >= pausedFor
	}
	return timed && pause >= sessionPause
}

// sessionsApart finds sessions that do not agree, where they overlap or where one goes on
// from the other. A base at another place, or a table in another reference system, moves
// all of a session by as much, and nothing tells which of two it moved: the band holds both
// wherever either went. A session that comes back to its own beginning without meeting it
// has a closing error, which may have arisen anywhere on the way.
func (v *view) sessionsApart() []Breach {
	var out []Breach
	all := v.sessions()
	for k := range all {
		if b, ok := v.ringOpen(&all[k]); ok {
			out = append(out, b)
		}
		first := 0
		if len(all) > mostSessions {
			first = max(0, k-1)
		}
		for m := first; m < k; m++ {
			a, b := &all[m], &all[k]
			apartM, overlap := v.overlapApart(a, b)
			how := trace.Remark(remark.PassesApart{ApartM: apartM, InPart: true})
			if !overlap && m == k-1 {
				var atM float64
				apartM, atM = v.seamApart(a, b)
				how = remark.SeamApart{StationM: atM, AsideM: apartM}
			}
			if apartM > 0 {
				out = append(out, Breach{Kind: Passes, FromM: math.Min(a.fromM, b.fromM), ToM: math.Max(a.toM, b.toM), BandM: apartM, SeparationM: apartM, Remark: how})
			}
		}
	}
	return slices.DeleteFunc(out, v.toldAsStep)
}

// toldAsStep tells whether a step is told where sessions do not meet.
func (v *view) toldAsStep(b Breach) bool {
	at, ok := b.Remark.(remark.SeamApart)
	return ok && slices.ContainsFunc(append(v.steps(), v.stepsOverGaps()...), func(s Breach) bool {
		return s.Whole && s.BandM >= b.BandM && s.FromM <= at.StationM+joinM && s.ToM >= at.StationM-joinM
	})
}

// overlapApart is how far the later session lies beside the earlier one where it goes along
// it, 0 where no farther than their accuracy and the chords between readings explain, and
// whether it goes along it at all.
func (v *view) overlapApart(a, b *session) (apartM float64, overlap bool) {
	course := geo.NewPolyline(a.places)
	index := course.Index()
	var offs []float64
	limit := leastApartM
	for n, i := range b.readings {
		f := index.Nearest(b.places[n])
		if f.StationM <= 0 || f.StationM >= course.Length() || math.Abs(f.OffsetM) > besideItselfM {
			offs, limit = nil, leastApartM
			continue
		}
		offs = append(offs, f.OffsetM)
		own := math.Hypot(v.ownM(i), v.ownM(a.readings[f.Segment]))
		limit = math.Max(limit, math.Max(apartSigmas*own, chordTimes*sagittaM(a.places, f.Segment)))
		if len(offs) < sessionWindow {
			continue
		}
		overlap = true
		mean, scatter := meanOf(offs[len(offs)-sessionWindow:])
		if math.Abs(mean) > limit && scatter <= math.Max(2*own, sessionEven*math.Abs(mean)) {
			apartM = math.Max(apartM, math.Abs(mean))
		}
	}
	return apartM, overlap
}

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
// an end of the other, and where on the line.
func (v *view) seamApart(a, b *session) (apartM, stationM float64) {
	best := math.Inf(1)
	var before, after []int
	for _, x := range a.ends() {
		for _, y := range b.ends() {
			if d := v.Readings[x[0]].Pos.Dist(v.Readings[y[0]].Pos); d < best {
				best, before, after = d, x, y
			}
		}
	}
	if best > math.Max(seamM, seamStrides*math.Max(a.strideM, b.strideM)) {
		return 0, 0
	}
	return v.missOf(before, after), (v.feet[before[0]].stationM + v.feet[after[0]].stationM) / 2
}

// ends are the readings from either end of a session inwards.
func (s *session) ends() [2][]int {
	back := slices.Clone(s.readings)
	slices.Reverse(back)
	return [2][]int{back, s.readings}
}

// missOf is by how much runs, each from where they should meet outwards, miss each other; 0
// where that is within what their places may be off.
func (v *view) missOf(before, after []int) float64 {
	const most = 4 * sidestep.RunPlaces // more are not asked
	before, after = v.spaced(before[:min(len(before), most)]), v.spaced(after[:min(len(after), most)])
	own := math.Max(v.ownM(before[0]), v.ownM(after[0]))
	miss, ok := sidestep.Meet(v.placesOf(before), v.placesOf(after), own)
	if !ok || miss.AsideM < math.Max(leastApartM, apartSigmas*miss.SigmaM) || miss.AsideM > sidestep.MostM {
		return 0
	}
	return miss.AsideM
}

// spaced are readings without those taken again at the place of the one before.
func (v *view) spaced(of []int) []int {
	var out []int
	for _, i := range of {
		if n := len(out); n > 0 && v.Readings[i].Pos.Dist(v.Readings[out[n-1]].Pos) < 3*v.ownM(i) {
			continue
		}
		out = append(out, i)
	}
	return out
}

// ringOpen finds a session that comes back to where it began and does not meet it.
func (v *view) ringOpen(s *session) (Breach, bool) {
	ends := s.ends()
	lastM, firstM := v.feet[ends[0][0]].stationM, v.feet[ends[1][0]].stationM
	openM := s.places[0].Dist(s.places[len(s.places)-1])
	if openM > besideItselfM+s.strideM || geo.NewPolyline(s.places).Length() < math.Max(ringM, ringTimes*openM) || s.toM-s.fromM < ringM {
		return Breach{}, false
	}
	missM := v.missOf(ends[0], ends[1])
	if missM == 0 {
		return Breach{}, false
	}
	return Breach{Kind: Passes, FromM: math.Min(firstM, s.fromM), ToM: math.Max(lastM, s.toM), BandM: missM, SeparationM: missM, Remark: remark.RingOpen{MissM: missM}}, true
}
