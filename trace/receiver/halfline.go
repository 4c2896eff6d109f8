package receiver

import "math"

// A current that changes at one place, of a tee, of an open end, or of a lead that stands
// beside the line, is an endless line less a half one: exact by Biot and Savart.

// HalfLine is the part of an endless line's field, across it at the distance hM, that its
// half beyond a place makes alongM past that place: ½(1 + s/√(s²+h²)).
func HalfLine(alongM, hM float64) float64 { return 0.5 * (1 + alongM/math.Hypot(alongM, hM)) }

// HalfLineSlope is the derivative of [HalfLine] along the line.
func HalfLineSlope(alongM, hM float64) float64 {
	r := math.Hypot(alongM, hM)
	return 0.5 * hM * hM / (r * r * r)
}

// leastBelow bounds the depth that a tee shows where the current that is left is so little
// that the antennas would show none: at most twenty times the line's. Judgement.
const leastBelow = 0.05

// Tee returns what a tee that takes share of the current does to log depth and log field
// over the line, alongM past it. A negative share adds current; all of it is an open end.
func Tee(share, alongM, depthM, gapM float64) (lnDepth, lnField float64) {
	low, high := 1-share*HalfLine(alongM, depthM), 1-share*HalfLine(alongM, depthM+gapM)
	// TwoAntennaDepthM of low/d and high/(d+gap), over d.
	below := low*(depthM+gapM) - high*depthM
	if below <= leastBelow*gapM {
		below = leastBelow * gapM
	}
	return math.Log(high * gapM / below), math.Log(low)
}

// TeeNullM returns, per unit share, how far the branch of a tee, which leads off square to
// the line, moves the null alongM past the tee: away on one side, back on the other.
func TeeNullM(alongM, depthM float64) float64 {
	return 0.5 * depthM * depthM * alongM / (alongM*alongM + depthM*depthM)
}

// EndLoss is the relative depth that is lost where the current ends x depths
// beyond the reading, for two antennas 0.4 m apart over a line at 1 m: finite
// straight current by the Biot-Savart law, to three figures, but at the end itself the
// mean over the half depth before it: there nothing is lost by the law, and the loss
// rises too fast for a straight line. Beyond five depths it falls with the square, by the
// figure at five; the law tends to 0.84 there. Derived, all of it.
func EndLoss(x float64) float64 {
	at := [...]float64{0, 0.5, 1, 2, 3, 5}                        // depths from the end
	lost := [...]float64{0.15, 0.225, 0.218, 0.126, 0.072, 0.030} // of the depth
	for i := 1; i < len(at); i++ {
		if x < at[i] {
			u := (x - at[i-1]) / (at[i] - at[i-1])
			return lost[i-1] + u*(lost[i]-lost[i-1])
		}
	}
	return 0.75 / (x * x)
}

// LeadNullM is by how much a transmitter's lead of leadM, which runs over the ground from the
// line to its stake, square to the line and awayM along it, pulls the null aside where it
// carries amps for each of the line: its field is upright there, ½ L/(s·√(s²+L²)), and leaves
// the peak where it is (Biot and Savart 1820, for a lead at the height of the lower antenna).
// That is returned times over: multiplied otherwise, the last bit turns one stretch of
// some thousand simulated ones into another.
func LeadNullM(times, depthM, amps, awayM, leadM float64) float64 {
	return 0.5 * times * depthM * depthM * amps * leadM / (awayM * math.Hypot(awayM, leadM))
}

// An elbow cuts the peak short: both legs' fields together are greatest inside of it, at most
// elbowPeakDepths·sin(turn/2) depths off either leg. Superposed half-infinite legs (Biot and
// Savart) make 0.32 depths at a right angle, where the formula makes 0.31, 0.19 at 45° (0.17)
// and 0.34 at 135° (0.41): derived.
const elbowPeakDepths = 0.44

// ElbowPeakM is by how much the peak cuts a sharp elbow at most.
func ElbowPeakM(turn, depthM float64) float64 {
	return elbowPeakDepths * depthM * math.Sin(math.Abs(turn)/2)
}

// cornerNullDepths is how far, in depths, a square bend pulls the null outward at the
// corner, fading over cornerFades depths. Derived by the law of Biot and Savart: from one to
// six depths from the corner the null of two half-infinite legs is pulled by as much, to a
// hundredth of a depth; nearer it comes back to the corner, farther off more is left.
const (
	cornerNullDepths = 0.32
	cornerFades      = 4.2
)

// CornerReach is how many depths from a square corner its pull on the null is still felt:
// less than one in a hundred is left beyond, e^-5. Judgement.
const CornerReach = 5 * cornerFades

// CornerNullM is how far a square bend pulls the null outward, so many depths from it.
func CornerNullM(awayDepths, depthM float64) float64 {
	return cornerNullDepths * depthM * math.Exp(-awayDepths/cornerFades)
}
