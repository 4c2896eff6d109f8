package measure

import (
	"loamline.example/trace"
	"loamline.example/trace/tracetest"
)

// judge counts what was set aside rightly and wrongly. Raised and exposed
// readings are not asked about.
func (s *Score) judge(m mapped, l tracetest.Line, line *trace.Line) {
	for _, r := range line.Readings {
		t, ok := m.truth(r)
		if !ok || r.Status == trace.StatusCheck || r.Status == trace.StatusExposed {
			continue
		}
		aside := r.Status == trace.StatusSetAside
		if t.Truth.Blunder {
			s.AllLeaps++
			s.AllFound += count(aside)
			if matters(t, l) {
				s.Leaps++
				s.LeapsFound += count(aside)
			}
			continue
		}
		s.Good++
		s.GoodLost += count(aside)
		switch {
		case t.Truth.DepthSpike:
			s.Spikes++
			s.SpikesFound += count(r.DepthDropped || aside)
		case !aside:
			s.DepthLost += count(r.DepthDropped)
		}
	}
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
