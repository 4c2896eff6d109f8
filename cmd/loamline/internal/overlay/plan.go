package overlay

import (
	"fmt"
	"math"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

// Plan is both locates on one plan, as an SVG of W by H: the first's lines whole,
// the second's dashed, and where they disagree beyond both bands in position a thick
// stretch with ticks from one to the other.
type Plan struct {
	W, H     float64
	First    string // paths
	Second   string
	Apart    string
	Deep     string // where depths disagree
	Names    []Name
	Bar      float64 // of the scale
	BarWords string
	Words    string // what it shows, for who does not see it
}

// Name is a line's name, where it stands on the plan.
type Name struct {
	X, Y float64
	Name string
}

// planSize is the width of the drawing.
const planSize = 1000

// planDetail is the shortest piece of a line that is drawn. The ends of a line are always drawn.
const planDetail = 1.0

// NewPlan draws two maps and how the second's lines lie over the first's; nil where
// neither has a line.
func NewPlan(first, second trace.Located, laid []compare.Overlay, u geo.Units) *Plan {
	var origin *geo.LonLat
	for _, m := range []trace.Located{first, second} {
		for _, l := range m.Lines {
			if origin == nil && len(l.Parts) > 0 && len(l.Parts[0]) > 0 {
				origin = &l.Parts[0][0].At
			}
		}
	}
	if origin == nil {
		return nil
	}
	d := &drawing{plane: geo.NewPlane(*origin), lo: geo.XY{X: math.Inf(1), Y: math.Inf(1)}, hi: geo.XY{X: math.Inf(-1), Y: math.Inf(-1)}}
	d.fit(first)
	d.fit(second)
	wide, high := d.hi.X-d.lo.X, d.hi.Y-d.lo.Y
	most := max(wide, high, 1) * 1.08
	d.scale = planSize / most
	d.middle = d.lo.Add(d.hi).Scale(0.5)
	// A long trace makes a low picture: a phone has little room.
	d.h = math.Ceil(min(planSize, max(250, high*d.scale*1.2)))
	p := &Plan{W: planSize, H: d.h + 70, First: d.lines(first), Second: d.lines(second)}
	p.Apart, p.Deep = d.differences(first, laid)
	for _, l := range first.Lines {
		if len(l.Parts) > 0 && len(l.Parts[0]) > 0 && len(p.Names) < 40 {
			at := d.at(l.Parts[0][0].At)
			p.Names = append(p.Names, Name{math.Round(min(max(at.X, 10), planSize-150)), math.Round(max(40, at.Y-16)), l.Name})
		}
	}
	length := math.Pow(10, math.Floor(math.Log10(most/3)))
	p.Bar, p.BarWords = math.Round(length*d.scale), u.Long(length)
	stretches := strings.Count(p.Apart, "M")
	p.Words = fmt.Sprintf("Plan of both maps, north up: %d and %d lines", len(first.Lines), len(second.Lines))
	if stretches == 0 {
		p.Words += ", with no disagreement in position beyond both bands"
	}
	return p
}

// drawing turns places into those of the picture.
type drawing struct {
	plane          geo.Plane
	lo, hi, middle geo.XY
	scale, h       float64
}

func (d *drawing) fit(m trace.Located) {
	for _, l := range m.Lines {
		for _, part := range l.Parts {
			for _, v := range part {
				p := d.plane.XY(v.At)
				d.lo, d.hi = geo.XY{X: min(d.lo.X, p.X), Y: min(d.lo.Y, p.Y)}, geo.XY{X: max(d.hi.X, p.X), Y: max(d.hi.Y, p.Y)}
			}
		}
	}
}

func (d *drawing) at(p geo.LonLat) geo.XY { return d.on(d.plane.XY(p)) }

func (d *drawing) on(p geo.XY) geo.XY {
	return geo.XY{X: planSize/2 + (p.X-d.middle.X)*d.scale, Y: d.h/2 - (p.Y-d.middle.Y)*d.scale}
}

// lines are the paths of a map's lines.
func (d *drawing) lines(m trace.Located) string {
	var b strings.Builder
	for _, l := range m.Lines {
		for _, part := range l.Parts {
			d.path(&b, part)
		}
	}
	return b.String()
}

func (d *drawing) path(b *strings.Builder, part []trace.LocatedVertex) {
	var last geo.XY
	for i, v := range part {
		p := d.at(v.At)
		if i > 0 && i < len(part)-1 && math.Hypot(p.X-last.X, p.Y-last.Y) < planDetail {
			continue
		}
		fmt.Fprintf(b, "%s%.1f %.1f", Pen(i), p.X, p.Y)
		last = p
	}
}

// differences are the stretches of the first map's lines where the maps
// disagree: in position, with ticks towards the second, and in depth.
func (d *drawing) differences(first trace.Located, laid []compare.Overlay) (position, depth string) {
	var apart, deep strings.Builder
	for i, l := range first.Lines {
		if i >= len(laid) {
			break
		}
		o := laid[i] // the first map's lines come first, in their order
		offset := map[float64]float64{}
		for _, p := range o.Places {
			offset[p.StationM] = p.OffsetM
		}
		for _, s := range o.Disagree {
			to := &apart
			if s.Depth {
				to = &deep
			}
			for _, part := range l.Parts {
				d.stretch(to, part, s, offset)
			}
		}
	}
	return apart.String(), deep.String()
}

func (d *drawing) stretch(to *strings.Builder, part []trace.LocatedVertex, s compare.OverlayStretch, offset map[float64]float64) {
	var within []trace.LocatedVertex
	var ticks strings.Builder
	var last geo.XY
	for i, v := range part {
		if v.StationM < s.FromM || v.StationM > s.ToM {
			continue
		}
		within = append(within, v)
		off, known := offset[v.StationM]
		a, b := d.plane.XY(part[max(0, i-1)].At), d.plane.XY(part[min(len(part)-1, i+1)].At)
		along := b.Sub(a)
		if n := math.Hypot(along.X, along.Y); known && !s.Depth && n > 0 {
			at := d.plane.XY(v.At)
			right := geo.XY{X: along.Y / n, Y: -along.X / n}
			p, q := d.on(at), d.on(at.Add(right.Scale(off)))
			if len(within) == 1 || math.Hypot(p.X-last.X, p.Y-last.Y) > 8 {
				fmt.Fprintf(&ticks, "M%.1f %.1fL%.1f %.1f", p.X, p.Y, q.X, q.Y)
				last = p
			}
		}
	}
	if len(within) == 1 {
		p := d.at(within[0].At)
		fmt.Fprintf(to, "M%.1f %.1fh0.1", p.X, p.Y)
	}
	if len(within) > 1 {
		d.path(to, within)
	}
	to.WriteString(ticks.String())
}

// Pen is the letter that begins an SVG path at its first point, or goes on with it.
func Pen(i int) string {
	if i == 0 {
		return "M"
	}
	return "L"
}
