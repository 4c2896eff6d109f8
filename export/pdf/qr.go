package pdf

import (
	"fmt"

	"rsc.io/qr"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
)

// quietModules is the empty margin about a code (ISO/IEC 18004, 6.3.8).
const quietModules = 4

// code prints a text for a phone's camera into a square, its margin included.
// All of it is one path: squares filled one by one would leave hairlines.
func (p *pencil) code(r plan.Rect, text string) error {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return fmt.Errorf("the code of %q: %w", text, err)
	}
	mm := r.W / float64(c.Size+2*quietModules)
	var rings [][]plan.Pt
	for y := range c.Size {
		for x := 0; x < c.Size; x++ {
			from := x
			for x < c.Size && c.Black(x, y) {
				x++
			}
			if x > from {
				a := plan.Pt{X: r.X + float64(from+quietModules)*mm, Y: r.Y + float64(y+quietModules)*mm}
				b := plan.Pt{X: r.X + float64(x+quietModules)*mm, Y: a.Y + mm}
				rings = append(rings, []plan.Pt{a, {X: b.X, Y: a.Y}, b, {X: a.X, Y: b.Y}})
			}
		}
	}
	p.c.Box(r, paper.White)
	p.c.Area(rings, paper.Black)
	return nil
}

// geoLink is the place of the job as phones open it (RFC 5870): the place on a
// line that lies nearest to the middle of all. Empty where nothing was placed.
func (j *drawnJob) geoLink() string {
	points := j.extent()
	if len(points) == 0 {
		return ""
	}
	_, _, mid := plan.Bounds(points, 0)
	at, best := mid, -1.0
	for i := range j.lines {
		if l := &j.lines[i]; l.traced() {
			if foot := l.path.Nearest(mid); best < 0 || foot.At.Dist(mid) < best {
				at, best = foot.At, foot.At.Dist(mid)
			}
		}
	}
	ll := j.s.Plane.LonLat(at)
	// Six decimals, a tenth of a metre: the link leads to the street, not to the line.
	return fmt.Sprintf("geo:%.6f,%.6f", ll.LatDeg, ll.LonDeg)
}
