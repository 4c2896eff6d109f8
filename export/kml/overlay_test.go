package kml

import (
	"archive/zip"
	"bytes"
	"image/jpeg"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/geo"
)

// The archive lays the site plan beneath the lines in a box that stands straight: the
// mark on a turned plan has its ink, by the box alone, where it belongs, to the side of
// a pixel.
func TestKMZHasTheSitePlanInItsPlace(t *testing.T) {
	s := sample.Sheet()
	s.Underlay = sample.SitePlan(25)
	b := check.Write(t, s, WriteKMZ)
	if !bytes.Equal(b, check.Write(t, s, WriteKMZ)) {
		t.Error("the same sheet gave different bytes")
	}
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	read := func(name string) []byte {
		f, err := z.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		all, err := io.ReadAll(f)
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	doc := read("doc.kml")
	side := func(name string) float64 {
		m := regexp.MustCompile(`<` + name + `>([^<]+)</` + name + `>`).FindSubmatch(doc[bytes.Index(doc, []byte("<LatLonBox>")):])
		v, err := strconv.ParseFloat(string(m[1]), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	img, err := png.Decode(bytes.NewReader(read("site-plan.png")))
	if err != nil {
		t.Fatal(err)
	}
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	var sum geo.XY
	n := 0.0
	for y := range h {
		for x := range w {
			if r, g, b, _ := img.At(x, y).RGBA(); r>>8 == uint32(sample.SitePlanInk.R) && g>>8 == uint32(sample.SitePlanInk.G) && b>>8 == uint32(sample.SitePlanInk.B) {
				sum, n = sum.Add(geo.XY{X: float64(x) + 0.5, Y: float64(y) + 0.5}), n+1
			}
		}
	}
	at := sum.Scale(1 / math.Max(1, n))
	got := s.Plane.XY(geo.LonLat{LonDeg: side("west") + (side("east")-side("west"))*at.X/float64(w),
		LatDeg: side("north") - (side("north")-side("south"))*at.Y/float64(h)})
	if want := s.Underlay.Ground.Apply(sample.SitePlanMark.X, sample.SitePlanMark.Y); n < 20 || got.Dist(want) > 0.05 {
		t.Errorf("%g pixels of the mark, %.3f m from where it belongs", n, got.Dist(want))
	}
	if _, _, _, a := img.At(0, 0).RGBA(); a != 0 {
		t.Error("beside the turned plan the picture is not clear")
	}
	if !bytes.Contains(doc, []byte("It changes no line, zone or finding.")) || !bytes.Contains(doc, []byte("<color>80ffffff</color>")) {
		t.Error("the overlay is not pale, or does not say what it is worth")
	}
	if bytes.Contains(check.Write(t, s, Write), []byte("GroundOverlay")) {
		t.Error("the document alone names a picture that is not there")
	}
	needXmllint(t)
	path := filepath.Join(t.TempDir(), "m.kml")
	if err := os.WriteFile(path, doc, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, ok := validateKML(t, path); !ok {
		t.Error(out)
	}
}

// A photograph stays one, in a file of its own kind.
func TestKMZHasThePhotograph(t *testing.T) {
	s := sample.Sheet()
	s.Underlay = sample.Photograph(8)
	b := check.Write(t, s, WriteKMZ)
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	f, err := z.Open("site-plan.jpg")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if p, err := jpeg.Decode(f); err != nil || p.Bounds().Dx() < s.Underlay.Width {
		t.Errorf("%v", err)
	}
	if most := len(check.Write(t, sample.Sheet(), WriteKMZ)) + 3*len(s.Underlay.Picture); len(b) > most {
		t.Errorf("%d bytes, of which %d are the photograph", len(b), len(s.Underlay.Picture))
	}
}
