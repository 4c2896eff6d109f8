package pdf

import (
	"bytes"
	"encoding/xml"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"loamline.example/trace"
)

// pdfBytes writes a sheet and fails the test where it cannot.
func pdfBytes(t *testing.T, s *trace.Sheet, opt Options) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, opt); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// poppler runs one of the poppler tools on a file, or skips where it is not
// installed.
func poppler(t *testing.T, tool string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(tool)
	if err != nil {
		t.Skipf("%s is not installed: the rendered sheet is not checked", tool)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", tool, strings.Join(args, " "), err, out)
	}
	return string(out)
}

func pdfFile(t *testing.T, b []byte) string {
	t.Helper()
	f := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(f, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return f
}

// render draws one page as a picture.
func render(t *testing.T, file string, page, dpi int) image.Image {
	t.Helper()
	out := filepath.Join(t.TempDir(), "page")
	n, r := strconv.Itoa(page), strconv.Itoa(dpi)
	poppler(t, "pdftoppm", "-r", r, "-f", n, "-l", n, "-png", "-singlefile", file, out)
	return picture(t, out+".png")
}

// picture reads a PNG file.
func picture(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// word is a word on a page, in millimetres.
type word struct {
	text           string
	x0, y0, x1, y1 float64
}

// pdfWords reads where poppler finds the words of every page.
func pdfWords(t *testing.T, file string) [][]word {
	t.Helper()
	out := filepath.Join(t.TempDir(), "words.html")
	poppler(t, "pdftotext", "-bbox", file, out)
	f, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	dec := xml.NewDecoder(f)
	dec.Strict = false
	var pages [][]word
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return pages
		}
		if err != nil {
			t.Fatal(err)
		}
		el, ok := tok.(xml.StartElement)
		switch {
		case ok && el.Name.Local == "page":
			pages = append(pages, nil)
		case ok && el.Name.Local == "word":
			w := word{}
			for _, a := range el.Attr {
				v, _ := strconv.ParseFloat(a.Value, 64)
				v *= 25.4 / 72
				switch a.Name.Local {
				case "xMin":
					w.x0 = v
				case "xMax":
					w.x1 = v
				case "yMin":
					w.y0 = v
				case "yMax":
					w.y1 = v
				}
			}
			if err := dec.DecodeElement(&w.text, &el); err != nil {
				t.Fatal(err)
			}
			pages[len(pages)-1] = append(pages[len(pages)-1], w)
		}
	}
}

// ofTheSet are the pages of the plan and profile set alone.
func ofTheSet(pages [][]word) [][]word {
	for i, p := range pages {
		if len(p) > 1 && p[0].text == "STAKE-OUT" {
			return pages[:i]
		}
	}
	return pages
}

// over reports whether two words run over each other.
func (a word) over(b word) bool {
	w, h := math.Min(a.x1, b.x1)-math.Max(a.x0, b.x0), math.Min(a.y1, b.y1)-math.Max(a.y0, b.y0)
	small := math.Min((a.x1-a.x0)*(a.y1-a.y0), (b.x1-b.x0)*(b.y1-b.y0))
	return w > 0 && h > 0 && w*h > 0.25*small
}

func gray(c color.Color) int {
	return int(color.GrayModel.Convert(c).(color.Gray).Y)
}
