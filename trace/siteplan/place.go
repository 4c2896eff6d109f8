package siteplan

import (
	"fmt"
	"image"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

const (
	// aroundM is how far beyond the readings a picture is drawn: as far as a crew
	// walks from the line to find something to hold a tape to.
	aroundM = 100.0
	// maxResidualM is how far an affine picture may lie off its exact place.
	maxResidualM = 0.10
	// farM is how far the plane still tells a distance.
	farM  = 1_000_000.0
	mileM = 5280 * geo.FootM
	// fitSteps is into how many steps each side is cut to find that.
	fitSteps = 8
)

// Place brings a picture into the job's plane: cut to the surroundings of the places
// read, no finer than can be carried, and with what remains off its exact place. A
// picture that does not meet them is refused: it is of another place, or says so.
func Place(g *trace.GeoPicture, plane geo.Plane, places []geo.XY, u geo.Units) (*trace.Underlay, error) {
	if len(places) == 0 {
		return nil, nil // nothing to lie beneath, and told as such
	}
	exact := func(col, row float64) (geo.XY, error) {
		q := g.Figures.Apply(col, row)
		ll, err := g.Frame.Place(q.X, q.Y)
		if err != nil {
			return geo.XY{}, refused(g.Name, "check the crs, and "+g.By, "its figures are none of %s (%s): %v", g.Frame.CRS.ID(), g.Frame.CRS.Name, err)
		}
		return plane.XY(ll), nil
	}
	size := g.Picture.Bounds().Size()
	w, h := float64(size.X), float64(size.Y)
	whole, _, err := geo.FitAffine(w, h, fitSteps, exact)
	if err != nil {
		return nil, err
	}
	out := &trace.Underlay{Name: g.Name, By: g.By, System: g.Frame.CRS.ID() + " (" + g.Frame.CRS.Name + ")", Opacity: g.Opacity,
		Places: len(places), DoubtM: g.DoubtM, DoubtWhy: g.DoubtWhy}
	out.Covered = covered(whole, w, h, places)
	if out.Covered == 0 {
		return nil, elsewhere(g, plane, whole, w, h, places, u)
	}
	part := surroundings(whole, size, places)
	out.Cut = part.Size() != size
	at := geo.Affine{A: 1, E: 1, C: float64(part.Min.X), F: float64(part.Min.Y)}
	drawn, left, err := geo.FitAffine(float64(part.Dx()), float64(part.Dy()), fitSteps, func(col, row float64) (geo.XY, error) {
		q := at.Apply(col, row)
		return exact(q.X, q.Y)
	})
	if err != nil {
		return nil, err
	}
	if !(left <= maxResidualM) {
		return nil, refused(g.Name, "save it in the UTM zone or the national grid of the place, or cut out the part around the job",
			"drawn as a picture it would lie up to %s off its own figures, more than %s: %s bends too much over the %s that it covers here",
			u.Fine(left), u.Fine(maxResidualM), g.Frame.CRS.ID(), u.Long(drawn.Apply(0, 0).Dist(drawn.Apply(float64(part.Dx()), float64(part.Dy())))))
	}
	out.ResidualM, out.OwnPixelM = left, math.Sqrt(math.Abs(drawn.Det()))
	return out, pack(out, onWhite(g.Picture, part), drawn)
}

// pack writes the picture as finely as its bounds allow.
func pack(out *trace.Underlay, picture *image.RGBA, ground geo.Affine) error {
	for k := leastCoarse(picture.Rect.Size()); ; k++ {
		p := coarser(picture, k)
		var err error
		if out.MIME, out.Picture, err = encode(p); err != nil {
			return fmt.Errorf("%s: %w", out.Name, err)
		}
		out.Width, out.Height = p.Rect.Dx(), p.Rect.Dy()
		out.Ground = ground.After(geo.Affine{A: float64(k), E: float64(k)})
		out.PixelM = out.OwnPixelM * float64(k)
		if len(out.Picture) <= drawnBytes {
			return nil
		}
	}
}

// covered counts the places that lie on a picture.
func covered(ground geo.Affine, w, h float64, places []geo.XY) int {
	n, back := 0, ground.Inverse()
	for _, p := range places {
		if q := back.Apply(p.X, p.Y); q.X >= 0 && q.X <= w && q.Y >= 0 && q.Y <= h {
			n++
		}
	}
	return n
}

// surroundings is the part of a picture that lies about the places: what holds their
// box, grown on all sides.
func surroundings(ground geo.Affine, size image.Point, places []geo.XY) image.Rectangle {
	lo, hi := places[0], places[0]
	for _, p := range places {
		lo = geo.XY{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y)}
		hi = geo.XY{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y)}
	}
	lo, hi = lo.Sub(geo.XY{X: aroundM, Y: aroundM}), hi.Add(geo.XY{X: aroundM, Y: aroundM})
	back := ground.Inverse()
	whole := image.Rectangle{Max: size}
	var part image.Rectangle
	for i, c := range []geo.XY{lo, {X: hi.X, Y: lo.Y}, hi, {X: lo.X, Y: hi.Y}} {
		q := back.Apply(c.X, c.Y)
		// Held at the edges first: a figure far outside is no whole number.
		x, y := math.Max(0, math.Min(float64(size.X), q.X)), math.Max(0, math.Min(float64(size.Y), q.Y))
		one := image.Rect(int(math.Floor(x)), int(math.Floor(y)), int(math.Ceil(x))+1, int(math.Ceil(y))+1)
		if i == 0 {
			part = one
		} else {
			part = part.Union(one)
		}
	}
	return part.Intersect(whole)
}

// elsewhere says how far off a picture lies that meets no place, and on which side.
func elsewhere(g *trace.GeoPicture, plane geo.Plane, ground geo.Affine, w, h float64, places []geo.XY, u geo.Units) error {
	back := ground.Inverse()
	near, to := math.Inf(1), geo.XY{}
	for _, p := range places {
		q := back.Apply(p.X, p.Y)
		on := ground.Apply(math.Max(0, math.Min(w, q.X)), math.Max(0, math.Min(h, q.Y)))
		if d := on.Dist(p); d < near {
			near, to = d, on.Sub(p)
		}
	}
	hint := "check the crs, and " + g.By
	if !g.Frame.CRS.Holds(plane.Origin()) {
		hint += "; " + g.Frame.CRS.ID() + " is not meant for the place of the readings"
	}
	off := u.Long(near)
	switch {
	case !(near < farM):
		return refused(g.Name, hint, "no reading lies on this site plan: it lies more than %.0f km from them", farM/1000)
	case near >= 1000 && u == geo.US:
		off = fmt.Sprintf("%.1f miles", near/mileM)
	case near >= 1000:
		off = fmt.Sprintf("%.1f km", near/1000)
	}
	return refused(g.Name, hint, "no reading lies on this site plan: its nearest edge is %s to the %s of them", off, side(to))
}

// side is the direction of a way on the ground, by the eight winds.
func side(d geo.XY) string {
	winds := [8]string{"east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east"}
	return winds[int(math.Round(math.Atan2(d.Y, d.X)/(math.Pi/4))+8)%8]
}
