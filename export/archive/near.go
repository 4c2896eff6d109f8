package archive

import (
	"math"
	"slices"

	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/geo"
	"loamline.example/trace"
)

// Cells is places sorted into squares as wide as the distance asked for, so that
// a line is compared with the places about it only.
type Cells struct {
	WithinM float64
	Places  map[[2]int][]geo.XY
}

func NewCells(q NearQuery) Cells {
	c := Cells{math.Max(q.WithinM, 1), map[[2]int][]geo.XY{}}
	for _, p := range q.Places {
		if literal.Finite(p.X) && literal.Finite(p.Y) {
			k := c.key(p)
			c.Places[k] = append(c.Places[k], p)
		}
	}
	return c
}

func (c Cells) key(p geo.XY) [2]int {
	return [2]int{int(math.Floor(p.X / c.WithinM)), int(math.Floor(p.Y / c.WithinM))}
}

// holds reports whether a path comes within the distance of a place.
func (c Cells) holds(path []geo.XY, withinM float64) bool {
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		seg := geo.NewPolyline([]geo.XY{a, b})
		n := int(math.Ceil(a.Dist(b)/c.WithinM)) + 1
		for k := range n + 1 {
			at := c.key(a.Lerp(b, float64(k)/float64(n)))
			for dx := -1; dx <= 1; dx++ {
				for dy := -1; dy <= 1; dy++ {
					for _, p := range c.Places[[2]int{at[0] + dx, at[1] + dy}] {
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

// Centers are the middles of the occupied cells, in a fixed order. Every place
// is within 0.71 cells of one.
func (c Cells) Centers() []geo.XY {
	keys := make([][2]int, 0, len(c.Places))
	for k := range c.Places {
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
		out[i] = geo.XY{X: (float64(k[0]) + 0.5) * c.WithinM, Y: (float64(k[1]) + 0.5) * c.WithinM}
	}
	return out
}

// Extent is a box in degrees, west not greater than east.
type Extent struct{ West, South, East, North float64 }

// Extents are the boxes about the places, two where they hold the antimeridian.
func (c Cells) Extents(plane geo.Plane) []Extent { return c.about(plane, c.Centers()) }

// Boxes are up to n boxes that hold the places as Extents does, and less of what lies
// between them.
func (c Cells) Boxes(plane geo.Plane, n int) []Extent {
	centers := c.Centers()
	var out []Extent
	for piece := range slices.Chunk(centers, max((len(centers)+n-1)/n, 1)) {
		out = append(out, c.about(plane, piece)...)
	}
	return out
}

func (c Cells) about(plane geo.Plane, centers []geo.XY) []Extent {
	d := place.NewDegrees(plane)
	var b place.Box
	for _, p := range centers {
		for _, corner := range []geo.XY{{X: -1.5, Y: -1.5}, {X: -1.5, Y: 1.5}, {X: 1.5, Y: -1.5}, {X: 1.5, Y: 1.5}} {
			b.Add(d.XY(p.Add(corner.Scale(c.WithinM))))
		}
	}
	if !b.Set {
		return nil
	}
	west, east := d.Home(b.West), d.Home(b.East)
	whole := Extent{west.Deg(), b.South.Deg(), east.Deg(), b.North.Deg()}
	if west <= east {
		return []Extent{whole}
	}
	left, right := whole, whole
	left.East, right.West = 180, -180
	return []Extent{left, right}
}

// NearRecords keeps the candidates that come near, as records.
func NearRecords(q NearQuery, c Cells, candidates []Line) []trace.Record {
	var out []trace.Record
	for _, a := range candidates {
		if r := a.record(q.Plane); c.holds(r.Path, q.WithinM) {
			out = append(out, r)
		}
	}
	return out
}
