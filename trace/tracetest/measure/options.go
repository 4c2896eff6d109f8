package measure

import (
	"slices"

	"loamline/trace/tracetest"
)

// Options say on what to measure.
type Options struct {
	FirstSeed uint64
	Seeds     int
	Families  []string // all where empty
	Workers   int      // goroutines; 1 where zero
	FitOnly   bool
	BleedOnly bool
}

func (o Options) wants(f tracetest.Family) bool {
	return len(o.Families) == 0 || slices.Contains(o.Families, f.Name)
}
