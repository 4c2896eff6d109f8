// Package trace turns the readings of a locate into a Sheet: the whole result
// of a job, without a format.
package trace
