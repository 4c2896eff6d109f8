// Package gpkg writes GeoPackages (OGC 12-128) and keeps an archive in one.
//
//	gpkg.go     [Write]: one transaction, one file
//	schema.go   tables, spatial indexes and the job's own row
//	style.go    styles that a desktop GIS picks up
//	archive.go  [OpenArchive]: many jobs in one file
package gpkg
