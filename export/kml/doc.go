// Package kml writes the sheet for a globe viewer (OGC KML 2.2).
//
//	kml.go       [Write]: a folder a line
//	data.go      the roles' properties as typed data
//	geometry.go  coordinates, all on the ground
//	style.go     shared styles
//	words.go     the balloons, as HTML
package kml
