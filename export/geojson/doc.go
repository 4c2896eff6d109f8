// Package geojson writes the sheet as GeoJSON (RFC 7946), the reference format:
// the other formats carry the same roles and properties under the same names.
//
//	geojson.go   [Write]: features in the order of the layers
//	geometry.go  their geometries
//	located.go   [ReadLocated]: a written map read back, to compare two
package geojson
