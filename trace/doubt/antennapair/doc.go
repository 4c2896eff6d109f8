// Package antennapair holds the depths that a receiver showed against those that the
// signals of its two antennas give, where the distance between these is stated: one of the
// two is wrong where they differ by a common factor, and nothing tells which, so that the
// band of the depths holds both ([Hold]).
package antennapair
