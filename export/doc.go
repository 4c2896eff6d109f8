// Package export writes a trace.Sheet: one sheet, many formats.
//
// A Sheet comes in with its geometry in plane metres; files leave with WGS 84
// degrees (longitude first) or with the coordinates of a reference system that
// the caller names. GeoJSON is the reference format: the other formats carry
// the same roles and properties under the same names.
//
// Every writer streams, takes no clock and ranges over no map, so that the same
// sheet gives the same bytes. [WriteFiles] writes the outputs of a job so that either
// all of them appear or none does. What people read is worded in one place
// (words.go) and drawn by one table (style.go), so that no format sounds surer
// than another.
//
// The package refuses to word a depth without its band and date, to tell a
// utility by colour alone, and to write coordinates that are not finite.
package export
