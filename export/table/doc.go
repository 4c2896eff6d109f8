// Package table writes comma-separated tables (RFC 4180): [Lines] by station,
// [Readings] with the fate of each, [Records] with how far they lie off, and
// [Cautions] for whoever is handed the tables alone.
package table
