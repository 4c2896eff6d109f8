// Package locate is the main job: [Build] turns a [loamline.example/trace.Source] into a
// [loamline.example/trace.Sheet].
//
// It has the readings placed and cleaned (packages placing and clean), hands each line to
// loamline.example/trace/fit and loamline.example/trace/bleed in their own terms and takes
// back what they say, pins it to what was exposed (pinned), lays the records beside it (records),
// holds it against its readings (guard), has the zones drawn (zones), and makes the
// statements and the advice. Lines are worked on side by side; the result does not depend
// on how.
package locate
