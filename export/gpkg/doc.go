// Package gpkg writes GeoPackages (OGC 12-128) and keeps an archive in one.
//
//	gpkg.go     [Write]: one transaction, one file
//	schema.go   tables, spatial indexes and the job's own row
//	style.go    styles that a desktop GIS picks up
//	sld.go      the same for map servers and others
//	view.go     lines coloured by depth and by how sure they are
//	area.go     a job outside the area of the system asked for
//	archive.go  [OpenArchive]: many jobs in one file
//	busy.go     other programs at that file
//	put.go      jobs go in and out
//	history.go  what they were before
//	restore.go  earlier versions come back
//	times.go    days and instants, and an older archive's made such
package gpkg
