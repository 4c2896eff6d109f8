// Package check is what the tests of the formats look at written files with:
// goldens (run with -update to remake them), RFC 7946's rules, GDAL, tables,
// writers that fail or count.
package check
