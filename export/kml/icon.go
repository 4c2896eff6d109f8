package kml

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
)

// icon is a sign for a place: white with a black edge, so that a viewer can tint
// it and it shows on any ground. Coordinates run from -1 to 1, y downwards.
type icon struct {
	name string
	edge func(x, y float64) float64 // distance to the outline, negative inside
	hole func(x, y float64) bool    // black within
}

var icons = []icon{
	{"warning", triangle(0.86), func(x, y float64) bool {
		return math.Abs(x) < 0.085 && y > -0.34 && y < 0.26 || math.Hypot(x, y-0.44) < 0.11
	}},
	{"triangle", triangle(0.8), nothing},
	{"ring", disc(0.8), func(x, y float64) bool { return math.Hypot(x, y) < 0.4 }},
	{"square", square(0.72), func(x, y float64) bool { return math.Max(math.Abs(x), math.Abs(y)) < 0.3 }},
	{"dot", disc(0.7), nothing},
	{"cross", cross(0.8, 0.2), nothing},
	{"stake", disc(0.8), func(x, y float64) bool { return math.Min(math.Abs(x), math.Abs(y)) < 0.07 }},
}

func nothing(x, y float64) bool { return false }

func disc(r float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return math.Hypot(x, y) - r }
}

func square(r float64) func(x, y float64) float64 {
	return func(x, y float64) float64 { return math.Max(math.Abs(x), math.Abs(y)) - r }
}

// triangle stands on its side, r from its middle to a corner.
func triangle(r float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		y -= 0.12
		return math.Max(y-r/2, math.Abs(x)*math.Sqrt(3)/2-y/2-r/2)
	}
}

func cross(r, half float64) func(x, y float64) float64 {
	return func(x, y float64) float64 {
		u, v := math.Abs(x+y)/math.Sqrt2, math.Abs(x-y)/math.Sqrt2
		return math.Min(math.Max(u-r, v-half), math.Max(v-r, u-half))
	}
}

// An icon at scale 1 is as large as a viewer's own, 32 pixels: some fit any picture to
// that, and others draw it pixel by pixel.
const (
	iconPixels  = 32
	iconSamples = 4 // a side, of each pixel
	iconEdge    = 0.12
)

// png draws the icon.
func (i icon) png() []byte {
	img := image.NewNRGBA(image.Rect(0, 0, iconPixels, iconPixels))
	for py := range iconPixels {
		for px := range iconPixels {
			img.SetNRGBA(px, py, i.pixel(px, py))
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic("export: icon " + i.name + ": " + err.Error()) // a buffer takes everything
	}
	return b.Bytes()
}

func (i icon) pixel(px, py int) color.NRGBA {
	covered, white := 0, 0
	for s := range iconSamples * iconSamples {
		x := (float64(px)+(float64(s%iconSamples)+0.5)/iconSamples)/iconPixels*2 - 1
		y := (float64(py)+(float64(s/iconSamples)+0.5)/iconSamples)/iconPixels*2 - 1
		d := i.edge(x, y)
		if d > iconEdge {
			continue
		}
		covered++
		if d <= 0 && !i.hole(x, y) {
			white++
		}
	}
	if covered == 0 {
		return color.NRGBA{}
	}
	v := uint8(255 * white / covered)
	return color.NRGBA{v, v, v, uint8(255 * covered / (iconSamples * iconSamples))}
}
