package pdfpage

import (
	"context"
	"errors"
	"fmt"
	"testing"
)

// sheet is a PDF of one page of 100 × 60 points, with objects from number 4 on.
func sheet(contents, resources string, more ...string) []byte {
	out := []byte("%PDF-1.4\n")
	table := "xref\n0 1\n0000000000 65535 f \n"
	objects := append([]string{"<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [ 3 0 R ] /Count 1 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [ 0 0 100 60 ] /Contents 4 0 R /Resources << " + resources + " >> >>",
		fmt.Sprintf("<< /Length %d >>\nstream\n%s\nendstream", len(contents), contents)}, more...)
	for i, o := range objects {
		table += fmt.Sprintf("%d 1\n%010d 00000 n \n", i+1, len(out))
		out = fmt.Appendf(out, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	return fmt.Appendf(out, "%strailer << /Root 1 0 R /Size %d >>\nstartxref\n%d\n%%%%EOF\n", table, len(objects)+1, len(out))
}

// Strokes and fills come to lie where ISO 32000-2, 8.3 has them: from the lower left
// corner, on white.
func TestDraw(t *testing.T) {
	d, err := Draw(t.Context(), sheet("1 0 0 rg 10 40 20 10 re f", ""), 0, 200, 120)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		x, y    int
		r, g, b uint8
	}{{40, 30, 255, 0, 0}, {21, 21, 255, 0, 0}, {58, 38, 255, 0, 0}, {18, 30, 255, 255, 255}, {40, 42, 255, 255, 255}, {199, 119, 255, 255, 255}} {
		if got := d.Picture.RGBAAt(c.x, c.y); got.R != c.r || got.G != c.g || got.B != c.b || got.A != 255 {
			t.Errorf("at %d, %d: %v", c.x, c.y, got)
		}
	}
	if d.Box != [4]float64{0, 0, 100, 60} || d.Turns != 0 {
		t.Error(d.Box, d.Turns)
	}
}

// What is no drawing, or would need more than there is, is an error or an empty place,
// and never the end of the program.
func TestHostilePages(t *testing.T) {
	within := func(v string) string { return "/XObject << /X " + v + " >>" }
	for name, c := range map[string]struct {
		b    []byte
		page int
		ends bool // in an error
	}{
		"noise":             {[]byte("%PDF-1.4\n\x00\x01\x02 startxref 3"), 0, true},
		"nothing":           {nil, 0, true},
		"no such page":      {sheet("", ""), 5, true},
		"half an operator":  {sheet("1 0 0 rg 10 40 20 re q q q [ (", ""), 0, false},
		"form in itself":    {sheet("/X Do", within("5 0 R"), "<< /Subtype /Form /BBox [ 0 0 9 9 ] /Resources << /XObject << /X 5 0 R >> >> /Length 12 >>\nstream\n/X Do 1 0 0 rg\nendstream"), 0, false},
		"image of terabyte": {sheet("/X Do", within("5 0 R"), "<< /Subtype /Image /Width 1000000 /Height 1000000 /ColorSpace /DeviceRGB /BitsPerComponent 8 /Length 3 >>\nstream\nabc\nendstream"), 0, false},
	} {
		if _, err := Draw(t.Context(), c.b, c.page, 200, 120); (err != nil) != c.ends {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Draw(t.Context(), sheet("", ""), 0, 40_000, 40_000); err == nil {
		t.Error("a picture of 6 GB is drawn in one")
	}
}

// A job that is stopped draws nothing more, and its cause comes out.
func TestStoppedDrawing(t *testing.T) {
	enough := errors.New("enough")
	ctx, stop := context.WithCancelCause(t.Context())
	stop(enough)
	if _, err := Draw(ctx, sheet("", ""), 0, 10, 10); !errors.Is(err, enough) {
		t.Error(err)
	}
}
