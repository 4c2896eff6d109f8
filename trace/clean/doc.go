// Package clean judges the rows of a line before anything is drawn of them: each by
// itself and against the one before it ([Trace]), and all against each other
// ([Contradictions]): a slip of the unit or of the point, a display that stands still or
// is at its end, an elevation that leaps, depths that are not those of the antennas. What
// is no measurement is set aside or left out with its reason; what may be one is used, and
// told. What needs the whole line, blunders and spikes, is the fit's work, and what the
// figures of positions hide is that of package rounding.
package clean
