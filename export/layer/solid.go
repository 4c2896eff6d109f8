package layer

import (
	"loamline.example/export/literal"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// SolidRuns are the stretches of a part that may be drawn in three dimensions: none where
// the elevation of the line is not known all along it, and none on which its depth is not to
// be trusted, for a line in space looks surer than any words beside it.
func SolidRuns(along *words.Along, p trace.Part) (out [][]trace.Vertex) {
	var run []trace.Vertex
	end := func() {
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	for _, v := range p.Vertices {
		if !literal.Finite(v.ElevM) {
			return nil
		}
		if along.At(v).Distrusted() {
			end()
			continue
		}
		run = append(run, v)
	}
	end()
	return out
}
