// Package archive keeps the maps of many jobs, so that a city's traced lines
// become known neighbours of the next trace.
//
// [Archive] is what every kind of archive does, [JobKey] what a job goes by in
// it. near.go finds the lines that come near a job's places: a grid of cells
// narrows down, distances decide. The kinds themselves stand in export/gpkg (one
// file) and export/postgis (a database); export.OpenArchive chooses.
package archive
