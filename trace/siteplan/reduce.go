package siteplan

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
)

// The bounds of what is drawn: it is carried in every page and sheet, and opened on
// phones.
const (
	drawnPixels = 4_000_000
	drawnBytes  = 2 << 20
)

// onWhite is a part of a picture on white paper, whatever shines through it.
func onWhite(picture image.Image, part image.Rectangle) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, part.Dx(), part.Dy()))
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	draw.Draw(out, out.Bounds(), picture, part.Min.Add(picture.Bounds().Min), draw.Over)
	return out
}

// coarser makes one pixel of every square of k by k, their mean in whole numbers, so
// that every machine gives the same. A square that is cut by the edge is filled up
// with white: its pixel keeps its place and size.
func coarser(in *image.RGBA, k int) *image.RGBA {
	if k == 1 {
		return in
	}
	size := in.Bounds().Size()
	out := image.NewRGBA(image.Rect(0, 0, (size.X+k-1)/k, (size.Y+k-1)/k))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			w, h := min(k, size.X-x*k), min(k, size.Y-y*k)
			var sum [3]int
			for r := range h {
				row := in.Pix[in.PixOffset(x*k, y*k+r):]
				for c := range w {
					for b := range sum {
						sum[b] += int(row[4*c+b])
					}
				}
			}
			white := 255 * (k*k - w*h)
			for b := range sum {
				sum[b] = (sum[b] + white + k*k/2) / (k * k)
			}
			out.SetRGBA(x, y, color.RGBA{uint8(sum[0]), uint8(sum[1]), uint8(sum[2]), 255})
		}
	}
	return out
}

// leastCoarse is the least side of the squares by which a picture is small enough.
func leastCoarse(size image.Point) int {
	k := 1
	for ((size.X+k-1)/k)*((size.Y+k-1)/k) > drawnPixels {
		k++
	}
	return k
}

// encode writes a picture in the smaller of PNG and JPEG.
func encode(in *image.RGBA) (mime string, out []byte, err error) {
	var lossless, lossy bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	plain := fewColours(in)
	if err := enc.Encode(&lossless, plain); err != nil {
		return "", nil, err
	}
	if _, few := plain.(*image.Paletted); few {
		return "image/png", lossless.Bytes(), nil
	}
	if err := jpeg.Encode(&lossy, plain, &jpeg.Options{Quality: 80}); err != nil {
		return "", nil, err
	}
	if lossy.Len() < lossless.Len() {
		return "image/jpeg", lossy.Bytes(), nil
	}
	return "image/png", lossless.Bytes(), nil
}

// fewColours is the picture with a palette, where it has no more than 256 colours, or
// in greys, where it has no others; their order is that in which they occur.
func fewColours(in *image.RGBA) image.Image {
	index := map[color.RGBA]uint8{}
	out := image.NewPaletted(in.Rect, nil)
	few, grey := true, true
	for i := 0; i < len(in.Pix); i += 4 {
		c := color.RGBA{in.Pix[i], in.Pix[i+1], in.Pix[i+2], 255}
		grey = grey && c.R == c.G && c.G == c.B
		if !few {
			continue
		}
		n, known := index[c]
		if !known {
			if few = len(index) < 256; !few {
				continue
			}
			n = uint8(len(index))
			index[c], out.Palette = n, append(out.Palette, c)
		}
		out.Pix[i/4] = n
	}
	switch {
	case few:
		return out
	case grey:
		g := image.NewGray(in.Rect)
		for i := range g.Pix {
			g.Pix[i] = in.Pix[4*i]
		}
		return g
	}
	return in
}
