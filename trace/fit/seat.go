package fit

import (
	"sort"

	"loamline.example/geo"
)

// seatExposed gives each exposed place its turn on the walk by where it lies, between
// the two readings that were taken on either side of it. A hole is dug and measured
// after the walk, mostly, and its row or time tells nothing of where the receiver went:
// taken for the walk's next step, the hole makes the way to the line's end one out and
// back, as a leap is.
func (w *walk) seatExposed() {
	walked, holes := w.apartFromExposed()
	if len(holes) == 0 || len(walked) < 2 {
		return
	}
	path := make([]geo.XY, len(walked))
	for i := range walked {
		path[i] = walked[i].p
	}
	idx := geo.NewPolyline(path).Index()
	if !w.timed {
		w.obs = walked
		w.assumeClock()
	}
	end := len(walked) - 1
	for i := range holes {
		q := &holes[i]
		k := idx.Nearest(q.p).Segment
		u, _ := legFoot(path[k], path[k+1], q.p)
		a, b := walked[k].clockS, walked[k+1].clockS
		switch q.clockS = a + u*(b-a); {
		case k == 0 && u == 0:
			q.clockS = a - leastStepS
		case k == end-1 && u == 1:
			q.clockS = b + leastStepS
		}
	}
	w.obs = append(walked, holes...)
	sort.Slice(w.obs, func(a, b int) bool { return w.obs[a].before(&w.obs[b]) })
}

// apartFromExposed parts the walk's readings, in their order, from the exposed places.
// A walk without any is handed back as it is.
func (w *walk) apartFromExposed() (walked, exposed []observation) {
	n := 0
	for i := range w.obs {
		if w.obs[i].exposed {
			n++
		}
	}
	if n == 0 {
		return w.obs, nil
	}
	walked, exposed = make([]observation, 0, len(w.obs)), make([]observation, 0, n)
	for _, o := range w.obs {
		if o.exposed {
			exposed = append(exposed, o)
		} else {
			walked = append(walked, o)
		}
	}
	return walked, exposed
}
