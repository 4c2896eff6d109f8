package geo

import (
	"fmt"
	"math"
)

// strayDeg is how far beyond the area of a frame it may still be in use: a
// neighbouring country takes the corrections of a frame before the EPSG dataset says
// so (judged).
const strayDeg = 5.0

// areas are where the EPSG dataset has the geographic systems of a frame's family;
// where a national service sends the frame counts too.
func (d Datum) areas() []Area {
	var out []Area
	for _, g := range geographic {
		if of, err := LookupDatum(g.datum); err == nil && of.family == d.family {
			out = append(out, g.area)
		}
	}
	for _, l := range localFrames {
		if of, err := LookupDatum(l.datum); err == nil && of.family == d.family {
			out = append(out, l.area)
		}
	}
	return out
}

// MayBeAt reports whether positions at a place can be in the frame: no service sends
// one that is bound to another continent.
func (d Datum) MayBeAt(p LonLat) bool {
	margin := strayDeg / math.Max(0.3, math.Cos(p.LatDeg*math.Pi/180))
	for _, a := range d.areas() {
		if p.Valid() && a.holds(p, margin) {
			return true
		}
	}
	return false
}

// region names where a frame is used.
func (d Datum) region() string {
	for _, g := range geographic {
		if g.datum == d.Name {
			return g.area.Name
		}
	}
	if as := d.areas(); len(as) > 0 {
		return as[0].Name
	}
	return "another place"
}

// Believed returns the frame as it can be believed at a place. A datum that was stated
// by name, and is used nowhere near, is taken as if nobody had stated one; why says so,
// and is empty where all is well.
func (f Frame) Believed(at LonLat) (believed Frame, why string) {
	if !f.named || f.Datum.MayBeAt(at) {
		return f, ""
	}
	own, err := LookupDatum(f.CRS.Datum)
	if err != nil {
		panic(err) // NewFrame looked it up
	}
	g := f
	g.Datum, g.named, g.conflict = own, false, ""
	g.Stated = own.Name != "WGS84"
	g.disbelieved = fmt.Sprintf("The datum is stated as %s, which is used in another part of the world (%s): it was not used.", f.Datum.Name, f.Datum.region())
	return g, g.disbelieved
}
