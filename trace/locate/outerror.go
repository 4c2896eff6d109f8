package locate

import (
	"math"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
	"loamline.example/trace/rounding"
)

// lineErrors is what is known of the errors of a line beyond its bands.
type lineErrors struct {
	advice        []trace.Advice // to check before digging
	depthStepM    float64        // on which the depths were written
	unbounded     bool           // nothing bounds the error of the positions
	depthScale    float64        // what a depth read stands over the true one, as exposures showed; 0 where none did
	shown         shownError     // what exposed depths showed of the receiver's
	onTrust       bool           // see [onTrust]
	depthsDoubted bool           // something contradicts the depths as a whole
	depthFactor   float64        // what they stand over those that their antennas give; 0 where nobody knows
	depthScaleRel float64        // by which common factor the depths may be off, one sigma
}

// tell notes something to check at a station, or about the whole line where that
// is Unknown.
func (k *lineErrors) tell(l *trace.Line, stationM float64, kind trace.AdviceKind, what trace.Remark) {
	k.advice = append(k.advice, trace.Advice{Line: l.Setup.Name, FromM: stationM, ToM: stationM, Kind: kind,
		Remark: remark.OnLine{Line: l.Setup.Name, StationM: stationM, What: what}})
}

// nearReadings is how many readings a place's error is taken from. Judgement.
const nearReadings = 9

// widenForHidden widens the bands of a line by errors that its readings cannot show:
// what all of them have in common though nothing stated bounds it, what the
// digits of their positions and depths hide, and the scale of the receiver's
// depths. It says so where that matters.
func (k *lineErrors) widenForHidden(l *trace.Line, rounds rounding.Files) {
	rs := byStation(l.Readings)
	if l.Centerline == nil || len(rs) == 0 {
		return
	}
	var most outerror
	rounded := false
	for part := range l.Centerline.Parts {
		p := &l.Centerline.Parts[part]
		path := geo.NewPolyline(p.Path())
		at := func(i int, turned bool) outerror {
			near, dir := readingsNear(rs, p.Vertices[i].StationM), path.Direction(path.Station(i))
			if turned {
				dir = geo.XY{X: -dir.Y, Y: dir.X}
			}
			return outerror{hidden95M: 1.96 * hiddenM(near), rounded95M: rounds.AcrossM(dir, near), unbounded: !bounded(near)}
		}
		if p.StartAlong95M > 0 {
			p.StartAlong95M = at(0, true).across(p.StartAlong95M)
		}
		if p.EndAlong95M > 0 {
			p.EndAlong95M = at(len(p.Vertices)-1, true).across(p.EndAlong95M)
		}
		for i := range p.Vertices {
			v, e := &p.Vertices[i], at(i, false)
			most = most.worse(e, v.Horizontal95M)
			v.Horizontal95M = e.across(v.Horizontal95M)
			v.Common95M = math.Min(v.Horizontal95M, e.across(v.Common95M))
			read95M := math.Hypot(v.Depth95M, receiver.DepthScale95M(v.DepthM, k.depthScaleRel))
			rounded = rounded || k.depthStepM/2 > matterFrom*read95M
			v.Depth95M = hypot3(v.Depth95M, receiver.DepthScale95M(v.DepthM, k.depthScaleRel), k.depthStepM/2)
		}
	}
	k.unbounded = most.unbounded
	most.tell(k, l)
	if rounded && k.depthStepM >= receiver.CoarseDepthM {
		l.Centerline.Notes = append(l.Centerline.Notes, remark.DepthsRounded{StepM: k.depthStepM})
	}
}

// outerror is what the readings near a place cannot show of its error.
type outerror struct {
	hidden95M  float64
	rounded95M float64
	unbounded  bool // nothing says that it is less than an autonomous receiver's
	matters    bool // the rounding is a good part of the band
}

// across adds it to a half-width. What is rounded is the same for all readings
// along a parallel, and has no tail: it adds up where it is large.
func (e outerror) across(half95M float64) float64 {
	h := math.Hypot(half95M, e.hidden95M)
	// Between a sum of squares, for independent errors, and a plain sum (judged; no source).
	return math.Pow(math.Pow(h, 1.5)+math.Pow(e.rounded95M, 1.5), 1/1.5)
}

// worse keeps the worst of a line, and notes where rounding matters.
func (e outerror) worse(o outerror, half95M float64) outerror {
	return outerror{math.Max(e.hidden95M, o.hidden95M), math.Max(e.rounded95M, o.rounded95M), e.unbounded || o.unbounded,
		e.matters || o.rounded95M > matterFrom*half95M && o.rounded95M > reportedRoundingM}
}

// matterFrom is from which part of the rest of a band rounding is a good part of it.
// Judgement.
const matterFrom = 0.5

// reportedRoundingM is from where rounding is worth a word: a tenth of the usual
// tolerance (common practice, no source).
const reportedRoundingM = 0.05

// reportedHiddenM is from where the shared error of a fix is worth a note: what a fixed
// one shares is not. Judgement.
const reportedHiddenM = 0.05

func (e outerror) tell(k *lineErrors, l *trace.Line) {
	add := func(note, advice trace.Remark) {
		l.Centerline.Notes = append(l.Centerline.Notes, note)
		k.tell(l, trace.Unknown, trace.AdviseAccuracy, advice)
	}
	switch {
	case e.unbounded:
		add(remark.ErrorUnbounded{Hidden95M: e.hidden95M}, remark.PositionsUnbounded{OffM: e.hidden95M})
	case e.hidden95M > reportedHiddenM:
		l.Centerline.Notes = append(l.Centerline.Notes, remark.ErrorOfFix{Hidden95M: e.hidden95M})
	}
	if e.matters {
		add(remark.ErrorOfDigits{Rounded95M: e.rounded95M}, remark.PositionsRounded{OffM: e.rounded95M})
	}
}

// hiddenM is the error that the readings near a place may have in common, one
// sigma across the line: less where some of them are bounded.
func hiddenM(near []*trace.Reading) float64 {
	sum := 0.0
	for _, r := range near {
		sum += receiver.HiddenM(r.HAccM, int(r.Fix), r.HDOP)
	}
	return sum / float64(len(near))
}

// bounded reports whether anything bounds the error of all readings near a place.
func bounded(near []*trace.Reading) bool {
	for _, r := range near {
		if !receiver.Bounded(r.HAccM, int(r.Fix), r.HDOP) {
			return false
		}
	}
	return true
}

// byStation are the readings that the line was drawn from, along it.
func byStation(all []trace.Reading) []*trace.Reading {
	var rs []*trace.Reading
	for i := range all {
		if r := &all[i]; trace.Known(r.StationM) && (r.Status == trace.StatusUsed || r.Status == trace.StatusExposed) {
			rs = append(rs, r)
		}
	}
	sort.SliceStable(rs, func(a, b int) bool { return rs[a].StationM < rs[b].StationM })
	return rs
}

// readingsNear are the few readings nearest to a station.
func readingsNear(rs []*trace.Reading, stationM float64) []*trace.Reading {
	i := sort.Search(len(rs), func(i int) bool { return rs[i].StationM >= stationM })
	from, to := i, i
	for to-from < min(nearReadings, len(rs)) {
		if to == len(rs) || from > 0 && stationM-rs[from-1].StationM < rs[to].StationM-stationM {
			from--
		} else {
			to++
		}
	}
	return rs[from:to]
}

func hypot3(a, b, c float64) float64 { return math.Hypot(a, math.Hypot(b, c)) }
