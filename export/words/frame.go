package words

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

// orMore stands behind a figure that is no limit.
const orMore = " or more"

// frameLimit words how far a map may lie off for its frame: where no local frame is
// known, the figure is no limit, and says so.
func frameLimit(u geo.Units, m float64, open bool) string {
	if open {
		return ShortUp(u, m) + orMore
	}
	return ShortUp(u, m)
}

// withFrame words a distance and what the frame may add to it: the parts add up as they
// are shown, and each is rounded up.
func withFrame(u geo.Units, m, frameM float64) string {
	stepM := geo.InchM
	if u == geo.Metric {
		stepM = 0.01
	}
	return ShortUp(u, upTo(stepM, m)+upTo(stepM, frameM))
}

// upTo rounds up as ShortUp does.
func upTo(stepM, m float64) float64 { return math.Ceil(m/stepM-1e-6) * stepM }

// FromMap words a distance to keep off, which counts from the paint on the ground, for
// whoever measures it from this map: what the frame may be off comes on top. It is the
// same distance where the frame leaves nothing open, and "do not" where nothing says
// how far off the map may lie.
func FromMap(u geo.Units, z trace.Zone, m float64) string {
	switch {
	case z.DoubtOpen():
		return "do not"
	case z.DoubtM > 0:
		return withFrame(u, m, z.DoubtM)
	}
	return ShortUp(u, m)
}

// PaintFirst says where a distance to keep off counts from, nothing where the frame leaves
// nothing open.
func PaintFirst(u geo.Units, z trace.Zone) string {
	switch {
	case z.DoubtOpen():
		return "That is from the paint on the ground. Do not measure from this map: nothing says how far off it may lie."
	case z.DoubtM > 0:
		return "That is from the paint on the ground. From this map it is " + ShortUp(u, z.DoubtM) + " more, for its datum."
	}
	return ""
}

// FrameShare tells how much of every figure across a line the frame may be, nothing
// where it leaves nothing open.
func FrameShare(u geo.Units, z trace.Zone) string {
	if !(z.DoubtM > 0) {
		return ""
	}
	return frameLimit(u, z.DoubtM, z.DoubtOpen()) + " of each figure across is for the datum of the positions: measured from the paint on the ground it does not count."
}
