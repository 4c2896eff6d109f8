package page

import (
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/export/webtest"
)

// tileOf is the tile that holds a place: "Slippy map tilenames", from the
// OpenStreetMap wiki, formula for longitude and latitude to tile numbers.
func tileOf(lonDeg, latDeg float64, z int) (x, y int) {
	n := math.Exp2(float64(z))
	lat := latDeg * math.Pi / 180
	return int(n * (lonDeg + 180) / 360), int(n * (1 - math.Asinh(math.Tan(lat))/math.Pi) / 2)
}

// With a tile source the page fetches from it alone, the tiles that lie under
// the job, and lines up with them.
func TestPageTiles(t *testing.T) {
	t.Parallel()
	b := webtest.Open(t)
	var mu sync.Mutex
	var got [][3]int
	path := regexp.MustCompile(`^/(\d+)/(\d+)/(\d+)\.png$`)
	tiles := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		m := path.FindStringSubmatch(r.URL.Path)
		if m == nil || r.Header.Get("Referer") != "" {
			t.Errorf("asked for %s, referrer %q", r.URL, r.Header.Get("Referer"))
			return
		}
		var zxy [3]int
		for i := range zxy {
			zxy[i], _ = strconv.Atoi(m[i+1])
		}
		mu.Lock()
		got = append(got, zxy)
		mu.Unlock()
		w.Header().Set("Content-Type", "image/svg+xml")
		fmt.Fprint(w, `<svg xmlns="http://www.w3.org/2000/svg" width="256" height="256"><rect width="256" height="256" fill="#ddd" stroke="#888"/></svg>`)
	}))
	defer tiles.Close()

	s := sample.Sheet()
	file := filepath.Join(t.TempDir(), "tiles.html")
	page := makePage(t, "tiles", s, Options{Tiles: TileSource{URL: tiles.URL + "/{z}/{x}/{y}.png", Attribution: "an invented source"}})
	if err := os.WriteFile(file, page, 0o644); err != nil {
		t.Fatal(err)
	}
	tab := b.Tab(t, 1440, 900, false)
	tab.Go("file://" + file)
	tab.Wait("document.querySelectorAll('img.leaflet-tile-loaded').length > 0")
	tab.Look("tiles-1440")
	mu.Lock()
	defer mu.Unlock()
	o := s.Plane.Origin()
	for _, zxy := range got {
		x, y := tileOf(o.LonDeg, o.LatDeg, zxy[0])
		if zxy[0] != 19 || abs(zxy[1]-x) > 6 || abs(zxy[2]-y) > 6 {
			t.Errorf("tile %v is not near the job's, %d/%d/%d", zxy, zxy[0], x, y)
		}
	}
	// The tile that holds the origin lies under it on the screen.
	x, y := tileOf(o.LonDeg, o.LatDeg, 19)
	off := webtest.Eval[[]float64](tab, fmt.Sprintf(`(() => { const i = [...document.querySelectorAll('img.leaflet-tile')].find(i => i.src.endsWith('/19/%d/%d.png')).getBoundingClientRect(),
		m = loamline.plan.map, r = m.getContainer().getBoundingClientRect(), p = m.latLngToContainerPoint([0, 0]);
		return [(r.left + p.x - i.left) / i.width, (r.top + p.y - i.top) / i.height]; })()`, x, y))
	n := math.Exp2(19)
	lat := o.LatDeg * math.Pi / 180
	wantX, wantY := n*(o.LonDeg+180)/360-float64(x), n*(1-math.Asinh(math.Tan(lat))/math.Pi)/2-float64(y)
	if math.Abs(off[0]-wantX) > 0.01 || math.Abs(off[1]-wantY) > 0.01 {
		t.Errorf("the origin lies at %.3f, %.3f of its tile, want %.3f, %.3f", off[0], off[1], wantX, wantY)
	}
	if asked := tab.Asked("file://", "data:", tiles.URL+"/"); len(asked) > 0 {
		t.Errorf("asked elsewhere: %q", asked)
	}
	for _, trouble := range tab.Troubles() {
		t.Error(trouble)
	}
}

func abs(v int) int { return max(v, -v) }
