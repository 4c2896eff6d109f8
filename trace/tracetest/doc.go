// Package tracetest makes traces whose truth is known: it buries lines, sends
// current through them, walks a locator over them and writes down what the
// receiver and the positioning would have shown.
//
// What goes in is the name of a family and a seed; what comes out is a [Job]:
// the buried lines with the depth of their centres, the readings with every
// column of the readings table, and beside each reading the truth about it.
// The same family and seed give the same bytes.
//
// The physics is that of finite straight current segments (Biot and Savart) in
// three dimensions, with complex currents, plus the dipole of an induction
// transmitter. The locator searches for the peak and the null across the line
// as a person does, step by step; depth and current come from the magnitudes
// at two antennas. No formula for parallel or infinitely long conductors is
// used anywhere, and nothing is shared with the estimators that are measured
// against this package: it imports [loamline.example/geo] alone.
//
// What it leaves out: currents induced in the soil (depth reads a few percent
// shallow at high frequency, Wait and Spies 1971), the field of current that
// leaks from a coating into the ground, tilt of the receiver, and the lever arm
// between positioning antenna and receiver.
//
// Lengths are metres, currents milliamperes at the edges and amperes inside,
// fields tesla. The plane's X is east, Y north; heights are above the ground at
// the reading, the ground itself is locally flat.
package tracetest
