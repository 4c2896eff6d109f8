package sample

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"

	"loamline.example/trace"
)

// Photograph lies where SitePlan does, in more colours than a palette holds.
func Photograph(turnDeg float64) *trace.Underlay {
	u := SitePlan(turnDeg)
	p := image.NewRGBA(image.Rect(0, 0, u.Width, u.Height))
	for y := range u.Height {
		for x := range u.Width {
			p.SetRGBA(x, y, color.RGBA{uint8(90 + x*100/u.Width), uint8(120 + y*100/u.Height), uint8(80 + (x+y)%90), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, p, nil); err != nil {
		panic("sample: " + err.Error()) // a buffer takes everything
	}
	u.Name, u.MIME, u.Picture = "photo.jpg", "image/jpeg", b.Bytes()
	return u
}
