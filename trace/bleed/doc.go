// Package bleed finds stretches of a trace where the signal is suspected to
// come, in part or in whole, from another conductor.
//
// Into [Detect] go one line's readings in station order and an [Index] of all
// lines and records of the job; out comes a [Report]: stretches with a grade,
// a score, the neighbour, evidence in words, and by how much the caution zone
// must widen. Lengths are metres in the job's plane, offsets are positive to
// the right of travel.
//
// The detector compares, along the line, the best story without coupling
// (bends, depth changes, tees, bad readings) with the best story with it, for
// each neighbour and for one that nobody drew. Its physics is package receiver's;
// its statistics are Gaussian evidence over all stretches at once (Kass and
// Raftery, 1995, JASA 90:773; Rasmussen and Williams, 2006, Gaussian Processes
// for Machine Learning; segments as in Fearnhead, 2006, Stat. Comput. 16:203).
//
// A stretch's score is the probability that signal couples there, as far as
// simulated lines can tell: for a known neighbour the evidence is calibrated on
// them, with one curve for all columns, so that suspect (0.8) and strong (0.95)
// mean the same with a depth column alone as with every column. The committed
// accuracy table has what scores came to on lines not used for that. A watch
// below 0.5 saw no sign: it tells how often a neighbour so close is coupled.
//
// It cannot see everything: symmetric or stacked neighbours, currents out of
// phase, and coupling that is the same along the whole trace may leave no sign.
// So it never calls a line clean, and never moves a mark.
package bleed
