// Package shp writes a job as Shapefiles in one zip: a set of .shp, .shx, .dbf, .prj
// and .cpg for each role that the job has features of, by ESRI's white paper "ESRI
// Shapefile Technical Description" (July 1998). Tables are UTF-8. A Shapefile's
// columns have names of ten characters: columns.txt in the zip tells which is which.
package shp
