package measure

import (
	"slices"

	"loamline.example/trace/tracetest"
	"loamline.example/trace/tracetest/otherworld"
)

// World is a simulator of jobs with known truth. The two share types and file
// writer, and no physics, habits or code beside.
type World string

// The worlds.
const (
	FirstWorld  World = "first"
	SecondWorld World = "second"
)

// Worlds lists both.
var Worlds = []World{FirstWorld, SecondWorld}

// kind is a family of a world.
type kind struct {
	World  World
	Family tracetest.Family
}

// worldsOf lists the worlds of some rows, in order.
func worldsOf[R any](rows []R, of func(R) World) []World {
	var out []World
	for _, w := range Worlds {
		if slices.ContainsFunc(rows, func(r R) bool { return of(r) == w }) {
			out = append(out, w)
		}
	}
	return out
}

// Families lists the world's kinds of jobs, in a fixed order.
func (w World) Families() []tracetest.Family {
	if w == SecondWorld {
		return otherworld.Families()
	}
	return tracetest.Families()
}

// Make makes the job of a family and seed.
func (w World) Make(family string, seed uint64) (tracetest.Job, error) {
	if w == SecondWorld {
		return otherworld.Make(family, seed)
	}
	return tracetest.Make(family, seed)
}
