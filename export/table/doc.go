// Package table writes comma-separated tables (RFC 4180): [Lines] by station,
// [StakeOut] with what to measure each point from,
// [Readings] with the fate of each, [Records] with how far they lie off, and
// [Cautions] for whoever is handed the tables alone.
package table
