package export

import (
	"math"
	"slices"

	"loamline/geo"
	"loamline/trace"
)

// cells is places sorted into squares as wide as the distance asked for, so that
// a line is compared with the places about it only.
type cells struct {
	withinM float64
	places  map[[2]int][]geo.XY
}

func newCells(q NearQuery) cells {
	c := cells{math.Max(q.WithinM, 1), map[[2]int][]geo.XY{}}
	for _, p := range q.Places {
		if finite(p.X) && finite(p.Y) {
			k := c.key(p)
			c.places[k] = append(c.places[k], p)
		}
	}
	return c
}

func (c cells) key(p geo.XY) [2]int {
	return [2]int{int(math.Floor(p.X / c.withinM)), int(math.Floor(p.Y / c.withinM))}
}

// holds reports whether a path comes within the distance of a place.
func (c cells) holds(path []geo.XY, withinM float64) bool {
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		seg := geo.NewPolyline([]geo.XY{a, b})
		n := int(math.Ceil(a.Dist(b)/c.withinM)) + 1
		for k := range n + 1 {
			at := c.key(a.Lerp(b, float64(k)/float64(n)))
			for dx := -1; dx <= 1; dx++ {
				for dy := -1; dy <= 1; dy++ {
					for _, p := range c.places[[2]int{at[0] + dx, at[1] + dy}] {
						if math.Abs(seg.Nearest(p).OffsetM) <= withinM {
							return true
						}
					}
				}
			}
		}
	}
	return false
}

// centers are the middles of the occupied cells, in a fixed order. Every place
// is within 0.71 cells of one.
func (c cells) centers() []geo.XY {
	keys := make([][2]int, 0, len(c.places))
	for k := range c.places {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b [2]int) int {
		if a[0] != b[0] {
			return a[0] - b[0]
		}
		return a[1] - b[1]
	})
	out := make([]geo.XY, len(keys))
	for i, k := range keys {
		out[i] = geo.XY{X: (float64(k[0]) + 0.5) * c.withinM, Y: (float64(k[1]) + 0.5) * c.withinM}
	}
	return out
}

// extent is a box in degrees, west not greater than east.
type extent struct{ west, south, east, north float64 }

// extents are the boxes about the places, two where they hold the antimeridian.
func (c cells) extents(plane geo.Plane) []extent {
	d := newDegrees(plane)
	var b box
	for _, p := range c.centers() {
		for _, corner := range []geo.XY{{X: -1.5, Y: -1.5}, {X: -1.5, Y: 1.5}, {X: 1.5, Y: -1.5}, {X: 1.5, Y: 1.5}} {
			b.add(d.xy(p.Add(corner.Scale(c.withinM))))
		}
	}
	if !b.set {
		return nil
	}
	west, east := d.home(b.west), d.home(b.east)
	whole := extent{west.deg(), b.south.deg(), east.deg(), b.north.deg()}
	if west <= east {
		return []extent{whole}
	}
	left, right := whole, whole
	left.east, right.west = 180, -180
	return []extent{left, right}
}

// nearRecords keeps the candidates that come near, as records.
func nearRecords(q NearQuery, c cells, candidates []archivedLine) []trace.Record {
	var out []trace.Record
	for _, a := range candidates {
		if r := a.record(q.Plane); c.holds(r.Path, q.WithinM) {
			out = append(out, r)
		}
	}
	return out
}
