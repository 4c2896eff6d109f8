package siteplan

import (
	"bytes"
	"context"
	"errors"
	"image"
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/siteplan/pdfobject"
	"loamline.example/trace/siteplan/pdfpage"
)

const (
	mostPages    = 2000
	pointsAnInch = 72.0
	// A page is drawn so that a pixel is drawnPixelM on the ground, as far as these
	// resolutions allow; what is finer than that is made coarser when it is placed.
	drawnPixelM = 0.04
	leastDPI    = 100.0
	mostDPI     = 400.0
	pagePixels  = 36_000_000
)

const pdfHint = "export the site plan from the program that it was drawn in as a geospatial PDF (ISO 32000) or as GeoTIFF; or give it a world file of the same name (.pfw, .pdfw or .wld) and state the dots per inch that the world file is made for: dpi = 72 in [underlay], or --underlay-dpi, where its figures are for the page's points"

func isPDF(b []byte) bool { return bytes.HasPrefix(b, []byte("%PDF-")) }

// readPDF reads a page of a PDF: where it lies from its geospatial viewport or from a
// world file, and its picture only when all that is known to be usable.
func readPDF(ctx context.Context, f File, setup trace.UnderlaySetup, epoch float64) (*trace.GeoPicture, error) {
	p, err := openPage(f, setup.Page)
	if err != nil {
		return nil, err
	}
	if len(f.Worlds) > 0 && setup.DPI == 0 {
		return nil, refused(f.Name, "write dpi = 72 in [underlay] (or --underlay-dpi 72) if its figures are for the page's points, or the resolution of the picture that the world file was made with; or take the world file away",
			"beside it is the world file %s, and nothing says how large the pixels are that it speaks of: a PDF has none", f.Worlds[0].Name)
	}
	tags := p.system()
	out := &trace.GeoPicture{Name: f.Name, Opacity: setup.Opacity}
	if out.Frame, err = frame(f.Name, setup, tags, epoch); err != nil {
		return nil, err
	}
	if err := p.place(&tags, out.Frame.CRS); err != nil {
		return nil, err
	}
	pixel := 1.0
	if setup.DPI != 0 {
		pixel = setup.DPI / pointsAnInch * p.userUnit
	}
	paper, by, err := placed(f, p.size(), tags, geo.Affine{A: pixel, E: pixel}, "points")
	if err != nil {
		return nil, err
	}
	scale := p.scale(paper, out.Frame)
	at := image.Pt(int(math.Ceil(p.width*scale)), int(math.Ceil(p.height*scale)))
	drawn, err := pdfpage.Draw(ctx, f.Bytes, p.index, at.X, at.Y)
	if err != nil {
		return nil, p.notDrawn(ctx, err)
	}
	if !p.sameFrame(drawn) {
		return nil, refused(f.Name, pdfAgain, "the size of its page is not told from its file alike: %.6g × %.6g points and %.6g × %.6g", p.width, p.height, drawn.Box[2]-drawn.Box[0], drawn.Box[3]-drawn.Box[1])
	}
	grow := geo.Affine{A: float64(at.X) / p.width, E: float64(at.Y) / p.height}
	out.By = by
	out.Picture, out.Figures = p.part(drawn.Picture, paper.After(grow.Inverse()), grow)
	return out, nil
}

const pdfAgain = "save the PDF once more (print it to a new one), or export the site plan as GeoTIFF"

// notDrawn tells why a page has no picture; what ended the whole job is no matter of
// the page.
func (p *page) notDrawn(ctx context.Context, err error) error {
	switch {
	case ctx.Err() != nil:
		return context.Cause(ctx)
	case errors.Is(err, pdfpage.ErrSlow):
		return refused(p.file, "take out what the plan does not need (aerial pictures, hatches), or export it as GeoTIFF", "%v", err)
	}
	return refused(p.file, pdfAgain, "its page %d cannot be drawn: %v", p.index+1, err)
}

// page is a page of a PDF. Its paper is what is shown of it: to the right and down from
// the upper left corner, in units of its own user space.
type page struct {
	file     string
	objects  *pdfobject.File
	dict     pdfobject.Dict
	index    int
	box      [4]float64 // left, bottom, right and top of what is shown
	turns    int        // quarters, clockwise
	userUnit float64    // points in a unit
	width    float64
	height   float64
	view     *viewport // nil where nothing places it
	views    int
}

// openPage finds the page that is meant: the one that is stated, else the only one, else
// the only one with a place.
func openPage(f File, stated int) (*page, error) {
	objects, err := pdfobject.Open(f.Bytes)
	var pages []pdfobject.Dict
	if err == nil {
		pages, err = objects.Pages(mostPages)
	}
	switch {
	case errors.Is(err, pdfobject.ErrProtected):
		return nil, refused(f.Name, "save it without protection, or export the site plan as GeoTIFF", "the PDF is protected (encrypted), and where it lies cannot be read")
	case err != nil:
		return nil, refused(f.Name, pdfAgain, "the PDF cannot be read: %v", err)
	case stated > len(pages):
		return nil, refused(f.Name, "state another page in [underlay], or --underlay-page", "it has no page %d, for it has %d in all", stated, len(pages))
	}
	index := stated - 1
	if stated == 0 {
		index = 0
		var placed []int
		for i, d := range pages {
			if view, _ := geoViewport(objects, d); view != nil {
				placed = append(placed, i)
			}
		}
		if len(placed) == 1 {
			index = placed[0]
		} else if len(pages) > 1 {
			return nil, refused(f.Name, "state the page: page = 2 in [underlay], or --underlay-page 2", "it has %d pages, %d of which say where on the ground they lie", len(pages), len(placed))
		}
	}
	p := &page{file: f.Name, objects: objects, dict: pages[index], index: index}
	if p.view, p.views = geoViewport(objects, p.dict); p.view == nil && len(f.Worlds) == 0 {
		return nil, refused(f.Name, pdfHint, "nothing says where on the ground its page %d lies", index+1)
	}
	return p, p.measure()
}

// mostPoints is the longest side of a page (ISO 32000-1, annex C: 14,400 units).
const mostPoints = 14_400

// measure reads the frame of the page (ISO 32000-2, 7.7.3.3).
func (p *page) measure() error {
	o := p.objects
	p.box = [4]float64{0, 0, 612, 792}
	for i, key := range []pdfobject.Name{"MediaBox", "CropBox"} {
		b := o.Numbers(p.dict[key])
		if len(b) != 4 {
			continue
		}
		b = []float64{min(b[0], b[2]), min(b[1], b[3]), max(b[0], b[2]), max(b[1], b[3])}
		if i == 0 {
			p.box = [4]float64(b)
		} else {
			p.box = [4]float64{max(b[0], p.box[0]), max(b[1], p.box[1]), min(b[2], p.box[2]), min(b[3], p.box[3])}
		}
	}
	turn, _ := o.Number(p.dict["Rotate"])
	p.turns = ((int(turn)/90)%4 + 4) % 4
	if p.userUnit = 1; p.dict["UserUnit"] != nil {
		p.userUnit, _ = o.Number(p.dict["UserUnit"])
	}
	p.width, p.height = p.box[2]-p.box[0], p.box[3]-p.box[1]
	if p.turns%2 == 1 {
		p.width, p.height = p.height, p.width
	}
	if !(p.width >= 1 && p.height >= 1 && p.width <= mostPoints && p.height <= mostPoints && p.userUnit > 0 && p.userUnit <= 10_000) {
		return refused(p.file, pdfAgain, "its page %d has no size that can be: %.6g × %.6g points", p.index+1, p.width, p.height)
	}
	return nil
}

func (p *page) size() image.Point {
	return image.Pt(int(math.Ceil(p.width)), int(math.Ceil(p.height)))
}

// toPaper is where a place of the user space comes to lie.
func (p *page) toPaper(x, y float64) geo.XY {
	switch p.turns {
	case 1:
		return geo.XY{X: y - p.box[1], Y: x - p.box[0]}
	case 2:
		return geo.XY{X: p.box[2] - x, Y: y - p.box[1]}
	case 3:
		return geo.XY{X: p.box[3] - y, Y: p.box[2] - x}
	}
	return geo.XY{X: x - p.box[0], Y: p.box[3] - y}
}

// scale is how many pixels a unit of the paper is drawn with. Where the figures are of
// no place, Place says so; the page is then drawn as coarsely as may be.
func (p *page) scale(paper geo.Affine, f geo.Frame) float64 {
	dpi := leastDPI
	if m := groundM(paper, f, p.width/2, p.height/2); m > 0 {
		dpi = min(max(m/drawnPixelM*pointsAnInch, leastDPI), mostDPI)
	}
	return min(dpi/pointsAnInch, math.Sqrt(pagePixels/(p.width*p.height)))
}

// groundM is how long a unit of the paper is on the ground, 0 where that is no place.
func groundM(paper geo.Affine, f geo.Frame, u, v float64) float64 {
	a, b := paper.Apply(u, v), paper.Apply(u+1, v)
	from, err1 := f.Place(a.X, a.Y)
	to, err2 := f.Place(b.X, b.Y)
	if err1 != nil || err2 != nil {
		return 0
	}
	return geo.NewPlane(from).XY(to).Norm()
}

// sameFrame reports whether the renderer holds the page for as large as its dictionary
// says: else its picture would lie elsewhere.
func (p *page) sameFrame(d *pdfpage.Drawn) bool {
	const near = 0.01 // the renderer reckons in single precision
	for i, v := range p.box {
		if !(math.Abs(v-d.Box[i]) <= near) {
			return false
		}
	}
	return p.turns == d.Turns
}

// part is what the viewport places of the page, where one does: the sheet's frame and
// title block lie nowhere on the ground.
func (p *page) part(picture *image.RGBA, figures, grow geo.Affine) (image.Image, geo.Affine) {
	if p.view == nil {
		return picture, figures
	}
	a, b := p.toPaper(p.view.box[0], p.view.box[1]), p.toPaper(p.view.box[2], p.view.box[3])
	a, b = grow.Apply(a.X, a.Y), grow.Apply(b.X, b.Y)
	cut := image.Rect(int(math.Floor(min(a.X, b.X)+0.01)), int(math.Floor(min(a.Y, b.Y)+0.01)),
		int(math.Ceil(max(a.X, b.X)-0.01)), int(math.Ceil(max(a.Y, b.Y)-0.01))).Intersect(picture.Rect)
	if cut.Empty() {
		return picture, figures
	}
	return picture.SubImage(cut), figures.After(geo.Affine{A: 1, E: 1, C: float64(cut.Min.X), F: float64(cut.Min.Y)})
}
