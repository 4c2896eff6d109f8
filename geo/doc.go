// Package geo is loamline's ground: positions, lengths, planes and lines.
//
// Two frames exist. A [LonLat] is geographic, in degrees, on the WGS 84
// ellipsoid unless a datum says otherwise. An [XY] is in the [Plane] of one
// job, in metres, X east and Y north of the job's origin. All fitting,
// measuring and buffering happens in the plane, never in degrees and never in
// Web Mercator, whose metres are stretched by 1/cos(latitude).
//
// A Plane is a transverse Mercator projection about the job itself with scale
// 1 on its meridian, so that its metres are ground metres on the ellipsoid to
// 1.3e-6 within 10 km of the origin.
//
// Lengths are metres everywhere; feet and inches exist in [ParseLength], in
// [Units] and at the edges of the program only.
package geo
