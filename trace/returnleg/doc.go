// Package returnleg has the bands of a line that turns back beside itself hold what its two legs
// do to each other.
//
// Their currents run against each other: over each, the field of the other takes from its own.
// The peaks stand farther apart than the legs, by up to 2h/√3 however close these lie, the nulls
// farther still, and the depths read shallow, by half and more. The fit reckons what the other
// leg does from where it is drawn, which is where its peak stood, and so too little of it; a
// line joined from reading to reading has nothing of it. And legs that lie close and deep show
// the same as others that lie apart and shallow, which no reading over them decides. The line
// stays as drawn: its bands are widened to hold 95 % of the pairs of legs that show those marks
// and those depths, by how likely each is, whichever of the two has the more current, and
// whether peak or null was marked.
//
// Legs nearer to each other than their places are good are left: what was drawn says nothing of
// where they lie, and mostly they are drawn as one. So are those so far apart that where the
// fit draws them is near enough, and those where somebody exposed the line.
//
// On 30 hairpins of the second simulator that nothing was chosen on (`loamline accuracy --world
// second --family hairpin --seeds 30 --first-seed 7700`) bands across hold 92.7 % instead of 83.9,
// in depth 75.3 instead of 62.8, and zones 98.3 instead of 97.8; on 30 on which the choice below
// was made (--first-seed 7400) 88.5 instead of 70.6, 83.5 instead of 70.3, and 97.8 instead of
// 94.2. There, all pairs held alike, however unlikely and however far off, gave 91.4, 85.9 and
// 97.8 %, but bands twelve times as wide on legs six metres apart of the first simulator (0.054
// to 0.68 m), where these are 0.057 m. What is missing in depth is mostly legs drawn as one.
package returnleg
