package siteplan

import (
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"loamline.example/geo"
)

// withSum sets the check sum of a PNG's header right.
func withSum(b []byte) []byte {
	sum := crc32.ChecksumIEEE(b[12:29])
	copy(b[29:], []byte{byte(sum >> 24), byte(sum >> 16), byte(sum >> 8), byte(sum)})
	return b
}

// byGDAL does what GDAL's programs do, one request a line: to start one of them for each
// of the sixty took half of the time of these tests.
const byGDAL = `
import json, sys
from osgeo import gdal
gdal.UseExceptions()
for line in sys.stdin:
    q = json.loads(line)
    try:
        if q["program"] == "gdal_translate":
            *options, source, target = q["args"]
            gdal.Translate(target, gdal.Open(source), options=options)
            print(json.dumps({}), flush=True)
        else:
            to = ["DST_SRS=" + q["to"]] if q["to"] else []
            ok, at = gdal.Transformer(gdal.Open(q["file"]), None, to).TransformPoint(0, q["at"][0], q["at"][1])
            if not ok:
                raise RuntimeError("no transformation")
            print(json.dumps({"at": at}), flush=True)
    except Exception as e:
        print(json.dumps({"wrong": str(e)}), flush=True)
`

// gdalRequest is what is asked of byGDAL: gdal_translate with its arguments, or where a
// pixel of a file lies, in its own system or another.
type gdalRequest struct {
	Program string     `json:"program"`
	Args    []string   `json:"args"`
	File    string     `json:"file"`
	To      string     `json:"to"`
	At      [2]float64 `json:"at"`
}

// startGDAL starts byGDAL for all tests of the program, which ends with it; nil where
// GDAL is not installed.
var startGDAL = sync.OnceValue(func() func(gdalRequest) ([]float64, error) {
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "from osgeo import gdal").Run() != nil {
		return nil
	}
	c := exec.Command(python, "-c", byGDAL)
	in, err := c.StdinPipe()
	if err != nil {
		panic(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		panic(err)
	}
	c.Stderr = os.Stderr
	if err := c.Start(); err != nil {
		panic(err)
	}
	ask, answers := json.NewEncoder(in), json.NewDecoder(out)
	return func(q gdalRequest) ([]float64, error) {
		var a struct {
			At    []float64 `json:"at"`
			Wrong string    `json:"wrong"`
		}
		if err := errors.Join(ask.Encode(q), answers.Decode(&a)); err != nil {
			return nil, err
		}
		if a.Wrong != "" {
			return nil, errors.New(a.Wrong)
		}
		return a.At, nil
	}
})

// gdal asks GDAL, or skips the test where it is not installed.
func gdal(t *testing.T, q gdalRequest) []float64 {
	t.Helper()
	ask := startGDAL()
	if ask == nil {
		t.Skip("GDAL is not installed for Python (Debian: python3-gdal)")
	}
	at, err := ask(q)
	if err != nil {
		t.Fatalf("%+v: %v", q, err)
	}
	return at
}

// gdalTranslate makes a file of another, as gdal_translate does.
func gdalTranslate(t *testing.T, args ...string) {
	t.Helper()
	gdal(t, gdalRequest{Program: "gdal_translate", Args: args})
}

// gdalPlace is where a pixel of a file lies by GDAL, in the file's own system or another.
func gdalPlace(t *testing.T, file, system string, col, row float64) (x, y float64) {
	t.Helper()
	at := gdal(t, gdalRequest{File: file, To: system, At: [2]float64{col, row}})
	return at[0], at[1]
}

const newYork = "EPSG:2263" // in US survey feet

// GeoTIFFs of every kind that is read, made by GDAL from a picture with a mark: the
// mark lies where GDAL itself says that its pixel lies, and its ink there.
func TestGeoTIFFsThatGDALMade(t *testing.T) {
	for name, c := range map[string]struct {
		turnDeg float64
		epsg    string
		options string
	}{
		"stripped":           {0, utm, ""},
		"turned":             {33, utm, ""}, // ModelTransformation in place of a scale
		"LZW":                {0, utm, "-co COMPRESS=LZW -co PREDICTOR=2"},
		"Deflate, tiled":     {-12, utm, "-co COMPRESS=DEFLATE -co TILED=YES -co BLOCKXSIZE=128 -co BLOCKYSIZE=128"},
		"grey":               {0, utm, "-b 1"},
		"palette, big end":   {0, utm, "-co ENDIANNESS=BIG -co COMPRESS=LZW -co NBITS=8"},
		"pixels are points":  {0, utm, "-mo AREA_OR_POINT=Point"},
		"turned and points":  {20, utm, "-mo AREA_OR_POINT=Point"},
		"with alpha":         {5, utm, "-co ALPHA=YES -b 1 -b 2 -b 3 -b mask"},
		"survey feet":        {0, newYork, ""},
		"degrees":            {0, "EPSG:4326", ""},
		"keys of GeoTIFF1.1": {0, utm, "-co GEOTIFF_VERSION=1.1"},
	} {
		dir := t.TempDir()
		const col, row = 311, 222
		picture := dot(480, 360, col, row)
		var source []byte
		if strings.HasPrefix(name, "palette") {
			source = pngOf(t, fewColours(picture))
		} else {
			source = pngOf(t, picture)
		}
		w := worldAt(0.04, c.turnDeg, -10, 8)
		if c.epsg == "EPSG:4326" {
			w.Text = fmt.Appendf(nil, "0.0000005\n0\n0\n-0.0000004\n%.9f\n%.9f\n", here.LonDeg-0.00012, here.LatDeg+0.00007)
		}
		if c.epsg == newYork {
			w.Text = []byte("0.25\n0\n0\n-0.25\n984250\n200000\n")
		}
		for file, b := range map[string][]byte{"plan.png": source, "plan.pgw": w.Text} {
			if err := os.WriteFile(filepath.Join(dir, file), b, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		tif := filepath.Join(dir, "plan.tif")
		args := append([]string{"-a_srs", c.epsg}, strings.Fields(c.options)...)
		gdalTranslate(t, append(args, filepath.Join(dir, "plan.png"), tif)...)
		b, err := os.ReadFile(tif)
		if err != nil {
			t.Fatal(err)
		}
		s := setup()
		s.CRS = "" // the keys say it
		g, err := Read(t.Context(), File{Name: "plan.tif", Bytes: b}, s, 2026)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if g.Frame.CRS.ID() != c.epsg {
			t.Errorf("%s: read as %s", name, g.Frame.CRS.ID())
		}
		// In its own system, before any frame: what GDAL says of the middle of the pixel.
		x, y := gdalPlace(t, tif, "", col+0.5, row+0.5)
		got, pixel := g.Figures.Apply(col+0.5, row+0.5), math.Sqrt(math.Abs(g.Figures.Det()))
		if got.Dist(geo.XY{X: x, Y: y}) > pixel/1000 {
			t.Errorf("%s: the mark at %.6f, %.6f, by GDAL at %.6f, %.6f", name, got.X, got.Y, x, y)
		}
		if c.epsg == newYork {
			continue
		}
		// On the ground, its ink.
		u, err := Place(g, geo.NewPlane(here), []geo.XY{{}}, geo.Metric)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if strings.HasPrefix(name, "grey") {
			continue // a mark of white on white
		}
		lon, lat := gdalPlace(t, tif, "OGC:CRS84", col+0.5, row+0.5)
		want, ink := geo.NewPlane(here).XY(geo.LonLat{LonDeg: lon, LatDeg: lat}), redAt(t, u)
		if off := u.Ground.Apply(ink.X, ink.Y).Dist(want); off > 0.005 {
			t.Errorf("%s: the ink of the mark lies %.4f m from where GDAL has it", name, off)
		}
	}
}

// A GeoTIFF whose own system is another than the job's, one that names none, one of 16
// bits and one with its place in control points are refused.
func TestGeoTIFFsThatAreRefused(t *testing.T) {
	dir := t.TempDir()
	png := filepath.Join(dir, "plan.png")
	if err := os.WriteFile(png, pngOf(t, dot(80, 60, 40, 30)), 0o644); err != nil {
		t.Fatal(err)
	}
	c, _ := geo.LookupCRS(utm)
	e, n, _ := c.Project(here)
	ullr := fmt.Sprintf("-a_ullr %.3f %.3f %.3f %.3f", e-4, n+3, e+4, n-3)
	lambert := "+proj=lcc +lat_1=43 +lat_2=45 +lat_0=44 +lon_0=-30 +datum=WGS84 +units=m"
	for name, c := range map[string]struct{ crs, args, srs, want string }{
		"another system": {"EPSG:32629", ullr, utm, "the job says that it is in EPSG:32629, and its own keys say EPSG:32625"},
		"described only": {"", ullr, lambert, "and not named by an EPSG number; state the system"},
		"16 bits":        {"", ullr + " -ot UInt16 -b 1", utm, "16 bits per sample"},
		"control points": {"", fmt.Sprintf("-gcp 0 0 %.2f %.2f -gcp 80 0 %.2f %.2f -gcp 80 60 %.2f %.2f -gcp 0 60 %.2f %.2f", e, n, e+8.5, n, e+8, n-6.5, e, n-6), utm, "it has 4 control points and no transformation"},
		"not known":      {"", ullr, "EPSG:5070", "EPSG:5070 is not among the systems that loamline converts"},
		"JPEG inside":    {"", ullr + " -co COMPRESS=JPEG", utm, "save it as PNG, or as TIFF with 8 bits per sample"},
	} {
		tif := filepath.Join(dir, "out.tif")
		args := append([]string{"-a_srs", c.srs}, strings.Fields(c.args)...)
		gdalTranslate(t, append(args, png, tif)...)
		b, err := os.ReadFile(tif)
		if err != nil {
			t.Fatal(err)
		}
		s := setup()
		s.CRS = c.crs
		if _, err = Read(t.Context(), File{Name: "plan.tif", Bytes: b}, s, 2026); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}
