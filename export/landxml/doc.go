// Package landxml writes a job as LandXML 1.2 for civil design: plan features with
// the traced stretches, their zones and findings, and points to stake out, in the
// job's plane system. Coordinates are north and east in the unit of the system, and
// elevation in the lines in space: stretches where that of a line's centre is known and
// its depth is to be trusted. Properties are named as in the GeoJSON and are in metres,
// as their names say.
//
// A line is no PipeNetwork: that has structures with inverts and pipes of a stated
// size and material between them, of which readings from the ground show nothing.
//
//	landxml.go  [Write], and what the file says of itself
//	feature.go  plan features, a collection a role, and lines in space
//	point.go    points to stake out, and exposures
//	spell.go    elements, numbers and lists of positions
package landxml
