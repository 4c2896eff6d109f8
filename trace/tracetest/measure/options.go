package measure

import (
	"io"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/tracetest"
)

// Options say on what to measure.
type Options struct {
	FirstSeed uint64
	Seeds     int
	Worlds    []World  // both where empty
	Families  []string // all where empty
	Workers   int      // goroutines; 1 where zero
	FitOnly   bool
	BleedOnly bool
	// GeoJSON writes a map as the program does, to be judged as what people get;
	// without it no verdicts are given.
	GeoJSON func(io.Writer, *trace.Sheet) error
}

// kinds are the families asked for, world by world.
func (o Options) kinds() []kind {
	worlds := o.Worlds
	if len(worlds) == 0 {
		worlds = Worlds
	}
	var out []kind
	for _, w := range worlds {
		for _, f := range w.Families() {
			if o.wants(f) {
				out = append(out, kind{w, f})
			}
		}
	}
	return out
}

func (o Options) wants(f tracetest.Family) bool {
	return len(o.Families) == 0 || slices.Contains(o.Families, f.Name)
}
