package sample

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
)

// The mark on the invented site plan, in columns and rows from the outer corner of the
// first pixel, and its ink.
var (
	SitePlanMark = geo.XY{X: 620.5, Y: 640.5}
	SitePlanInk  = color.RGBA{210, 0, 160, 255}
)

// SitePlanPicture is an invented site plan: walls, a kerb, and a mark.
func SitePlanPicture() []byte {
	const w, h = 1400, 900
	p := image.NewPaletted(image.Rect(0, 0, w, h), color.Palette{color.White, color.Gray{60}, SitePlanInk})
	for y := range h {
		for x := range w {
			wall := (x%350 < 4 || y < 260 && x%350 == 240) && y < 264 || y >= 260 && y < 264
			kerb := y >= 520 && y < 526
			if math.Hypot(float64(x)+0.5-SitePlanMark.X, float64(y)+0.5-SitePlanMark.Y) <= 12 {
				p.SetColorIndex(x, y, 2)
			} else if wall || kerb {
				p.SetColorIndex(x, y, 1)
			}
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, p); err != nil {
		panic("sample: " + err.Error()) // a buffer takes everything
	}
	return b.Bytes()
}

// SitePlan lies under the sample's street, with pixels of 5 cm, turned clockwise.
func SitePlan(turnDeg float64) *trace.Underlay {
	sin, cos := math.Sincos(turnDeg * math.Pi / 180)
	const pixelM = 0.05
	return &trace.Underlay{Name: "plan.png", By: "its world file plan.pgw", System: "EPSG:32619 (WGS 84 / UTM zone 19N)",
		Width: 1400, Height: 900, MIME: "image/png", Picture: SitePlanPicture(), Opacity: 0.5,
		Ground: geo.Affine{A: pixelM * cos, B: -pixelM * sin, C: 2, D: -pixelM * sin, E: -pixelM * cos, F: 26},
		PixelM: pixelM, OwnPixelM: pixelM, Covered: 30, Places: 40}
}
