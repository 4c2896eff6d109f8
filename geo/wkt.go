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

// PRJ describes the system in the dialect of well-known text that a Shapefile's .prj
// is in: frames are named D_…, and there are no codes. FromWKT reads it back. It is
// empty where WKT is.
func (c CRS) PRJ() string {
	text := c.WKT()
	if text == "" {
		return ""
	}
	root, err := (&wktParser{text: text}).node()
	if err != nil {
		return ""
	}
	var b strings.Builder
	root.writePRJ(&b, c.Datum)
	return b.String()
}

// prjDatums are the frames' names in that dialect.
var prjDatums = map[string]string{"WGS84": "D_WGS_1984", "NAD83": "D_North_American_1983", "NAD83(2011)": "D_NAD_1983_2011", "NAD83(PA11)": "D_NAD_1983_PA11",
	"NAD83(MA11)": "D_NAD_1983_MA11", "NAD83(HARN)": "D_North_American_1983_HARN", "NAD83(NSRS2007)": "D_NAD_1983_NSRS2007", "NAD83(CORS96)": "D_NAD_1983_CORS96",
	"NAD83(CSRS)": "D_North_American_1983_CSRS", "ETRS89": "D_ETRS_1989", "GDA94": "D_GDA_1994", "GDA2020": "D_GDA2020", "NZGD2000": "D_NZGD_2000",
	"JGD2011": "D_JGD_2011", "RGF93": "D_RGF_1993", "SWEREF99": "D_SWEREF99", "IRENET95": "D_IRENET95", "OSGB36": "D_OSGB_1936", "Amersfoort": "D_Amersfoort",
	"CH1903": "D_CH1903", "CH1903+": "D_CH1903+", "DHDN": "D_Deutsches_Hauptdreiecksnetz", "MGI": "D_MGI", "BD72": "D_Belge_1972"}

// prjSpheroids are the ellipsoids' names in it, prjUnits the units'.
var (
	prjSpheroids = map[string]string{"WGS 84": "WGS_1984", "GRS 1980": "GRS_1980", "Airy 1830": "Airy_1830", "Bessel 1841": "Bessel_1841", "International 1924": "International_1924"}
	prjUnits     = map[string]string{"metre": "Meter", "foot": "Foot", "US survey foot": "Foot_US", "degree": "Degree"}
	prjMethods   = map[string]string{"Lambert_Conformal_Conic_1SP": "Lambert_Conformal_Conic", "Lambert_Conformal_Conic_2SP": "Lambert_Conformal_Conic",
		"Oblique_Stereographic": "Double_Stereographic"}
)

func (n *wktNode) writePRJ(b *strings.Builder, datum string) {
	b.WriteString(n.name + "[")
	for i, t := range n.texts {
		if i > 0 {
			b.WriteByte(',')
		}
		if i > 0 {
			b.WriteString(t) // numbers, which stand as they are
			continue
		}
		name := t
		switch {
		case n.name == "DATUM" && prjDatums[datum] != "":
			name = prjDatums[datum]
		case n.name == "SPHEROID" && prjSpheroids[t] != "":
			name = prjSpheroids[t]
		case n.name == "UNIT" && prjUnits[t] != "":
			name = prjUnits[t]
		case n.name == "PROJECTION" && prjMethods[t] != "":
			name = prjMethods[t]
		case n.name == "PARAMETER":
			name = prjParameter(t)
		}
		b.WriteString(`"` + name + `"`)
	}
	for _, c := range n.children {
		if c.name != "AUTHORITY" && c.name != "AXIS" {
			b.WriteByte(',')
			c.writePRJ(b, datum)
		}
	}
	b.WriteString("]")
}

// prjParameter writes a parameter's name with capitals: Central_Meridian.
func prjParameter(name string) string {
	parts := strings.Split(name, "_")
	for i, p := range parts {
		if p != "of" && p != "" {
			parts[i] = strings.ToUpper(p[:1]) + p[1:]
		}
	}
	return strings.Join(parts, "_")
}
