package geo

import (
	"bytes"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// GDAL must read our text as the system that it knows under the code: the
// PROJ strings of both are the same (GDAL 3).
func TestWKTAgainstGDAL(t *testing.T) {
	var codes []int
	var texts []string // of each system its code and, without it, our text
	for _, code := range []int{4326, 6318, 4258, 32619, 32756, 26910, 6348, 2263, 2223, 2229, 2278, 2154, 27700, 26931, 3078, 25832, 28992, 2056, 31467, 31370, 5514, 3035, 3031, 5041, 2193, 6677, 7856, 2180, 3006} {
		c := mustCRS(t, "EPSG:"+strconv.Itoa(code))
		wkt := c.WKT()
		if wkt == "" {
			t.Errorf("EPSG:%d has no text", code)
			continue
		}
		// The code alone must not help it.
		bare := strings.TrimSuffix(wkt, `,AUTHORITY["EPSG","`+strconv.Itoa(code)+`"]]`) + "]"
		codes, texts = append(codes, code), append(texts, "EPSG:"+strconv.Itoa(code), bare)
	}
	read := systemsByGDAL(t, "ExportToProj4()", texts)
	for i, code := range codes {
		// A datum shift to WGS 84 is the code's, not the system's.
		want := withoutShift(read[2*i])
		if got := withoutShift(read[2*i+1]); !sameProj(got, want) {
			t.Errorf("EPSG:%d\ngot  %s\nwant %s\n%s", code, got, want, texts[2*i+1])
		}
	}
}

// systemsByGDAL is what GDAL exports, a line each, of reference systems that it is told
// by their codes or in well-known text: all at once, since to start GDAL takes longest.
// It skips the test where GDAL is not installed.
func systemsByGDAL(t *testing.T, export string, systems []string) []string {
	t.Helper()
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "from osgeo import osr").Run() != nil {
		t.Skip("GDAL is not installed for Python (Debian: python3-gdal): nothing is compared with it")
	}
	c := exec.Command(python, "-c", `
import sys
from osgeo import osr
osr.UseExceptions()
for line in sys.stdin:
    s = osr.SpatialReference()
    s.SetFromUserInput(line.strip())
    print(s.`+export+`)`)
	c.Stdin = strings.NewReader(strings.Join(systems, "\n"))
	var wrong bytes.Buffer
	c.Stderr = &wrong
	out, err := c.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, wrong.String())
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(systems) {
		t.Fatalf("GDAL tells of %d systems, not of %d", len(lines), len(systems))
	}
	return lines
}

func withoutShift(s string) string {
	var keep []string
	for _, f := range strings.Fields(s) {
		if !strings.HasPrefix(f, "+towgs84") && !strings.HasPrefix(f, "+datum=WGS84") && !strings.HasPrefix(f, "+ellps=WGS84") {
			keep = append(keep, strings.ReplaceAll(f, "+datum=NAD83", "+ellps=GRS80"))
		}
	}
	return strings.Join(keep, " ")
}

// sameProj compares term by term, numbers to 1e-9.
func sameProj(a, b string) bool {
	terms := func(s string) map[string]string {
		m := map[string]string{}
		for _, f := range strings.Fields(s) {
			k, v, _ := strings.Cut(f, "=")
			m[k] = v
		}
		return m
	}
	x, y := terms(a), terms(b)
	if len(x) != len(y) {
		return false
	}
	for k, v := range x {
		p, err1 := strconv.ParseFloat(v, 64)
		q, err2 := strconv.ParseFloat(y[k], 64)
		if err1 == nil && err2 == nil {
			if d := p - q; d > 1e-9*max(1, p) || -d > 1e-9*max(1, p) {
				return false
			}
		} else if v != y[k] {
			return false
		}
	}
	return true
}
