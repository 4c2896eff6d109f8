// Package place turns the plane's metres into written positions.
//
//	e8.go        coordinates as whole numbers of 1e-8 degrees
//	degrees.go   paths in degrees: dense enough, cut at the antimeridian
//	area.go      polygons in degrees: closed, wound, cut, valid after rounding
//	outwards.go  how far a zone grows so that rounding never narrows it
//	placer.go    the same in any reference system, for formats that have a choice
//
// It knows positions and nothing of what they are positions of.
package place
