package cases

import (
	"fmt"
	"math"

	"loamline.example/geo"
)

// bandCheck gathers, along the drawn line, where one kind of band misses.
type bandCheck struct {
	what               string
	drawnM             float64
	silentM, toldM     float64 // beyond the band
	gross, grossRun    float64 // untold and beyond chance: longest run, the present one
	worstM, worstBandM float64
}

// see takes one sample of the drawn line.
func (c *bandCheck) see(lengthM, errorM, bandM, factor float64, isTold func() bool) {
	c.drawnM += lengthM
	run := 0.0
	if errorM > factor*bandM+slackM {
		if isTold() {
			c.toldM += lengthM
		} else {
			c.silentM += lengthM
			if errorM-bandM > c.worstM-c.worstBandM {
				c.worstM, c.worstBandM = errorM, bandM
			}
			if errorM > grossFactor*bandM+grossM {
				run = c.grossRun + lengthM
			}
		}
	}
	c.grossRun = run
	c.gross = max(c.gross, run)
}

func (c *bandCheck) report(j *judge, name string) {
	words := fmt.Sprintf("%s of %s: %.0f %% of the drawn length outside its band", c.what, name, 100*(c.silentM+c.toldM)/c.drawnM)
	switch {
	case c.silentM > (1-mostlyWithin)*c.drawnM || c.gross >= grossRunM:
		j.fault(false, "%s, by up to %.2f m at ± %.2f", words, c.worstM, c.worstBandM)
	case c.silentM+c.toldM > (1-mostlyWithin)*c.drawnM:
		j.fault(true, "%s", words)
	}
}

// bands asks whether the drawn line's bands hold the true line.
func (j *judge) bands(name string) {
	d := j.m.lines[name]
	if d == nil {
		return
	}
	across, down, height := bandCheck{what: "position"}, bandCheck{what: "depth"}, bandCheck{what: "elevation"}
	for _, p := range d.parts {
		for i := 0; i+1 < len(p.path.Points); i++ {
			a, b := p.path.Points[i], p.path.Points[i+1]
			n := max(1, int(math.Ceil(a.Dist(b)/sampleM)))
			for k := range n {
				t := (float64(k) + 0.5) / float64(n)
				q, l := a.Lerp(b, t), a.Dist(b)/float64(n)
				part, foot, dist := j.nearestTrue(name, q)
				isTold := func() bool { return j.toldAt(name, q) }
				if band := value(p.horizontal95M, i, t); known(band) {
					across.see(l, dist, band, j.opt.BandFactor, isTold)
				}
				truth := part.depthAt(foot)
				depth, band := value(p.depthM, i, t), value(p.depth95M, i, t)
				if known(truth) && known(depth) {
					if !known(band) {
						band = 0 // a depth without a band claims to be the depth
					}
					down.see(l, math.Abs(depth-truth), band, j.opt.BandFactor, isTold)
				}
				if elev := value(p.conductorElevM, i, t); known(elev) && known(part.groundM) && known(truth) {
					// Heights have no band of their own: what GNSS leaves of one,
					// 1 m, is allowed beside the depth's.
					height.see(l, math.Abs(elev-(part.groundM-truth)), band+1, j.opt.BandFactor, isTold)
				}
			}
		}
	}
	for _, c := range []*bandCheck{&across, &down, &height} {
		c.report(j, name)
	}
}

// exposures asks whether what was seen lies within the bands.
func (j *judge) exposures() {
	for _, e := range j.truth.Exposed {
		q := j.plane.XY(e.At)
		d := j.m.lines[e.Line]
		if d == nil || len(d.parts) == 0 {
			if !j.toldAt(e.Line, q) {
				j.fault(false, "an exposure of %s where nothing is drawn", e.Line)
			}
			continue
		}
		best, foot := d.nearest(q)
		p := d.parts[best]
		i := min(foot.Segment, len(p.path.Points)-2)
		t := 0.0
		if l := p.path.Station(i+1) - p.path.Station(i); l > 0 {
			t = min(1, max(0, (foot.StationM-p.path.Station(i))/l))
		}
		if off, band := foot.At.Dist(q), value(p.horizontal95M, i, t); known(band) && off > band+exposedNoiseM {
			j.fault(j.toldAt(e.Line, q), "an exposure lies %.2f m from %s at ± %.2f", off, e.Line, band)
		}
		depth, band := value(p.depthM, i, t), value(p.depth95M, i, t)
		if known(e.DepthM) && known(depth) && known(band) && math.Abs(depth-e.DepthM) > band+exposedDepthM {
			j.fault(j.toldAt(e.Line, q), "an exposure of %s is %.2f m deep, drawn %.2f ± %.2f", e.Line, e.DepthM, depth, band)
		}
	}
}

// nearest is the part of the drawn line that is nearest to a place, and where.
func (d *drawn) nearest(q geo.XY) (part int, foot geo.Foot) {
	dist := math.Inf(1)
	for i, p := range d.parts {
		if f := p.path.Nearest(q); f.At.Dist(q) < dist {
			part, foot, dist = i, f, f.At.Dist(q)
		}
	}
	return part, foot
}
