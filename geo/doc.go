// Package geo is loamline's ground: positions, reference systems, lengths, the
// plane of a job, lines in it and zones around them.
//
// Two kinds of positions exist. A [LonLat] is geographic, in degrees, longitude
// first, on WGS 84 unless a [Datum] says otherwise. An [XY] is in the [Plane] of
// one job, in metres, X east and Y north of the job's origin. All fitting,
// measuring and buffering happens in the plane, never in degrees and never in Web
// Mercator, whose metres are stretched by 1/cos(latitude).
//
// Coming in, a [Frame] joins a [CRS] by EPSG code, a datum and an epoch, carries
// positions to WGS 84 and says in words what was done. Projection formulas agree
// with PROJ to 0.1 mm; how well a datum is joined to WGS 84 is said with it. What
// can't be done is an error that names the code.
//
// A Plane is a transverse Mercator projection about the job itself with scale 1
// on its meridian: its metres are ground metres on the ellipsoid to 1.3e-6 within
// 10 km of the origin, and to 1.6e-8 within 1 km of the meridian.
//
// A [Polyline] measures a path: stations, offsets (positive to the right of
// travel) and nearest places. [Buffer] and [BufferVariable] draw zones around
// paths that are never narrower than asked.
//
// Lengths are metres everywhere; feet and inches exist in [ParseLength], in
// [Units], in a CRS's own unit and at the edges of the program only.
//
// The package doesn't know heights beyond what a change of datum needs, nor how
// the ground moves, nor the grids of national services (OSTN15, RDNAPTRANS,
// BeTA2007, NADCON): frames from before satellites are joined by the published
// parameters alone, and the error of that is told.
//
// Which system to take is found by name and place with [FindCRS]; [CRS.Area] and
// [CRS.Holds] say where one is meant to be used.
package geo
