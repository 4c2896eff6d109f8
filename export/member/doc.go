// Package member is what a map rests on, as one JSON object: version, settings,
// inputs, counts, lines, problems, cautions and advice. GeoJSON carries it as the
// foreign member loamline, GeoPackage and PostGIS as the job's metadata.
package member
