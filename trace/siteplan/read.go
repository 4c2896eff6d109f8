package siteplan

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	_ "image/jpeg" // the kinds of pictures that are read
	_ "image/png"
	"math"
	"path/filepath"
	"strings"

	_ "golang.org/x/image/tiff" // uncompressed, LZW or Deflate, stripped or tiled

	"loamline.example/geo"
	"loamline.example/trace"
)

// The bounds of what is read. A drawing of A0 at 200 dots per inch has 62 million
// pixels.
const (
	MaxBytes  = 64 << 20
	maxPixels = 64_000_000
)

// File is a picture with what lies beside it.
type File struct {
	Name   string
	Bytes  []byte
	Worlds []World // the world files that go with its name
}

// refused is a picture that cannot be drawn: what is wrong, and what to do.
func refused(file, hint, cause string, args ...any) error {
	return &trace.Problem{File: file, Field: "underlay", Cause: fmt.Sprintf(cause, args...), Hint: hint}
}

// Read reads a picture and where it says that it lies, in figures of its own system.
// Where the setup states no epoch, its frame is joined at the one given. A page of a
// PDF takes seconds to draw, unless the context ends first.
func Read(ctx context.Context, f File, setup trace.UnderlaySetup, epoch float64) (*trace.GeoPicture, error) {
	if setup.Epoch != 0 {
		epoch = setup.Epoch
	}
	if isPDF(f.Bytes) {
		return readPDF(ctx, f, setup, epoch)
	}
	if setup.Page != 0 || setup.DPI != 0 {
		return nil, refused(f.Name, "take page and dpi out of [underlay]", "a page and dots per inch can be stated of a PDF alone, and this is not one")
	}
	kind, size, err := look(f)
	if err != nil {
		return nil, err
	}
	var tags geoTags
	if kind == "tiff" {
		if tags, err = readGeoTags(f.Bytes); err != nil {
			return nil, refused(f.Name, "save it again as a plain GeoTIFF", "its TIFF tags cannot be read: %v", err)
		}
	}
	out := &trace.GeoPicture{Name: f.Name, Opacity: setup.Opacity}
	if out.Figures, out.By, err = placed(f, size, tags, geo.Affine{A: 1, E: 1}, "pixels"); err != nil {
		return nil, err
	}
	if out.Frame, err = frame(f.Name, setup, tags, epoch); err != nil {
		return nil, err
	}
	if out.Picture, _, err = image.Decode(bytes.NewReader(f.Bytes)); err != nil {
		return nil, refused(f.Name, decodeHint, "the picture cannot be read: %v", err)
	}
	return out, nil
}

const (
	kindHint   = "export the site plan as PNG or JPEG with a world file, as GeoTIFF or as a geospatial PDF"
	decodeHint = "save it as PNG, or as TIFF with 8 bits per sample, uncompressed or with LZW or Deflate"
)

// look tells a picture's kind by its bytes, and its size, and refuses what is not
// read before any of it is unpacked.
func look(f File) (kind string, size image.Point, err error) {
	switch {
	case bytes.HasPrefix(f.Bytes, []byte("II+\x00")), bytes.HasPrefix(f.Bytes, []byte("MM\x00+")):
		return "", size, refused(f.Name, "save it as an ordinary (classic) TIFF, or cut out the part around the job", "it is a BigTIFF, made for pictures of more than 4 GB")
	}
	c, kind, err := image.DecodeConfig(bytes.NewReader(f.Bytes))
	if err != nil {
		hint := kindHint
		if kind = filepath.Ext(f.Name); strings.EqualFold(kind, ".tif") || strings.EqualFold(kind, ".tiff") {
			hint = decodeHint
		}
		return "", size, refused(f.Name, hint, "this is not a picture that can be read (%v)", err)
	}
	size = image.Pt(c.Width, c.Height)
	if size.X < 1 || size.Y < 1 {
		return "", size, refused(f.Name, kindHint, "the picture is empty")
	}
	if size.X > maxPixels/size.Y {
		return "", size, refused(f.Name, "cut out the part around the job, or save it with fewer pixels", "the picture has %d × %d pixels, more than %d million", size.X, size.Y, maxPixels/1_000_000)
	}
	if kind == "tiff" {
		switch c.ColorModel {
		case color.Gray16Model, color.RGBA64Model, color.NRGBA64Model:
			return "", size, refused(f.Name, decodeHint, "it has 16 bits per sample, as heights and raw images have, and is not a picture to look at")
		}
	}
	return kind, size, nil
}

// placed is where a picture says that it lies, by its tags or its world file, and
// which of them said so. Where both do, they must say the same. World files are made
// for pixels, to which the picture's own unit (its name is given) comes by a
// transformation.
func placed(f File, size image.Point, tags geoTags, pixels geo.Affine, unit string) (geo.Affine, string, error) {
	var out geo.Affine
	by := ""
	if tags.placed {
		out, by = tags.figures, tags.by
	} else if tags.points > 0 {
		return out, "", refused(f.Name, "rectify it first (warp it to a reference system) and save it as GeoTIFF", "it has %d control points and no transformation", tags.points)
	}
	for _, w := range f.Worlds {
		t, err := w.read()
		if err != nil {
			return out, "", err
		}
		t = t.After(pixels)
		if by == "" {
			out, by = t, "its world file "+w.Name
			continue
		}
		if apart := pixelsApart(out, t, size); !(apart <= 0.01) {
			return out, "", refused(f.Name, "take away the one that is wrong", "%s and its world file %s place it differently, by %.4g %s", by, w.Name, apart, unit)
		}
	}
	if by == "" {
		return out, "", refused(f.Name, "export it once more with a world file (.pgw, .jgw, .tfw or .wld, of the same name, beside it) or as GeoTIFF", "nothing says where on the ground it lies")
	}
	if !out.Finite() || out.Det() == 0 {
		return out, "", refused(f.Name, "export it once more", "%s squeezes it to a line or a point", by)
	}
	if out.Det() > 0 {
		return out, "", refused(f.Name, "the size of a pixel downwards (the fourth figure of a world file) is negative, where rows count from the north", "%s shows it as in a mirror", by)
	}
	return out, by, nil
}

// pixelsApart is by how much two ways to place a picture differ at its corners, in
// pixels of the first.
func pixelsApart(a, b geo.Affine, size image.Point) float64 {
	between, worst := a.Inverse().After(b), 0.0
	for _, c := range [][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
		u, v := c[0]*float64(size.X), c[1]*float64(size.Y)
		worst = math.Max(worst, between.Apply(u, v).Dist(geo.XY{X: u, Y: v}))
	}
	return worst
}

// frame is the frame that a picture's figures are in. What the job states and what
// the picture's keys say must be the same system.
func frame(file string, setup trace.UnderlaySetup, tags geoTags, epoch float64) (geo.Frame, error) {
	crs := setup.CRS
	switch own := tags.system(); {
	case tags.refuse != "":
		return geo.Frame{}, refused(file, "save it in the UTM zone or the national grid of the place", "%s", tags.refuse)
	case crs == "" && own == "" && tags.described != "":
		return geo.Frame{}, refused(file, "state the system: crs = \"EPSG:…\" in [underlay], or --underlay-crs", "its reference system is described (%q) and not named by an EPSG number", tags.described)
	case crs == "" && own == "":
		return geo.Frame{}, refused(file, "state the system: crs = \"EPSG:…\" in [underlay], or --underlay-crs; that of the readings is not taken for it", "nothing says which reference system its figures are in")
	case crs == "":
		crs = own
	case own != "":
		if c, err := geo.LookupCRS(crs); err == nil && c.ID() != own {
			return geo.Frame{}, refused(file, "take the crs out of the job if the picture is right, or save the picture in the right system", "the job says that it is in %s, and its own keys say %s", c.ID(), own)
		}
	}
	out, err := geo.NewFrame(crs, setup.Datum, epoch)
	if err != nil {
		return out, refused(file, "save it in the UTM zone or the national grid of the place, or state another crs", "%v", err)
	}
	if unit := tags.unit(); unit != "" && !out.CRS.Geographic() && unit != out.CRS.Unit {
		return out, refused(file, "save it once more, in the units of its system", "its keys say that its figures are in %s, and %s (%s) has %s", unitWords[unit], out.CRS.ID(), out.CRS.Name, unitWords[out.CRS.Unit])
	}
	return out, nil
}

var unitWords = map[string]string{"m": "metres", "ft": "international feet", "ftUS": "US survey feet"}
