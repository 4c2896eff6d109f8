package trace

import (
	"image"

	"loamline.example/geo"
)

// UnderlaySetup is what the job says of a site plan to draw beneath the lines.
type UnderlaySetup struct {
	File    string // "" for none
	CRS     string // of the picture's figures; "" where the picture says it
	Datum   string // "" where not stated
	Epoch   float64
	Opacity float64 // 0 to 1
	Page    int     // of a PDF, counted from 1; 0 where not stated
	DPI     float64 // dots per inch for which a PDF's world file is made; 0 where not stated
}

// DefaultOpacity lets lines and zones stand out from what lies beneath them.
const DefaultOpacity = 0.5

// GeoPicture is a picture that knows where it lies, before it is brought into the
// job's plane.
type GeoPicture struct {
	Name    string
	Picture image.Image
	By      string     // what placed it: "its world file plan.pgw", "its GeoTIFF tags", "its geospatial viewport"
	Frame   geo.Frame  // that its figures are in
	Figures geo.Affine // from columns and rows, counted from the outer corner of the first pixel, to figures of Frame's system
	Opacity float64
	DoubtM  float64 // how far off it may lie for its frame alone
	// DoubtWhy says why; empty where nothing is in doubt.
	DoubtWhy string
}

// Underlay is a site plan as it is drawn: a picture beneath everything, as well
// placed as its own geo-referencing. No line, zone or finding depends on it.
type Underlay struct {
	Name    string
	By      string // as in GeoPicture
	System  string // "EPSG:26918 (NAD83 / UTM zone 18N)"
	Width   int    // pixels
	Height  int
	MIME    string // "image/png" or "image/jpeg"
	Picture []byte
	Opacity float64

	Ground    geo.Affine // columns and rows, counted from the outer corner of the first pixel, to the plane
	ResidualM float64    // by how much Ground departs from the exact way at most
	PixelM    float64    // side of a pixel on the ground
	OwnPixelM float64    // as it was handed in; less where it was drawn coarser
	Cut       bool       // only the surroundings of the readings are drawn
	Covered   int        // how many of Places lie on it
	Places    int        // of readings, one in each of the search grid's cells
	DoubtM    float64    // as in GeoPicture
	DoubtWhy  string
}

// Corners are the picture's on the plane: from the first pixel's along its row, and
// round.
func (u *Underlay) Corners() [4]geo.XY {
	w, h := float64(u.Width), float64(u.Height)
	return [4]geo.XY{u.Ground.Apply(0, 0), u.Ground.Apply(w, 0), u.Ground.Apply(w, h), u.Ground.Apply(0, h)}
}
