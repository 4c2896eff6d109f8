// Package locate is the main job: [Build] turns a [loamline.example/trace.Source] into a
// [loamline.example/trace.Sheet].
//
// It places and cleans the readings, hands each line to loamline.example/trace/fit and
// loamline.example/trace/bleed in their own terms and takes back what they say, finds
// crossings, compares the lines with the records, draws the zones and words the
// statements and the advice. Lines are worked on side by side; the result does
// not depend on how.
//
// [OverlayLocates] compares two finished maps of the same lines.
package locate
