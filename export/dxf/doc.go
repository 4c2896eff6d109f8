// Package dxf writes a job as a drawing for CAD: the ASCII subset of DXF release 12
// (AutoCAD Release 12 DXF reference, AC1009) that every reader knows. There is a
// layer for each utility and kind, such as WATER-CENTERLINE; coordinates are of the
// job's plane system, lengths and texts in its unit. Where the elevation of a line
// is known all along a stretch, the stretch is a 3D polyline on a layer of its own.
package dxf
