// Package locate is the main job: [Build] turns a [loamline/trace.Source] into a
// [loamline/trace.Sheet].
//
// It places and cleans the readings, hands each line to loamline/trace/fit and
// loamline/trace/bleed in their own terms and takes back what they say, finds
// crossings, compares the lines with the records, draws the zones and words the
// statements and the advice. Lines are worked on side by side; the result does
// not depend on how.
//
// [OverlayLocates] compares two finished maps of the same lines.
package locate
