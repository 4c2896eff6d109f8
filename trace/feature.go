package trace

import "loamline.example/geo"

// FixedFeature is what the job says of a thing on the ground that will still be
// there when the paint is gone, such as a hydrant: a tape is held to it.
type FixedFeature struct {
	Name string
	// X and Y are its place in the job's reference system and datum: longitude and
	// latitude, or east and north in metres where Grid is set.
	X, Y float64
	Grid bool
}

// Feature is a fixed feature in the job's plane. One place is measured to from
// there; a path, such as a kerb, is measured off square and along.
type Feature struct {
	Name   string
	Source string // the file or database that it came from; empty where the job states it
	Path   []geo.XY
}

// The choices of what is printed.
const (
	SheetsCrew = "crew"
	SheetsFull = "full"
	SheetsBoth = "both"
)
