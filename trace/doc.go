// Package trace is the domain: the types that the product speaks of, and nothing
// that reads, makes or draws them.
//
// What goes in is a [Source]: the [Job] as the user describes it, and a [Reading]
// of every row that could be read. What comes out is a [Sheet]: the whole result
// of a job, without a format. Between the two, in order:
//
//  1. loamline.example/trace/intake makes a [Reading] of every row that can be read, in
//     metres, and a [Problem] of every one that cannot. Nothing is dropped in
//     silence: [Counts] must balance.
//  2. loamline.example/trace/locate, the main job, has loamline.example/trace/placing
//     bring positions to WGS 84 from the job's [loamline.example/geo.Frame] and into the
//     job's plane. Impossible ones are set aside with a reason.
//  3. loamline.example/trace/clean judges each line's readings, a [Trace]: every reading
//     gets a [Status].
//  4. loamline.example/trace/fit makes the [Centerline] with its depth profile and 95 %
//     bands, and says which readings leave it.
//  5. loamline.example/trace/bleed looks for stretches where another line's signal is
//     heard; what it and the other stages find are [Finding]s, and [Remark]s with
//     figures and no words: loamline.example/trace/finding and loamline.example/trace/remark
//     have their kinds, loamline.example/export/words says them.
//  6. loamline.example/trace/records compares the lines with the records,
//     loamline.example/trace/guard holds them against their readings,
//     loamline.example/trace/zones draws the tolerance and caution [Zone]s, and
//     loamline.example/trace/locate writes the advice.
//
// Lengths are metres, positions are in the job's plane (X east, Y north) until
// an exporter converts them, angles of travel do not occur. Offsets are positive
// to the right of the direction of travel. What is not known is [Unknown].
//
// The product refuses to guess in silence: it moves no mark, repairs no single
// row, and states no quality level. How far its figures hold is measured by
// loamline.example/trace/tracetest against simulated truth; see testdata/accuracy.md.
package trace
