// Package export writes a trace.Sheet: one sheet, many formats.
//
// A Sheet comes in with its geometry in plane metres; files leave with WGS 84
// degrees (longitude first) or with the coordinates of a reference system that
// the caller names. This package has the table of formats (formats.go), writes
// the outputs of a job so that either all of them appear or none does
// ([WriteFiles], [WriteJob]), and opens archives ([OpenArchive]).
//
// Each format has a package, and none imports another:
//
//	geojson kml gpkg gpx table page pdf dxf landxml shp   files
//	gpkg postgis                                          archives
//
// They share what lies below them, each importing only what stands before it:
//
//	literal       numbers and texts as formats spell them
//	style         colours, codes, dashes
//	words         the sentences that people read
//	tongue        those sentences in the crew's language, at a format's door
//	station       what is known along a line
//	stakeout      places to be put back on the ground, with ties
//	place         metres into written positions
//	layer         the Sheet as roles, columns and features
//	member        what a map rests on
//	featuretable  layers as tables of a database
//	archive       what every archive does; it keeps each version's GeoJSON
//	schema        the JSON Schema of the GeoJSON, made from the layers
//
// Files under temporary names are looked after by internal/unfinished.
//
// Every writer streams, takes no clock and ranges over no map, so that the same
// sheet gives the same bytes. The packages refuse to word a depth without its
// band and date, to tell a utility by colour alone, and to write coordinates
// that are not finite.
package export
