// Package layer turns a Sheet into layers: one a role, each with its columns and
// a sequence of features. Every format that writes features writes these, so
// that they agree in roles, names, units and values.
//
//	layer.go       [Layer], [Column], [Feature], [Value]; [All] lists the layers
//	centerline.go  the traced parts
//	vertex.go      their vertices, for formats without lists
//	zone.go        tolerance and caution zones
//	finding.go     one layer a kind of finding
//	reading.go     every reading with its fate
//	json.go        a value as JSON
//
// Geometry stays in metres of the sheet's plane; package place writes it.
package layer
