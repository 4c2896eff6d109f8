// Package traverse joins the readings of a walk from place to place, as a
// surveyor's traverse does: the line that claims nothing beyond them.
//
// It stands in where no smooth line holds what was read: rings, hairpins,
// branches walked out and back, detours between two readings. What goes in are
// readings that may be points of the line; what comes out is a centerline with a
// vertex at every place where the walk stood, in travel order, and the indices of
// readings that leap off the walk and back. Readings that stand still are one
// place. The walk is broken where it goes on more than breakM away.
//
// A band holds the place's own error (one sigma per axis, as given), that with which
// the peak is found, or what the places show themselves to scatter by where that is more,
// and what the line may do between two places: a quarter of their distance times the
// tangent of half the turn there, which is what an arc or a corner between them comes to.
// Depths are the running median of three, with their random error and the scale
// error that all depths of a receiver have in common.
//
// It refuses rows whose order is no walk: those without times that lie scattered
// from one to the next (package walkorder).
package traverse
