package place

import (
	"sync"

	"github.com/paulmach/orb"

	"loamline.example/geo"
)

// Areas are the zones of one sheet in degrees. The zero value but for the degrees works
// each out whenever it is asked for.
type Areas struct {
	Degrees
	mu      sync.Mutex
	waiting map[*orb.Polygon]func() ([][][]LonLatE8, error) // nil where nobody shares
}

// SharedAreas are for two outputs that are written at a time, which need the same zones:
// the first to ask for one works it out, and it is kept until the other has asked. What
// they are handed is to stay as it is.
func SharedAreas(plane geo.Plane) *Areas {
	return &Areas{Degrees: NewDegrees(plane), waiting: map[*orb.Polygon]func() ([][][]LonLatE8, error){}}
}

// Area is [Degrees.Area].
func (a *Areas) Area(mp orb.MultiPolygon) ([][][]LonLatE8, error) {
	if a.waiting == nil || len(mp) == 0 {
		return a.Degrees.Area(mp)
	}
	a.mu.Lock()
	area, known := a.waiting[&mp[0]]
	if known {
		delete(a.waiting, &mp[0])
	} else {
		area = sync.OnceValues(func() ([][][]LonLatE8, error) { return a.Degrees.Area(mp) })
		a.waiting[&mp[0]] = area
	}
	a.mu.Unlock()
	return area()
}
