package trace

import (
	"math"
	"sort"

	"github.com/paulmach/orb"
)

// Zone is an area about the line; Area is in the plane, outer rings
// counter-clockwise.
type Zone struct {
	Area         orb.MultiPolygon
	HalfWidthM   float64 // of the tolerance zone, half the diameter included
	MeasuredFrom string
	Rule         string // as the job states it; empty where it names none
	// AssumedDiameterM is the line's, where it is not known and half of it is in the
	// width; else 0.
	AssumedDiameterM float64
	Confidence       float64 // of the caution zone
	DoubtM           float64 // how far the whole zone may be off for its frame; 0 where that is known well
	DoubtDatum       string  // the frame behind that figure: the one stated, else a local one; empty of a stated one where it is the foot alone that nothing tells
	DoubtStated      bool    // the frame was stated, and is joined to WGS 84 no better than that
}

// DoubtOpen reports that DoubtM is no limit: nobody stated a datum, and no local one is
// known that it could be.
func (z Zone) DoubtOpen() bool { return z.DoubtM > 0 && !z.DoubtStated && z.DoubtDatum == "" }

// Doubted is the caution zone of a line whose frame leaves the most open; zero where none
// does. Lines of one sheet share their frame, and some have no zone.
func (s *Sheet) Doubted() Zone {
	var most Zone
	for i := range s.Lines {
		if c := s.Lines[i].Caution; c.DoubtM > most.DoubtM {
			most = c
		}
	}
	return most
}

// ZoneShoulderM is over what length the extra width of a suspected stretch rises and
// falls at its ends: a detector does not know its ends to the decimetre.
const ZoneShoulderM = 1.0

// ZoneReach is how far the caution zone, as drawn, reaches to either side of the
// drawn line at a station. What words say of it must be this.
type ZoneReach struct{ StationM, LeftM, RightM float64 }

// ReachAt is how far a zone reaches at a station, between two places as at both; the places
// stand in order of stations, and there is one at least.
func ReachAt(zs []ZoneReach, stationM float64) (leftM, rightM float64) {
	i := sort.Search(len(zs), func(i int) bool { return zs[i].StationM >= stationM })
	a, b := zs[max(0, min(i-1, len(zs)-1))], zs[min(i, len(zs)-1)]
	f := 0.0
	if b.StationM > a.StationM {
		f = math.Max(0, (stationM-a.StationM)/(b.StationM-a.StationM))
	}
	return a.LeftM + f*(b.LeftM-a.LeftM), a.RightM + f*(b.RightM-a.RightM)
}

// GapEdgeM is how near to the end of a stretch that is not traced a place counts as lying on
// its edge, where nothing is told as sure: a spacing of readings (common practice, no source).
const GapEdgeM = 0.5

// StretchEndM is how near to the end of any other stretch a place counts as lying in it: half
// of the figure that stations are told with, 1 ft. Where a stretch is told from 0.0 m, the
// line's start is in it.
const StretchEndM = 0.16
