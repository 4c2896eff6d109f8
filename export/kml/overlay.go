package kml

import (
	"archive/zip"
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"

	"github.com/twpayne/go-kml/v3"

	"loamline.example/export/words/beneath"
	"loamline.example/geo"
	"loamline.example/trace"
)

// overlayFile is the site plan in the archive.
func overlayFile(u *trace.Underlay) string {
	if u.MIME == "image/jpeg" {
		return "site-plan.jpg"
	}
	return "site-plan.png"
}

// overlayBox is what a site plan fills in longitude and latitude. A KML LatLonBox is
// drawn with straight edges along them, and its rotation is drawn differently by
// different readers: so the picture is turned here, and the box stands straight.
type overlayBox struct {
	west, south, east, north float64
	width, height            int // pixels
}

func boxOf(s *trace.Sheet) overlayBox {
	b := overlayBox{west: math.Inf(1), south: math.Inf(1), east: math.Inf(-1), north: math.Inf(-1)}
	u, middle := s.Underlay, s.Plane.Origin().LonDeg
	for _, q := range u.Corners() {
		ll := s.Plane.LonLat(q)
		lon := middle + math.Remainder(ll.LonDeg-middle, 360) // one box also across the antimeridian
		b.west, b.east = math.Min(b.west, lon), math.Max(b.east, lon)
		b.south, b.north = math.Min(b.south, ll.LatDeg), math.Max(b.north, ll.LatDeg)
	}
	lo, hi := s.Plane.XY(geo.LonLat{LonDeg: b.west, LatDeg: b.south}), s.Plane.XY(geo.LonLat{LonDeg: b.east, LatDeg: b.north})
	b.width = max(1, int(math.Ceil((hi.X-lo.X)/u.PixelM)))
	b.height = max(1, int(math.Ceil((hi.Y-lo.Y)/u.PixelM)))
	return b
}

// groundOverlay lays the site plan beneath the lines.
func (k *writer) groundOverlay() {
	if k.s.Underlay == nil {
		return
	}
	b := boxOf(k.s)
	k.put(kml.GroundOverlay(kml.Name(k.title("Site plan "+k.s.Underlay.Name)), kml.Visibility(true),
		kml.Description(k.list("", beneath.SitePlan(k.s.Job.Units, k.s))),
		kml.Color(color.RGBA{255, 255, 255, uint8(math.Round(255 * k.s.Underlay.Opacity))}), kml.DrawOrder(0),
		kml.Icon(kml.Href(overlayFile(k.s.Underlay))),
		kml.LatLonBox(kml.North(b.north), kml.South(b.south), kml.East(math.Remainder(b.east, 360)), kml.West(math.Remainder(b.west, 360)))))
}

// writeOverlay writes the site plan, turned so that its rows run east and west.
func writeOverlay(z *zip.Writer, s *trace.Sheet) error {
	in, kind, err := image.Decode(bytes.NewReader(s.Underlay.Picture))
	if err != nil {
		return fmt.Errorf("site plan %s: %w", s.Underlay.Name, err)
	}
	p, err := turned(in, s)
	if err != nil {
		return err
	}
	f, err := z.CreateHeader(&zip.FileHeader{Name: overlayFile(s.Underlay), Method: zip.Store})
	if err != nil {
		return err
	}
	if kind == "jpeg" { // a photograph: many times larger otherwise
		paper := image.NewRGBA(p.Rect)
		draw.Draw(paper, p.Rect, image.White, image.Point{}, draw.Src)
		draw.Draw(paper, p.Rect, p, image.Point{}, draw.Over)
		return jpeg.Encode(f, paper, &jpeg.Options{Quality: 80})
	}
	return (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(f, p)
}

// turned takes, for every pixel of the box, the nearest pixel of the picture, so that
// lines keep their ink and few colours stay few. Outside the picture it is clear.
func turned(in image.Image, s *trace.Sheet) (*image.NRGBA, error) {
	b, back := boxOf(s), s.Underlay.Ground.Inverse()
	w, h := float64(b.width), float64(b.height)
	to, _, err := geo.FitAffine(w, h, 8, func(x, y float64) (geo.XY, error) {
		q := s.Plane.XY(geo.LonLat{LonDeg: b.west + (b.east-b.west)*x/w, LatDeg: b.north - (b.north-b.south)*y/h})
		return back.Apply(q.X, q.Y), nil
	})
	if err != nil {
		return nil, err
	}
	out := image.NewNRGBA(image.Rect(0, 0, b.width, b.height))
	for y := range b.height {
		for x := range b.width {
			at := to.Apply(float64(x)+0.5, float64(y)+0.5)
			if p := image.Pt(int(math.Floor(at.X)), int(math.Floor(at.Y))); p.In(in.Bounds()) {
				out.Set(x, y, in.At(p.X, p.Y))
			}
		}
	}
	return out, nil
}
