package page

import (
	"bytes"
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/siteplan"
	"loamline.example/trace/tracetest/study"
)

// inkAt is the middle of a colour on a screen, in pixels of it.
func inkAt(t *testing.T, tab *webtest.Tab, like func(r, g, b uint32) bool) geo.XY {
	t.Helper()
	return middleOf(t, tab.Screen(), like)
}

func middleOf(t *testing.T, p image.Image, like func(r, g, b uint32) bool) geo.XY {
	t.Helper()
	var sum geo.XY
	n := 0.0
	for y := p.Bounds().Min.Y; y < p.Bounds().Max.Y; y++ {
		for x := p.Bounds().Min.X; x < p.Bounds().Max.X; x++ {
			if r, g, b, _ := p.At(x, y).RGBA(); like(r>>8, g>>8, b>>8) {
				sum, n = sum.Add(geo.XY{X: float64(x) + 0.5, Y: float64(y) + 0.5}), n+1
			}
		}
	}
	if n < 20 {
		t.Fatalf("the ink is not seen: %g pixels of it", n)
	}
	return sum.Scale(1 / n)
}

func sitePlanInk(r, g, b uint32) bool { return r > 150 && g < 110 && b > 120 }

// A GeoTIFF that GDAL made of a turned picture: its mark is seen where GDAL says that
// it lies, to a pixel of the screen or 2 cm, with and without a background map's
// projection.
func TestSitePlanLiesWhereGDALHasIt(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	dir := t.TempDir()
	s := sample.Sheet()
	utm, err := geo.LookupCRS("EPSG:32619")
	if err != nil {
		t.Fatal(err)
	}
	e, n, err := utm.Project(s.Plane.LonLat(geo.XY{X: 2, Y: 26}))
	if err != nil {
		t.Fatal(err)
	}
	sin, cos := math.Sincos(9 * math.Pi / 180)
	world := fmt.Sprintf("%.12f\n%.12f\n%.12f\n%.12f\n%.4f\n%.4f\n", 0.05*cos, -0.05*sin, -0.05*sin, -0.05*cos, e, n)
	for name, text := range map[string]string{"plan.png": string(sample.SitePlanPicture()), "plan.pgw": world} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	tif := filepath.Join(dir, "plan.tif")
	gdal(t, "", "gdal_translate", "-q", "-a_srs", "EPSG:32619", "-co", "COMPRESS=LZW", "-co", "NBITS=8", filepath.Join(dir, "plan.png"), tif)
	var lon, lat, z float64
	if _, err := fmt.Sscan(gdal(t, fmt.Sprintf("%g %g\n", sample.SitePlanMark.X, sample.SitePlanMark.Y), "gdaltransform", "-t_srs", "OGC:CRS84", tif), &lon, &lat, &z); err != nil {
		t.Fatal(err)
	}
	mark := s.Plane.XY(geo.LonLat{LonDeg: lon, LatDeg: lat})
	bytes, err := os.ReadFile(tif)
	if err != nil {
		t.Fatal(err)
	}
	picture, err := siteplan.Read(t.Context(), siteplan.File{Name: "plan.tif", Bytes: bytes}, trace.UnderlaySetup{File: "plan.tif", Opacity: 1}, 2026.36)
	if err != nil {
		t.Fatal(err)
	}
	if s.Underlay, err = siteplan.Place(picture, s.Plane, []geo.XY{{X: 30}}, geo.Metric); err != nil {
		t.Fatal(err)
	}
	for name, opt := range map[string]Options{"plain": {}, "tiles": {Tiles: TileSource{URL: "http://127.0.0.1:9/{z}/{x}/{y}.png"}}} {
		file := filepath.Join(dir, name+".html")
		if err := os.WriteFile(file, makePage(t, "site-plan-"+name, s, opt), 0o644); err != nil {
			t.Fatal(err)
		}
		for _, ppm := range []float64{60, 12} {
			tab := b.Tab(t, 1440, 900, false)
			tab.Go("file://" + file)
			tab.Wait("window.loamline !== undefined && document.querySelector('.underlay image') !== null")
			want := webtest.Eval[[]float64](tab, fmt.Sprintf(`(() => { const m = loamline.plan.map;
				m.getPane('markerPane').style.display = 'none'; // no label covers the mark
				m.setView([%[1]g, %[2]g], m.getZoom() + Math.log2(%[3]g / loamline.plan.pixelsPerMetre()), {animate: false});
				const p = m.latLngToContainerPoint([%[1]g, %[2]g]), r = m.getContainer().getBoundingClientRect();
				return [r.left + m.getContainer().clientLeft + p.x, r.top + m.getContainer().clientTop + p.y, loamline.plan.pixelsPerMetre()]; })()`, mark.Y, mark.X, ppm))
			got := inkAt(t, tab, sitePlanInk)
			off := got.Dist(geo.XY{X: want[0], Y: want[1]})
			if off > 1 && off/want[2] > 0.02 {
				t.Errorf("%s at %g px a metre: the mark is seen at %v, %.2f px (%.3f m) off", name, want[2], got, off, off/want[2])
			}
			tab.Look(fmt.Sprintf("site-plan-%s-%g", name, ppm))
			tab.Close()
		}
	}
}

// gdal runs one of GDAL's programs, or skips the test where it is not installed.
func gdal(t *testing.T, in, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skip("GDAL is not installed (Debian: gdal-bin)")
	}
	c := exec.Command(name, args...)
	c.Stdin = strings.NewReader(in)
	var wrong bytes.Buffer
	c.Stderr = &wrong
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%s %q: %v\n%s", name, args, err, wrong.String())
	}
	return string(out)
}

// The page says what the site plan is worth, shows and hides it, and stays readable on
// a phone in both themes.
func TestSitePlanOnThePage(t *testing.T) {
	study.Only(t)
	t.Parallel()
	b := webtest.Open(t)
	s := sample.Sheet()
	s.Underlay = sample.SitePlan(9)
	s.Underlay.DoubtM, s.Underlay.DoubtWhy = 1.31, "its frame is not stated"
	for _, dark := range study.Some(1, false, true) {
		tab := openPage(t, b, "site-plan", s, 360, 740, dark)
		tab.Wait("document.querySelector('.underlay image') !== null")
		text := webtest.Eval[string](tab, "document.body.textContent")
		expect(t, text, "The site plan is only as well placed as its own geo-referencing. It changes no line, zone or finding.",
			"placed by its world file plan.pgw, in EPSG:32619", "It may lie 1.31 m off: its frame is not stated.", "It covers a part of the readings only.")
		tab.Look(fmt.Sprintf("site-plan-360-dark-%v", dark))
		if w := webtest.Eval[int](tab, "document.documentElement.scrollWidth"); w > 360 {
			t.Errorf("%d px wide", w)
		}
		tab.Audit(fmt.Sprintf("site plan, dark %v", dark))
		webtest.Eval[any](tab, "document.getElementById('under').click(); null")
		if webtest.Eval[bool](tab, "document.querySelector('.underlay') !== null || document.getElementById('under').getAttribute('aria-pressed') !== 'false'") {
			t.Error("the site plan stays")
		}
		webtest.Eval[any](tab, "document.getElementById('under').click(); null")
		tab.Wait("document.querySelector('.underlay image') !== null && document.getElementById('under').getAttribute('aria-pressed') === 'true'")
		quiet(t, tab)
		tab.Close()
	}
	if plain := string(makePage(t, "plain", sample.Sheet(), Options{})); strings.Contains(plain, `id="under"`) {
		t.Error("a page without a site plan has its button")
	}
}
