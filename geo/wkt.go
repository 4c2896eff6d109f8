package geo

import (
	"fmt"
	"strconv"
	"strings"
)

// WKT describes the system in well-known text of OGC 01-009, which GeoPackage
// wants beside the code. It is empty where the system's parameters are not held
// here, as with PROJ's.
func (c CRS) WKT() string {
	if c.Geographic() {
		return c.geographicWKT(c.Code, c.Name)
	}
	z, ok := findZone(c.Code)
	if !ok {
		if z, ok = utmZone(c); !ok {
			return ""
		}
	}
	base, ok := geographicCRS(z.base)
	method := wktMethods[z.method]
	if !ok || method.name == "" || len(method.parameters) != len(z.parameters) {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, `PROJCS[%q,%s,PROJECTION[%q]`, c.Name, base.geographicWKT(base.Code, base.Name), method.name)
	for i, name := range method.parameters {
		v := z.parameters[i]
		if strings.HasPrefix(name, "false_") {
			v /= c.UnitM
		}
		fmt.Fprintf(&b, `,PARAMETER[%q,%s]`, name, strconv.FormatFloat(v, 'g', 15, 64))
	}
	unit := wktUnits[c.Unit]
	fmt.Fprintf(&b, `,UNIT[%q,%s,AUTHORITY["EPSG","%d"]],AXIS["Easting",EAST],AXIS["Northing",NORTH],AUTHORITY["EPSG","%d"]]`,
		unit.name, strconv.FormatFloat(c.UnitM, 'g', 16, 64), unit.code, c.Code)
	return b.String()
}

// geographicWKT describes the geographic system of the same frame.
func (c CRS) geographicWKT(code int, name string) string {
	d, err := LookupDatum(c.Datum)
	if err != nil {
		return ""
	}
	return fmt.Sprintf(`GEOGCS[%q,DATUM[%q,SPHEROID[%q,%s,%s]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],`+
		`UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","%d"]]`,
		name, wktDatum(name), wktSpheroid(d.Ellipsoid), strconv.FormatFloat(d.Ellipsoid.SemiMajorM, 'g', -1, 64),
		strconv.FormatFloat(d.Ellipsoid.InverseFlattening, 'g', -1, 64), code)
}

// wktDatum is a name without blanks, as datum names are written.
func wktDatum(name string) string {
	if name == "WGS 84" {
		return "WGS_1984"
	}
	return strings.Trim(strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' {
			return r
		}
		return '_'
	}, name), "_")
}

func wktSpheroid(el Ellipsoid) string {
	switch el {
	case WGS84Ellipsoid:
		return "WGS 84"
	case GRS80Ellipsoid:
		return "GRS 1980"
	case Airy1830:
		return "Airy 1830"
	case Bessel1841:
		return "Bessel 1841"
	case International1924:
		return "International 1924"
	}
	return "unnamed"
}

// utmZone is a UTM zone of WGS 84 in the form of zones.csv.
func utmZone(c CRS) (zone, bool) {
	n, northM := c.Code-32600, 0.0
	if c.Code > 32700 {
		n, northM = c.Code-32700, 10000000
	}
	if n < 1 || n > 60 {
		return zone{}, false
	}
	return zone{code: c.Code, method: 9807, base: 4326, parameters: []float64{0, float64(6*n - 183), 0.9996, 500000, northM}}, true
}

// wktMethods names the methods of zones.csv and their parameters, in EPSG's
// order, as OGC 01-009 has them.
var wktMethods = map[int]struct {
	name       string
	parameters []string
}{
	1041: {"Krovak", []string{"latitude_of_center", "longitude_of_center", "azimuth", "pseudo_standard_parallel_1", "scale_factor", "false_easting", "false_northing"}},
	9801: {"Lambert_Conformal_Conic_1SP", []string{"latitude_of_origin", "central_meridian", "scale_factor", "false_easting", "false_northing"}},
	9802: {"Lambert_Conformal_Conic_2SP", []string{"latitude_of_origin", "central_meridian", "standard_parallel_1", "standard_parallel_2", "false_easting", "false_northing"}},
	9807: {"Transverse_Mercator", []string{"latitude_of_origin", "central_meridian", "scale_factor", "false_easting", "false_northing"}},
	9809: {"Oblique_Stereographic", []string{"latitude_of_origin", "central_meridian", "scale_factor", "false_easting", "false_northing"}},
	9810: {"Polar_Stereographic", []string{"latitude_of_origin", "central_meridian", "scale_factor", "false_easting", "false_northing"}},
	9812: {"Hotine_Oblique_Mercator", []string{"latitude_of_center", "longitude_of_center", "azimuth", "rectified_grid_angle", "scale_factor", "false_easting", "false_northing"}},
	9815: {"Hotine_Oblique_Mercator_Azimuth_Center", []string{"latitude_of_center", "longitude_of_center", "azimuth", "rectified_grid_angle", "scale_factor", "false_easting", "false_northing"}},
	9820: {"Lambert_Azimuthal_Equal_Area", []string{"latitude_of_center", "longitude_of_center", "false_easting", "false_northing"}},
	9829: {"Polar_Stereographic", []string{"latitude_of_origin", "central_meridian", "false_easting", "false_northing"}},
}

var wktUnits = map[string]struct {
	name string
	code int
}{"m": {"metre", 9001}, "ft": {"foot", 9002}, "ftUS": {"US survey foot", 9003}}
