package siteplan

import (
	"math"
	"strconv"
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
)

// Endings are those of world files, the more particular first: the first and last
// letter of the picture's ending and a w, the whole ending and a w, or wld.
func Endings(picture string) []string {
	out := []string{}
	switch strings.ToLower(picture) {
	case ".png":
		out = append(out, ".pgw", ".pngw")
	case ".jpg", ".jpeg":
		out = append(out, ".jgw", ".jpgw", ".jpegw")
	case ".tif", ".tiff":
		out = append(out, ".tfw", ".tifw", ".tiffw")
	case ".pdf":
		out = append(out, ".pfw", ".pdfw")
	}
	return append(out, ".wld")
}

// World is a world file.
type World struct {
	Name string
	Text []byte
}

// worldFigures are the six lines of a world file in their order.
var worldFigures = [6]string{"the size of a pixel along a row", "the turn of rows", "the turn of columns",
	"the size of a pixel downwards", "the first pixel's east or longitude", "the first pixel's north or latitude"}

// read reads the six figures A, D, B, E, C and F, one a line, by which column and row
// of a pixel's centre, counted from 0, come to x = A·column + B·row + C and
// y = D·column + E·row + F (GDAL's description of GDALReadWorldFile; Library of
// Congress, Sustainability of Digital Formats, fdd000287). Half a pixel is taken off
// for what counts from the outer corner.
func (w World) read() (geo.Affine, error) {
	var v [6]float64
	n := 0
	for i, line := range strings.Split(strings.TrimPrefix(string(w.Text), "\uFEFF"), "\n") {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		if n == len(v) {
			return geo.Affine{}, w.wrong(i+1, "there are more than six figures in this world file", "it has six lines, one figure each")
		}
		f, err := strconv.ParseFloat(line, 64)
		if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
			hint := "write the figure with a decimal point and without a unit"
			return geo.Affine{}, w.wrong(i+1, strconv.Quote(trace.Shorten(line))+" is not a number, where "+worldFigures[n]+" is expected", hint)
		}
		v[n], n = f, n+1
	}
	if n < len(v) {
		return geo.Affine{}, w.wrong(0, "there are only "+strconv.Itoa(n)+" figures in this world file", "the next would be "+worldFigures[n])
	}
	t := geo.Affine{A: v[0], D: v[1], B: v[2], E: v[3], C: v[4], F: v[5]}
	return t.After(geo.Affine{A: 1, E: 1, C: -0.5, F: -0.5}), nil
}

func (w World) wrong(row int, cause, hint string) error {
	return &trace.Problem{File: w.Name, Row: row, Field: "underlay", Cause: cause, Hint: hint}
}
