// Package namechange finds where the name of a line was perhaps changed too late or too
// early on the walk: the next line goes on where this one ends, on a course that this one
// takes only at its very end, or the next one begins on the course of this one and leaves
// it after a few readings ([Doubts]). Two lines that are named apart along one course, as
// the pieces of a main, show no such thing.
package namechange
