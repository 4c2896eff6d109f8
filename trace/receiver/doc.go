// Package receiver is the magnetic field of buried lines that carry a tracing
// current, and what a locating receiver over them shows.
//
// A [Section] is a cut across any number of long parallel lines with signed or
// complex currents: x in metres to the right of the line under test, z in
// metres above the lower antenna, depths in metres below it, currents in
// amperes (rms), fields in tesla. [Section.Survey] answers with the peak, the
// null, the depth and the current that an instrument would show there. A
// [Wire] is a line of finite length with bends, by Biot and Savart, and a [SeenLeg] one piece
// of it. In closed form are what a neighbour does to a mark that is known ([AtMark]), a line
// that ends or branches ([HalfLine], [Tee], [EndLoss]), an elbow ([ElbowPeakM]), a lead
// ([LeadNullM]), and where peak and null stand beside another field ([PeakOffM]). The
// estimators have no formula of a field of their own.
//
// The fields are those of currents in free space. That is exact to a few per
// cent as long as depth and spacing are small against the soil's skin depth. The
// package knows nothing of traces and detects nothing.
//
// It also holds what is known of the errors of both instruments of a locate:
// how far each kind of fix may be off and what it can do at best ([Errors],
// [HiddenM]), what rounded figures hide ([Step]), how depths err
// ([DepthSigmaRel], [DepthScaleRel]), how well a peak is found ([PinpointM]), and what
// is taken where nobody states it ([UsualGapM] and beside it). Every such number
// stands here, with its source, and once: fit, detector and the checks of a finished
// line go by the same.
package receiver

// TeslaMetrePerAmpere is mu0/2pi: the field in tesla of one ampere in a long
// straight line, at one metre (derived from mu0 = 4π·10⁻⁷ by Ampère's law).
const TeslaMetrePerAmpere = 2e-7
