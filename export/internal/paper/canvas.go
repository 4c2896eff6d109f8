package paper

import (
	"bytes"
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"loamline.example/export/internal/plan"
)

// Info is what a reader of the file is told about it.
type Info struct {
	Title, Author, Subject, Creator string
	Date                            time.Time // written as both dates of the file
}

// Canvas collects pages of one size.
type Canvas struct {
	pdf   *fpdf.Fpdf
	fonts [3]glyphs
	font  Font // as last set on this page
	pen   Pen
	fill  Color
	fresh bool // nothing has been set on this page yet
	// say words a text in the sheet's language, nil for English; asIs are the lines
	// that were worded already, whole or in part.
	say  func(string) string
	asIs map[string]bool
}

// Speak makes every text that is set, measured or broken go through say first: no
// label can be drawn past it. language is that of the file.
func (c *Canvas) Speak(language string, say func(string) string) {
	c.say, c.asIs = say, map[string]bool{}
	c.pdf.SetLang(language)
}

// AsIs takes lines for worded: they are set as they stand.
func (c *Canvas) AsIs(lines ...string) []string {
	if c.say != nil {
		for _, l := range lines {
			c.asIs[l] = true
		}
	}
	return lines
}

// AsWritten sets, measures and breaks what draw does without wording it: for what
// stands on a sheet in English beside its own language.
func (c *Canvas) AsWritten(draw func()) {
	say := c.say
	c.say = nil
	draw()
	c.say = say
}

// worded is a text in the sheet's language.
func (c *Canvas) worded(s string) string {
	if c.say == nil || c.asIs[s] {
		return s
	}
	return c.say(s)
}

// New returns a canvas of pages wMM wide and hMM high, landscape where w > h.
func New(wMM, hMM float64, info Info) *Canvas {
	orientation := "P"
	if wMM > hMM {
		orientation = "L"
		wMM, hMM = hMM, wMM
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: orientation, UnitStr: "mm", Size: fpdf.SizeType{Wd: wMM, Ht: hMM}})
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(info.Date)
	pdf.SetModificationDate(info.Date)
	pdf.SetCompression(true)
	c := &Canvas{pdf: pdf}
	c.loadFonts()
	pdf.SetTitle(c.Clean(info.Title), true)
	pdf.SetAuthor(c.Clean(info.Author), true)
	pdf.SetSubject(c.Clean(info.Subject), true)
	pdf.SetCreator(c.Clean(info.Creator), true)
	pdf.SetProducer(c.Clean(info.Creator), true)
	pdf.SetLang("en")
	return c
}

// Page begins a new page and names it in the file's outline.
func (c *Canvas) Page(name string) {
	c.pdf.AddPage()
	c.begin(name)
}

// PageOf is Page for a page of its own size, landscape where w > h.
func (c *Canvas) PageOf(wMM, hMM float64, name string) {
	orientation := "P"
	if wMM > hMM {
		orientation = "L"
		wMM, hMM = hMM, wMM
	}
	c.pdf.AddPageFormat(orientation, fpdf.SizeType{Wd: wMM, Ht: hMM})
	c.begin(name)
}

func (c *Canvas) begin(name string) {
	c.fresh = true
	c.pdf.SetLineCapStyle("butt")
	c.pdf.SetLineJoinStyle("round")
	c.setFont(Font{SizePt: 7})
	c.pdf.Bookmark(c.Clean(c.worded(name)), 0, 0)
}

// Write ends the file and writes it whole, or nothing where it failed.
func (c *Canvas) Write(w io.Writer) error {
	c.pdf.Close()
	if err := c.pdf.Error(); err != nil {
		return fmt.Errorf("writing the sheet: %w", err)
	}
	return c.pdf.Output(w)
}

// Clip confines what draw puts down to a rectangle.
func (c *Canvas) Clip(r plan.Rect, draw func()) {
	c.pdf.ClipRect(r.X, r.Y, r.W, r.H, false)
	c.fresh = true
	draw()
	c.pdf.ClipEnd()
	c.fresh = true
}

// Picture draws a picture over what is there, so that its white stays clear and its
// ink darkens: from the corner of its first pixel, along its first row to along, down
// its first column to down. The file holds it once, by its name.
func (c *Canvas) Picture(name, kind string, picture []byte, corner, along, down plan.Pt, opacity float64) {
	if !corner.Finite() || !along.Finite() || !down.Finite() {
		return
	}
	opt := fpdf.ImageOptions{ImageType: kind}
	if c.pdf.GetImageInfo(name) == nil {
		c.pdf.RegisterImageOptionsReader(name, opt, bytes.NewReader(picture))
	}
	_, heightMM := c.pdf.GetPageSize()
	k := c.pdf.GetConversionRatio()
	u, v := along.Sub(corner), down.Sub(corner)
	// The library draws it as a square millimetre at the page's upper left corner; in
	// points that count upwards, this brings that square to its place.
	c.pdf.TransformBegin()
	c.pdf.SetAlpha(opacity, "Multiply")
	c.pdf.Transform(fpdf.TransformMatrix{A: u.X, B: -u.Y, C: -v.X, D: v.Y,
		E: k * (corner.X + heightMM*v.X), F: k * (heightMM - corner.Y - heightMM*v.Y)})
	c.pdf.ImageOptions(name, 0, 0, 1, 1, false, opt, 0, "")
	c.pdf.TransformEnd()
	c.pdf.SetAlpha(1, "Normal")
	c.fresh = true
}
