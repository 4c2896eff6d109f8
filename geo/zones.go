package geo

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// zonesCSV holds the projected systems, one a row, with the parameters as the
// EPSG dataset v10.076 prints them; zones.sql says how it was made.
//
//go:embed zones.csv
var zonesCSV string

// zone is one row of zones.csv.
type zone struct {
	code, method int
	name         string
	base         int // EPSG code of the geographic system
	unit         string
	parameters   []float64 // degrees, metres, or a plain factor, in EPSG's order
	area         Area
	words        string // by which it is also searched
}

// zoneRows returns the rows of zones.csv.
func zoneRows() []string {
	_, rows, _ := strings.Cut(strings.TrimSuffix(zonesCSV, "\n"), "\n")
	return strings.Split(rows, "\n")
}

// findZone returns the zone with an EPSG code, and whether there is one.
func findZone(code int) (zone, bool) {
	key := "\n" + strconv.Itoa(code) + ","
	i := strings.Index(zonesCSV, key)
	if i < 0 {
		return zone{}, false
	}
	row, _, _ := strings.Cut(zonesCSV[i+1:], "\n")
	z, err := parseZone(row)
	if err != nil {
		panic(err) // a test reads every row
	}
	return z, true
}

func parseZone(row string) (zone, error) {
	f, err := csv.NewReader(strings.NewReader(row)).Read()
	if err != nil || len(f) != 18 {
		return zone{}, fmt.Errorf("zones.csv: %q: %v", row, err)
	}
	var z zone
	z.name, z.unit, z.area.Name, z.words = f[1], f[4], f[16], f[17]
	for _, c := range []struct {
		to   *int
		from string
	}{{&z.code, f[0]}, {&z.base, f[2]}, {&z.method, f[3]}} {
		if *c.to, err = strconv.Atoi(c.from); err != nil {
			return zone{}, fmt.Errorf("zones.csv: %q: %w", row, err)
		}
	}
	for _, p := range f[5:12] {
		if p == "" {
			continue
		}
		v, err := parseParameter(p)
		if err != nil {
			return zone{}, fmt.Errorf("zones.csv: %q: %w", row, err)
		}
		z.parameters = append(z.parameters, v)
	}
	for i, to := range []*float64{&z.area.WestDeg, &z.area.SouthDeg, &z.area.EastDeg, &z.area.NorthDeg} {
		if *to, err = strconv.ParseFloat(f[12+i], 64); err != nil {
			return zone{}, fmt.Errorf("zones.csv: %q: %w", row, err)
		}
	}
	return z, nil
}

// unitM holds the length units of zones.csv in metres.
var unitM = map[string]float64{"m": 1, "ft": FootM, "ftUS": USSurveyFootM}

// parseParameter reads a value and its unit, such as "40.1 dms" (40 degrees 10
// minutes, EPSG unit 9110), "0.9996 1" or "984250 ftUS".
func parseParameter(s string) (float64, error) {
	value, unit, _ := strings.Cut(s, " ")
	v, err := strconv.ParseFloat(value, 64)
	if err != nil {
		return 0, err
	}
	switch unit {
	case "1", "deg":
		return v, nil
	case "dms":
		return sexagesimal(value, v)
	}
	m, ok := unitM[unit]
	if !ok {
		return 0, fmt.Errorf("unknown unit %q", unit)
	}
	return v * m, nil
}

// sexagesimal reads ddd.mmssss by its digits: as a number, 41.02 is not quite 41
// degrees 2 minutes.
func sexagesimal(s string, v float64) (float64, error) {
	_, frac, _ := strings.Cut(s, ".")
	frac += "0000"
	minutes, err := strconv.ParseFloat(frac[:2], 64)
	if err != nil {
		return 0, err
	}
	seconds, err := strconv.ParseFloat(frac[2:4]+"."+frac[4:]+"0", 64)
	if err != nil {
		return 0, err
	}
	return math.Copysign(math.Trunc(math.Abs(v))+minutes/60+seconds/3600, v), nil
}

// project builds the zone's projection on an ellipsoid.
func (z zone) project(el Ellipsoid) (projection, error) {
	p := z.parameters
	want := map[int]int{1041: 7, 9801: 5, 9802: 6, 9807: 5, 9809: 5, 9810: 5, 9812: 7, 9815: 7, 9820: 4, 9829: 4}[z.method]
	if want == 0 || len(p) != want {
		return nil, fmt.Errorf("EPSG method %d with %d parameters", z.method, len(p))
	}
	switch z.method {
	case 1041:
		return newKrovak(el, p[0], p[1], p[2], p[3], p[4], p[5], p[6]), nil
	case 9809:
		return newObliqueStereographic(el, p[0], p[1], p[2], p[3], p[4]), nil
	case 9810:
		return newPolarA(el, p[0], p[1], p[2], p[3], p[4]), nil
	case 9820:
		return newEqualArea(el, p[0], p[1], p[2], p[3]), nil
	case 9829:
		return newPolarB(el, p[0], p[1], p[2], p[3]), nil
	case 9801:
		return newLambert1SP(el, p[0], p[1], p[2], p[3], p[4]), nil
	case 9802:
		return newLambert2SP(el, p[0], p[1], p[2], p[3], p[4], p[5]), nil
	case 9807:
		return newTransverseMercator(el, p[0], p[1], p[2], p[3], p[4]), nil
	}
	return newHotine(el, p[0], p[1], p[2], p[3], p[4], p[5], p[6], z.method == 9815), nil
}
