package siteplan

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"loamline.example/geo"
	"loamline.example/trace"
)

// The place of these tests, in open ocean, and pictures of it in UTM zone 25N.
var here = geo.LonLat{LonDeg: -30.5, LatDeg: 44.1}

const utm = "EPSG:32625"

// dot is a mark of red on a white picture, with its centre in the middle of a pixel.
func dot(w, h, col, row int) *image.RGBA {
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{255, 255, 255, 255}
			if dx, dy := x-col, y-row; dx*dx+dy*dy <= 36 {
				c = color.RGBA{220, 0, 0, 255}
			}
			p.SetRGBA(x, y, c)
		}
	}
	return p
}

func pngOf(t testing.TB, p image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// worldAt is a world file of pixels of a size, turned, whose first pixel's centre is
// so far east and north of here.
func worldAt(pixelM, turnDeg, eastM, northM float64) World {
	c, _ := geo.LookupCRS(utm)
	e, n, _ := c.Project(here)
	sin, cos := math.Sincos(turnDeg * math.Pi / 180)
	return World{"plan.pgw", fmt.Appendf(nil, "%.12f\n%.12f\n%.12f\n%.12f\n%.6f\n%.6f\n",
		pixelM*cos, -pixelM*sin, -pixelM*sin, -pixelM*cos, e+eastM, n+northM)}
}

func setup() trace.UnderlaySetup {
	return trace.UnderlaySetup{File: "plan.png", CRS: utm, Opacity: 0.5}
}

func mustPlace(t *testing.T, f File, s trace.UnderlaySetup, places ...geo.XY) *trace.Underlay {
	t.Helper()
	g, err := Read(t.Context(), f, s, 2026)
	if err != nil {
		t.Fatal(err)
	}
	u, err := Place(g, geo.NewPlane(here), places, geo.Metric)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// redAt is the middle of the red ink of a picture, in columns and rows from the outer
// corner.
func redAt(t *testing.T, u *trace.Underlay) geo.XY {
	t.Helper()
	p, _, err := image.Decode(bytes.NewReader(u.Picture))
	if err != nil {
		t.Fatal(err)
	}
	return redIn(t, p)
}

// redIn is the middle of the red ink, each pixel as heavy as it is red.
func redIn(t *testing.T, p image.Image) geo.XY {
	t.Helper()
	var sum geo.XY
	n := 0.0
	for y := range p.Bounds().Dy() {
		for x := range p.Bounds().Dx() {
			if r, g, _, _ := p.At(p.Bounds().Min.X+x, p.Bounds().Min.Y+y).RGBA(); r > 0x8000 && g < 0xf000 {
				w := float64(r - min(r, g))
				sum, n = sum.Add(geo.XY{X: float64(x) + 0.5, Y: float64(y) + 0.5}.Scale(w)), n+w
			}
		}
	}
	if n == 0 {
		t.Fatal("the mark is not on the picture")
	}
	return sum.Scale(1 / n)
}

// A world file's last two figures are those of the first pixel's centre, not of its
// corner: with pixels of 2 m, the difference is a metre.
func TestWorldFileCountsFromThePixelsCentre(t *testing.T) {
	f := File{Name: "plan.png", Bytes: pngOf(t, dot(40, 30, 0, 0)), Worlds: []World{worldAt(2, 0, -20, 10)}}
	u := mustPlace(t, f, setup(), geo.XY{})
	c, _ := geo.LookupCRS(utm)
	e, n, _ := c.Project(here)
	ll, _ := c.Unproject(e-20, n+10)
	want := geo.NewPlane(here).XY(ll)
	if got := u.Ground.Apply(0.5, 0.5); got.Dist(want) > 0.01 {
		t.Errorf("the first pixel's centre lies at %v, want %v", got, want)
	}
	if math.Abs(u.PixelM-2) > 0.002 { // the zone's scale there
		t.Errorf("a pixel of %g m, want 2", u.PixelM)
	}
}

// A large picture is cut to the surroundings of the readings and made coarser, and the
// mark on it stays where it was.
func TestLargePicturesAreCutAndMadeCoarser(t *testing.T) {
	p := dot(7000, 5000, 3000, 2000)
	for i := range 256 { // more colours than a palette takes
		for k := range 4 {
			p.SetRGBA(2000+4*i+k, 1200, color.RGBA{uint8(i), 255, uint8(255 - i), 255})
		}
	}
	f := File{Name: "plan.png", Bytes: pngOf(t, p), Worlds: []World{worldAt(0.05, 30, -180, 120)}}
	c, _ := geo.LookupCRS(utm)
	e, n, _ := c.Project(here)
	sin, cos := math.Sincos(30 * math.Pi / 180)
	ll, err := c.Unproject(e-180+0.05*(3000*cos-2000*sin), n+120-0.05*(3000*sin+2000*cos))
	if err != nil {
		t.Fatal(err)
	}
	mark := geo.NewPlane(here).XY(ll)
	u := mustPlace(t, f, setup(), mark.Add(geo.XY{X: 3}), mark.Add(geo.XY{X: 500}))
	if u.Width*u.Height > drawnPixels || len(u.Picture) > drawnBytes {
		t.Errorf("%d × %d pixels in %d bytes", u.Width, u.Height, len(u.Picture))
	}
	if u.PixelM < 0.099 || math.Abs(u.OwnPixelM-0.05) > 1e-4 {
		t.Errorf("drawn at %g m a pixel, its own %g", u.PixelM, u.OwnPixelM)
	}
	if !u.Cut || u.Covered != 1 || u.Places != 2 {
		t.Errorf("cut %v, %d of %d places", u.Cut, u.Covered, u.Places)
	}
	at := redAt(t, u)
	if off := u.Ground.Apply(at.X, at.Y).Dist(mark); off > 0.02+0.05 {
		t.Errorf("the mark lies %.3f m off", off)
	}
}

func TestSameBytes(t *testing.T) {
	f := File{Name: "plan.png", Bytes: pngOf(t, dot(900, 700, 400, 300)), Worlds: []World{worldAt(0.1, 7, -40, 30)}}
	a, b := mustPlace(t, f, setup(), geo.XY{}), mustPlace(t, f, setup(), geo.XY{})
	if !bytes.Equal(a.Picture, b.Picture) || a.Ground != b.Ground {
		t.Error("the same picture comes out differently")
	}
	if a.MIME != "image/png" || len(a.Picture) > len(f.Bytes)+200 {
		t.Errorf("%s of %d bytes from %d", a.MIME, len(a.Picture), len(f.Bytes))
	}
}

// What is refused, and what is said of it.
func TestRefusals(t *testing.T) {
	plain := pngOf(t, dot(400, 300, 200, 150))
	world := worldAt(0.1, 0, -20, 15)
	var photo bytes.Buffer
	if err := jpeg.Encode(&photo, dot(400, 300, 200, 150), nil); err != nil {
		t.Fatal(err)
	}
	text := func(lines ...string) World { return World{"plan.pgw", []byte(strings.Join(lines, "\n"))} }
	other := func(s trace.UnderlaySetup, crs string) trace.UnderlaySetup { s.CRS = crs; return s }
	huge := pngOf(t, image.NewGray(image.Rect(0, 0, 1, 1)))
	copy(huge[16:], []byte{0, 0, 0x80, 0, 0, 0, 0x80, 0}) // width and height of the header: its sum is wrong then
	for name, c := range map[string]struct {
		f    File
		s    trace.UnderlaySetup
		want string
	}{
		"no PDF":             {File{"plan.pdf", []byte("%PDF-1.7\n"), nil}, setup(), "the PDF cannot be read: it has no table of objects"},
		"no picture":         {File{"plan.png", []byte("hello"), nil}, setup(), "this is not a picture that can be read"},
		"BigTIFF":            {File{"plan.tif", []byte("II+\x00\x08\x00\x00\x00"), nil}, setup(), "BigTIFF"},
		"too large":          {File{"plan.png", withSum(huge), []World{world}}, setup(), "32768 × 32768 pixels, more than 64 million"},
		"no world file":      {File{"plan.png", plain, nil}, setup(), "nothing says where on the ground it lies"},
		"no system":          {File{"plan.png", plain, []World{world}}, other(setup(), ""), "nothing says which reference system its figures are in; state the system"},
		"five lines":         {File{"plan.png", plain, []World{text("0.1", "0", "0", "-0.1", "500000")}}, setup(), "plan.pgw: underlay: there are only 5 figures"},
		"seven lines":        {File{"plan.png", plain, []World{text("0.1", "0", "0", "-0.1", "500000", "4", "4")}}, setup(), "plan.pgw:7: underlay: there are more than six figures"},
		"decimal comma":      {File{"plan.png", plain, []World{text("0,1", "0", "0", "-0.1", "500000", "4")}}, setup(), `plan.pgw:1: underlay: "0,1" is not a number, where the size of a pixel along a row is expected; write the figure with a decimal point`},
		"mirrored":           {File{"plan.png", plain, []World{text("0.1", "0", "0", "0.1", "500000", "4000000")}}, setup(), "as in a mirror"},
		"squeezed":           {File{"plan.png", plain, []World{text("0.1", "0", "0", "0", "500000", "4000000")}}, setup(), "squeezes it to a line"},
		"two world files":    {File{"plan.png", plain, []World{world, {"plan.wld", worldAt(0.1, 0, -20, 15.5).Text}}}, setup(), "its world file plan.pgw and its world file plan.wld place it differently, by 5 pixels"},
		"metres for degrees": {File{"plan.png", plain, []World{world}}, other(setup(), "EPSG:4326"), "is not a longitude and latitude"},
		"half a mile off":    {File{"plan.png", plain, []World{worldAt(0.1, 0, -20, 915)}}, setup(), "its nearest edge is 885.0 m to the north of them"},
		"miles off":          {File{"plan.png", plain, []World{worldAt(0.1, 0, -5000, -5000)}}, setup(), "km to the south-west of them"},
		"another zone":       {File{"plan.jpg", photo.Bytes(), []World{world}}, other(setup(), "EPSG:32626"), "EPSG:32626 is not meant for the place of the readings"},
	} {
		g, err := Read(t.Context(), c.f, c.s, 2026)
		if err == nil {
			_, err = Place(g, geo.NewPlane(here), []geo.XY{{}}, geo.Metric)
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// A picture in degrees over a country bends too much to be drawn flat; the part about
// the readings does not.
func TestWhatBendsTooMuchIsRefused(t *testing.T) {
	degrees := func(step float64) File {
		return File{"plan.png", pngOf(t, dot(1000, 1000, 500, 500)), []World{{"plan.pgw",
			fmt.Appendf(nil, "%.12f\n0\n0\n%.12f\n%.9f\n%.9f\n", step, -step, here.LonDeg-500*step, here.LatDeg+500*step)}}}
	}
	s := setup()
	s.CRS = "EPSG:4326"
	far := []geo.XY{{X: -20000, Y: -20000}, {}, {X: 20000, Y: 20000}}
	g, err := Read(t.Context(), degrees(0.0006), s, 2026)
	if err != nil {
		t.Fatal(err)
	}
	if _, err = Place(g, geo.NewPlane(here), far, geo.Metric); err == nil || !strings.Contains(err.Error(), "more than 10.0 cm: EPSG:4326 bends too much") {
		t.Errorf("%v", err)
	}
	u, err := Place(g, geo.NewPlane(here), far[1:2], geo.Metric)
	if err != nil || u.ResidualM > 0.01 {
		t.Errorf("left %v, %v", u, err)
	}
}

// No usable place: there is nothing that the picture could be held against.
func TestNoPlaces(t *testing.T) {
	g, err := Read(t.Context(), File{"plan.png", pngOf(t, dot(9, 9, 4, 4)), []World{worldAt(1, 0, 0, 0)}}, setup(), 2026)
	if err != nil {
		t.Fatal(err)
	}
	if u, err := Place(g, geo.NewPlane(here), nil, geo.Metric); u != nil || err != nil {
		t.Error(u, err)
	}
}

// Keys that give figures in another unit than their system's are not believed.
func TestUnitsThatContradictTheirSystem(t *testing.T) {
	s := setup()
	s.CRS = ""
	if _, err := frame("plan.tif", s, geoTags{code: 2263, units: 9003}, 2026); err != nil {
		t.Error(err)
	}
	_, err := frame("plan.tif", s, geoTags{code: 2263, units: 9001}, 2026)
	if err == nil || !strings.Contains(err.Error(), "its keys say that its figures are in metres, and EPSG:2263") {
		t.Error(err)
	}
}

// The page on the job file says how much is read.
func TestPageSaysHowMuchIsRead(t *testing.T) {
	text, err := os.ReadFile("../../examples/job-file.md")
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("At most %d MB and %d million pixels are read", MaxBytes>>20, maxPixels/1_000_000); !strings.Contains(string(text), want) {
		t.Errorf("the page does not say %q", want)
	}
}

// What is drawn of a plan is the part within 100 m of the readings, as the page on the job file says.
func TestPartOfAPlanThatIsDrawn(t *testing.T) {
	u := mustPlace(t, File{"plan.png", pngOf(t, dot(400, 400, 10, 10)), []World{worldAt(1, 0, -200, 200)}}, setup(), geo.XY{})
	for _, side := range []float64{math.Hypot(u.Ground.A, u.Ground.D) * float64(u.Width), math.Hypot(u.Ground.B, u.Ground.E) * float64(u.Height)} {
		// The plan's grid is turned by 1.7° from the plane's, so that a little more is in it.
		if side < 199 || side > 212 {
			t.Errorf("%.1f m are drawn of a side, want 200 and a little: %+v", side, u.Ground)
		}
	}
}

// Whatever a file holds, reading it ends, with a picture or with words.
func FuzzReadSitePlan(f *testing.F) {
	plain := pngOf(f, dot(30, 20, 10, 10))
	f.Add(plain, worldAt(0.1, 0, -1, 1).Text)
	f.Add(plain[:60], []byte("1\n0\n0\n-1\n5"))
	var tif bytes.Buffer
	if err := tiff.Encode(&tif, dot(30, 20, 10, 10), nil); err != nil {
		f.Fatal(err)
	}
	f.Add(tif.Bytes(), []byte{})
	f.Add([]byte("II*\x00\x08\x00\x00\x00\x01\x00\xaf\x87\x03\x00\x04\x00\x00\x00\x1a\x00\x00\x00\x00\x00\x00\x00\x01\x00\x01\x00\x00\x00\xff\xff"), []byte{})
	f.Fuzz(func(t *testing.T, picture, world []byte) {
		in := File{Name: "plan.tif", Bytes: picture}
		if len(world) > 0 {
			in.Worlds = []World{{"plan.tfw", world}}
		}
		if c, _, err := image.DecodeConfig(bytes.NewReader(picture)); err == nil && c.Width*c.Height > 1_000_000 {
			t.Skip("large pictures are another test's")
		}
		g, err := Read(t.Context(), in, setup(), 2026)
		if err != nil {
			return
		}
		u, err := Place(g, geo.NewPlane(here), []geo.XY{{}}, geo.Metric)
		if err != nil {
			return
		}
		if !u.Ground.Finite() || u.Width < 1 || u.Height < 1 || !(u.ResidualM <= maxResidualM) {
			t.Errorf("%+v", u)
		}
	})
}

// What has more colours than a palette takes is drawn as a photograph where that is
// smaller, and in greys where it has no others.
func TestPhotographs(t *testing.T) {
	p, grey := image.NewRGBA(image.Rect(0, 0, 600, 400)), image.NewRGBA(image.Rect(0, 0, 600, 400))
	seed := uint32(1)
	for y := range 400 {
		for x := range 600 {
			seed = seed*1664525 + 1013904223
			noise := uint8(seed >> 28)
			p.SetRGBA(x, y, color.RGBA{uint8(x/4) + noise, uint8(y/2) + noise, 90 + noise, 255})
			v := uint8(x/4+y/4) + noise
			grey.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	for name, c := range map[string]struct {
		picture image.Image
		mime    string
	}{"photograph": {p, "image/jpeg"}, "greys": {grey, "image/png"}} {
		u := mustPlace(t, File{Name: "plan.png", Bytes: pngOf(t, c.picture), Worlds: []World{worldAt(0.1, 0, -30, 20)}}, setup(), geo.XY{})
		out, kind, err := image.Decode(bytes.NewReader(u.Picture))
		if err != nil || "image/"+kind != u.MIME || u.MIME != c.mime {
			t.Errorf("%s: %s, %v", name, u.MIME, err)
			continue
		}
		if _, isGrey := out.ColorModel().(color.Palette); name == "greys" && !isGrey {
			t.Errorf("greys come out as %T", out)
		}
	}
}
