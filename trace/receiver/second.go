package receiver

// Second figures. Each says the same as one that the fit goes by, and was chosen
// apart from it: for the detector, whose scores are calibrated with them, or for
// the checks of a finished line, which are to trust a reading less than the fit
// does. Where one is given up for the other, the accuracy tables are to be remade.
const (
	// MarkRel is the error of marking the peak, one sigma, as a part of depth, and
	// LeastMarkM the least (common practice, no source). The fit has 3 % (PinpointM).
	MarkRel    = 0.04
	LeastMarkM = 0.02
	// PlainDepthM scales the detector's columns where no depth was read. The fit has
	// UsualDepthM.
	PlainDepthM = 1.0
	// LeastStatedM is the least stated accuracy that the detector reckons with. The
	// fit has BestM of the kind of fix, and 3 mm.
	LeastStatedM = 0.005
	// CheckedDepthRel and CheckedDepthM are the least own error of a depth that a
	// finished profile is held against, one sigma (common practice, no source;
	// displays round to 1 to 5 cm). The fit has DepthNoiseRel.
	CheckedDepthRel, CheckedDepthM = 0.05, 0.03
	// MostDepthRel is the most random error of a depth that scatter may show, one
	// sigma: twice CheckedDepthRel. What scatters more is depths of two kinds,
	// not noise (common practice, no source).
	MostDepthRel = 0.10
	// JoinedDepthRel and JoinedScaleRel are the errors of depths on a line that is
	// joined from reading to reading, one sigma, relative: random, and common to all
	// (common practice, no source). The fit has DepthNoiseRel and DepthScaleRel.
	JoinedDepthRel, JoinedScaleRel = 0.05, 0.065
	// CheckedExposed95M and CheckedExposedDepth95M are the errors that measuring an
	// open line may have, 95 %, beside the position's own (common practice, no
	// source). The fit has 1.96 ExposedDepthM, and ExposedM.
	CheckedExposed95M, CheckedExposedDepth95M = 0.05, 0.05
	// PlainDepthRel is the random error of a depth, one sigma, where a trace is too short
	// to show it, and LeastDepthRel the least that it is taken to show: judgement, the
	// former as in the simulations by which the detector's method was chosen. A lower
	// least lets chance make much of a trace that happens to scatter little. The fit has
	// DepthNoiseRel.
	PlainDepthRel, LeastDepthRel = 0.045, 0.015
	// PlainSignalRel and LeastSignalRel are the same of a signal. Judgement, the former as in
	// those simulations.
	PlainSignalRel, LeastSignalRel = 0.05, 0.008
	// PlainNullM and LeastNullM are the same of a null over a line 1 m deep. Judgement, the
	// former likewise.
	PlainNullM, LeastNullM = 0.05, 0.02
	// PlainLineM is the error across of a line that was drawn, one sigma, where none is
	// stated with it. Judgement.
	PlainLineM = 0.05
	// PreciseFixM is the usual stated accuracy of a walk below which its positions are
	// taken for those by carrier phase; over PreciseLastsM of the way their errors last,
	// and over PlainLastsM those of others. Judgement. The fit has TauS of the kind of fix.
	PreciseFixM, PreciseLastsM, PlainLastsM = 0.06, 15, 60
)

// PlainFixM is the error of a position by its fix alone, one sigma per axis, as the
// detector has it: without HDOP, and one figure for whatever is less than a float
// fix (common practice, no source). The fit has UsualM of Errors.
func PlainFixM(fix int) float64 {
	switch fix {
	case rtkFixed:
		return 0.02
	case rtkFloat:
		return 0.2
	}
	return 0.6
}
