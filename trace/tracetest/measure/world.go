package measure

import (
	"loamline/trace/tracetest"
	"loamline/trace/tracetest/otherworld"
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
