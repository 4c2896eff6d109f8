// Package plan is the arithmetic of a drawing sheet: which round scale, how a
// line is cut into strips, where ground falls on paper and where a label finds
// room. It draws nothing and knows no file format.
//
// Ground positions are [geo.XY], metres in the job's plane. Paper positions are
// [Pt], millimetres from the top left corner of the sheet, x to the right and y
// down. A scale is a ratio: 200 means 1:200, one metre on 5 mm of paper.
package plan
