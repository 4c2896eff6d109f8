// Package returnleg has the bands of a line that turns back beside itself hold what its two legs
// do to each other.
//
// Their currents run against each other: over each, the field of the other takes from its own.
// The peaks stand farther apart than the legs, by up to 2h/√3 however close these lie, and the
// depths read shallow, by half and more. The fit reckons what the other leg does from where it
// is drawn, which is where its peak stood, and so too little of it; a line joined from reading
// to reading has nothing of it. And legs that lie close and deep show the same as others that
// lie apart and shallow, which no reading over them decides. The line stays as drawn: its bands
// are widened to hold every pair of legs that shows those peaks and those depths, whichever of
// the two has the more current.
//
// Legs nearer to each other than their bands are good are left: what was drawn says nothing of
// where they lie, and mostly they are drawn as one.
package returnleg
