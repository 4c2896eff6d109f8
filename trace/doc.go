// Package trace turns the readings of a locate into a [Sheet]: the whole result
// of a job, without a format.
//
// What goes in are readings tables, a job file, reference layers and logs of
// positions ([Load], into a [Source]); what comes out of [Build] is a Sheet. On
// the way, in order:
//
//  1. [ReadTable] makes a [Reading] of every row that can be read, in metres,
//     and a [Problem] of every one that cannot. Nothing is dropped in silence:
//     [Counts] must balance.
//  2. Positions are brought to WGS 84 from the job's [loamline/geo.Frame] and
//     into the job's plane. Impossible ones are set aside with a reason.
//  3. Each line's readings, a [Trace], are cleaned: every reading gets a
//     [Status].
//  4. loamline/trace/fit makes the [Centerline] with its depth profile and 95 %
//     bands, and says which readings leave it.
//  5. loamline/trace/bleed looks for stretches where another line's signal is
//     heard; what it and the other stages find are [Finding]s.
//  6. The tolerance and caution [Zone]s are drawn, lines are compared with the
//     records, and the advice is written.
//
// Lengths are metres, positions are in the job's plane (X east, Y north) until
// an exporter converts them, angles of travel do not occur. Offsets are positive
// to the right of the direction of travel. What is not known is [Unknown].
//
// The package refuses to guess in silence: it moves no mark, repairs no single
// row, and states no quality level. How far its figures hold is measured by
// loamline/trace/tracetest against simulated truth; see testdata/accuracy.md.
package trace
