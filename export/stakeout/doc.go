// Package stakeout lists the places of a map that are put back on the ground
// when the paint has gone: where lines start, bend, end and cross, where a
// flagged stretch begins and ends, and round stations between. Each comes with
// what may be told of it, and with ties: distances from fixed features that a
// tape alone can find again.
package stakeout
