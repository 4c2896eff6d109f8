// Package otherworld is a second world of practice traces with known truth. It
// makes the same kinds of things as [loamline.example/trace/tracetest], whose types and
// file writer it uses, and shares nothing else with it: other physics code, other
// habits of locators, receivers and satellite positions, other shapes, and every
// condition drawn from a wide range. What is tuned on one world can be measured
// on the other.
//
// The field is that of finite straight filaments with complex currents (Biot and
// Savart in closed form) in the line, in its neighbours, in bonds between them
// and in the transmitter's lead, and of the coil of an induction transmitter.
// Current that leaves a filament's end flows off into the ground alike in all
// directions. Currents induced in the ground make depths shallow, as they do
// over one long line in uniform ground (Wait and Spies 1971); that and the
// receiver's own calibration are one factor common to all depths of a job.
//
// A locator stops, or logs while walking, searches across the line from where he
// believes it to be, and marks the peak, the null or the place between. The
// receiver comes to a depth by two coils, by two antennas for the whole field,
// by the width at 80 % of the peak, or by the places where the field stands at
// 45°. The reading's truth is that of a search without any noise: PeakShiftM and
// CleanShiftM are of the mark that his habit aims at, and the depths are those
// that his rule gives there, or, where he strays from it, where he stood.
//
// What it leaves out: the lever arm between positioning antenna and receiver,
// ambient signal, ground that is not flat or not uniform, and the field of a
// coating's leakage beyond what symmetry makes vanish.
//
// Lengths are metres, currents ampere inside, fields tesla. X is east, Y north.
package otherworld
