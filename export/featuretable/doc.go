// Package featuretable is the layers as tables of a spatial database: one table
// a role, one type of geometry a table, well-known binary in the geometry's
// column. The GeoPackage and the PostGIS database share it.
package featuretable
