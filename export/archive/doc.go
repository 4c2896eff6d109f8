// Package archive keeps the maps of many jobs, so that a city's traced lines
// become known neighbours of the next trace, and forgets nothing.
//
// [Archive] is what every kind of archive does. What they share:
//
//	identity.go  what a job is told by, and where it goes among those that are there
//	version.go   what is kept of a version, and what differs between two
//	near.go      the lines that come near a job's places: a grid of cells narrows
//	             down, distances decide
//
// The kinds themselves stand in export/gpkg (one file) and export/postgis (a
// database); export.OpenArchive chooses.
package archive
