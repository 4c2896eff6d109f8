// Package table writes comma-separated tables (RFC 4180): [Lines] by station,
// [Readings] with the fate of each, [Records] with how far they lie off.
package table
