// Package siteplan reads a geo-referenced picture and lays it in the job's plane,
// to be drawn beneath the lines.
//
// A picture is PNG or JPEG with a world file, TIFF with GeoTIFF tags or a world file,
// or a page of a PDF with a geospatial viewport or a world file. Its reference system is stated by the job or by the GeoTIFF's keys or the viewport and is
// never guessed. The picture is drawn by an affine transformation that departs from
// the exact one by no more than maxResidualM anywhere; what does not fit is refused
// with the figure. Nothing that the map says of a line depends on it.
package siteplan
