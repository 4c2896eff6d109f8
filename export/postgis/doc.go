// Package postgis keeps an archive of maps in the schema loamline of a PostGIS
// database.
//
//	postgis.go  [Open], and what an archive does
//	history.go  what jobs were before
//	schema.go   the tables, and bringing older ones up to date
//	copy.go     features as rows of COPY
//	times.go    days and instants as they are told
package postgis
