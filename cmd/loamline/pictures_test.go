package main

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"loamline.example/export/webtest"
)

const (
	exampleOut      = "../../examples/lantern-row/out/lantern-row"
	examplePictures = "../../examples/lantern-row/pictures"
)

// The README's pictures show the committed outputs of the example, and are remade
// from them with
//
//	go test ./cmd/loamline -run 'Examples|Pictures' -update
func TestPicturesOfTheSheets(t *testing.T) {
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("no poppler here")
	}
	for _, p := range []struct {
		name      string
		page, dpi int
	}{{"crew", 1, 64}, {"strip", 5, 64}} {
		made := filepath.Join(t.TempDir(), p.name)
		n := strconv.Itoa(p.page)
		if out, err := exec.Command(tool, "-r", strconv.Itoa(p.dpi), "-f", n, "-l", n, "-png", "-singlefile", exampleOut+".pdf", made).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		// Renderers smooth edges differently from release to release.
		samePicture(t, p.name, made+".png", 0.02)
	}
}

func TestBrowserPicturesOfThePage(t *testing.T) {
	b := webtest.Open(t)
	page, err := filepath.Abs(exampleOut + ".html")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	// The ticket of the example has lapsed, or not, by the day on which the test runs.
	const anyDay = "document.getElementById('late').hidden = true; "
	show := func(tab *webtest.Tab, look string) {
		tab.Go("file://" + page)
		tab.Wait("document.querySelector('button.show') && document.querySelector('#plan')")
		webtest.Eval[any](tab, "document.querySelector('button.show').click(); document.activeElement.blur(); "+anyDay+look+"; null")
		tab.Wait("document.querySelector('#figures')?.innerText.length > 20")
	}
	desk := b.Tab(t, 1440, 900, false)
	show(desk, "scrollTo(0, 0)")
	desk.Picture(filepath.Join(dir, "desk.png"))
	phone := b.Tab(t, 390, 800, true)
	show(phone, "document.querySelector('#plan').scrollIntoView()")
	phone.Picture(filepath.Join(dir, "phone.png"))
	for _, name := range []string{"desk", "phone"} {
		// So do browsers with letters.
		samePicture(t, name, filepath.Join(dir, name+".png"), 0.06)
	}
}

// samePicture compares a picture with the committed one, or takes its place.
func samePicture(t *testing.T, name, made string, most float64) {
	t.Helper()
	kept := filepath.Join(examplePictures, name+".png")
	if *update {
		b, err := os.ReadFile(made)
		if err == nil {
			err = os.WriteFile(kept, b, 0o666)
		}
		if err != nil {
			t.Fatal(err)
		}
		return
	}
	a, b := picture(t, kept), picture(t, made)
	if d := differing(a, b); d > most {
		t.Errorf("%s.png shows %.1f %% else than the committed example: remake it with -update and look at it", name, 100*d)
	}
}

func picture(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return img
}

// differing is the share of pixels that differ clearly in grey, 1 where the sizes
// do.
func differing(a, b image.Image) float64 {
	if a.Bounds().Size() != b.Bounds().Size() {
		return 1
	}
	grey := func(c color.Color) int { return int(color.GrayModel.Convert(c).(color.Gray).Y) }
	size := a.Bounds().Size()
	n := 0
	for y := range size.Y {
		for x := range size.X {
			if d := grey(a.At(x, y)) - grey(b.At(x, y)); d > 64 || d < -64 {
				n++
			}
		}
	}
	return float64(n) / float64(size.X*size.Y)
}
