package geo

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// CRS is a coordinate reference system by its EPSG code: a geographic system, or
// a projected one on the frame that Datum names. Which frame it is belongs to
// the system; going from there to WGS 84 is the business of [Datum] and [Frame].
//
// Without PROJ (build tag proj) there are: geographic systems of the known
// frames, all UTM zones of WGS 84, NAD83 (all realisations), ETRS89 and GDA, all
// State Plane zones in metres and both feet, the national and county systems of
// zones.csv (transverse Mercator, Lambert conformal conic, oblique Mercator, double
// and polar stereographic, Lambert azimuthal equal-area, Krovak), and Web Mercator
// for reading. Projection formulas agree with PROJ 9.1.1 to 0.1 mm.
type CRS struct {
	Code    int
	Name    string  // as EPSG has it, "NAD83 / New York Long Island (ftUS)"
	Datum   string  // a name for LookupDatum
	Unit    string  // of its coordinates: "deg", "m", "ft" (international) or "ftUS"
	UnitM   float64 // metres in one unit, 0 for degrees
	Caution string  // what people who use it must know, or ""

	area       Area
	projection projection // nil for a geographic system
	joined     string     // how the system is joined to WGS 84 where no Datum does it
}

// LookupCRS finds a system by "EPSG:2263", "epsg:2263" or "2263". Its error names
// the code and says what can be done.
func LookupCRS(name string) (CRS, error) {
	s := strings.TrimSpace(name)
	if i := strings.IndexByte(s, ':'); i >= 0 {
		if !strings.EqualFold(s[:i], "EPSG") {
			return CRS{}, fmt.Errorf("coordinate reference system %q: only EPSG codes are known, such as \"EPSG:4326\"", name)
		}
		s = s[i+1:]
	}
	code, err := strconv.Atoi(s)
	if err != nil || code <= 0 {
		return CRS{}, fmt.Errorf("coordinate reference system %q is not an EPSG code, such as \"EPSG:4326\"", name)
	}
	if c, ok := geographicCRS(code); ok {
		return c, nil
	}
	if c, ok := utmWGS84(code); ok {
		return c, nil
	}
	if code == 3857 {
		return CRS{
			Code: code, Name: "WGS 84 / Pseudo-Mercator", Datum: "WGS84", Unit: "m", UnitM: 1,
			Caution:    "EPSG:3857 (Web Mercator) is made for web maps: its metres are stretched by 1/cos(latitude), and software that writes it often mixes up datums by 1 to 2 m. It is read, never written.",
			area:       Area{-180, -85.06, 180, 85.06, "World between 85.06°S and 85.06°N"},
			projection: webMercator{},
		}, nil
	}
	if c, ok, err := zoneCRS(code); ok || err != nil {
		return c, err
	}
	return otherCRS(code)
}

// zoneCRS builds a system of zones.csv.
func zoneCRS(code int) (CRS, bool, error) {
	z, ok := findZone(code)
	if !ok {
		return CRS{}, false, nil
	}
	base, ok := geographicCRS(z.base)
	if !ok {
		return CRS{}, false, fmt.Errorf("EPSG:%d (%s): its frame EPSG:%d is not known", code, z.name, z.base)
	}
	datum, err := LookupDatum(base.Datum)
	if err != nil {
		return CRS{}, false, err
	}
	pr, err := z.project(datum.Ellipsoid)
	if err != nil {
		return CRS{}, false, fmt.Errorf("EPSG:%d (%s): %w", code, z.name, err)
	}
	c := CRS{Code: code, Name: z.name, Datum: base.Datum, Unit: z.unit, UnitM: unitM[z.unit], area: z.area, projection: pr, Caution: datum.caution()}
	if z.method == 9820 {
		c.Caution = strings.TrimSpace(c.Caution + fmt.Sprintf(" %s is made for areas: its metres differ from ground metres by up to a few per cent, by direction.", c.ID()))
	}
	return c, true, nil
}

// utmWGS84 builds the UTM zones of WGS 84, EPSG:32601 to 32660 north and 32701 to
// 32760 south (DMA TM 8358.2, 1989: scale 0.9996, 500 km, 10000 km in the south).
func utmWGS84(code int) (CRS, bool) {
	n, south := code-32600, code > 32700
	if south {
		n = code - 32700
	}
	if n < 1 || n > 60 {
		return CRS{}, false
	}
	c := CRS{Code: code, Datum: "WGS84", Unit: "m", UnitM: 1}
	west := float64(6*n - 186)
	if south {
		c.Name = fmt.Sprintf("WGS 84 / UTM zone %dS", n)
		c.area = Area{west, -80, west + 6, 0, fmt.Sprintf("World - S hemisphere - UTM zone %d", n)}
		c.projection = newTransverseMercator(WGS84Ellipsoid, 0, west+3, 0.9996, 500000, 10000000)
	} else {
		c.Name = fmt.Sprintf("WGS 84 / UTM zone %dN", n)
		c.area = Area{west, 0, west + 6, 84, fmt.Sprintf("World - N hemisphere - UTM zone %d", n)}
		c.projection = newTransverseMercator(WGS84Ellipsoid, 0, west+3, 0.9996, 500000, 0)
	}
	return c, true
}

// ID is "EPSG:2263".
func (c CRS) ID() string { return fmt.Sprintf("EPSG:%d", c.Code) }

// Geographic reports whether coordinates are longitude and latitude.
func (c CRS) Geographic() bool { return c.projection == nil }

// Writable returns an error for a system that output is never written in.
func (c CRS) Writable() error {
	if c.Code == 3857 {
		return fmt.Errorf("EPSG:3857 (Web Mercator) is only read, never written: its metres are stretched by 1/cos(latitude), so that lengths and zones would be wrong; take a UTM or State Plane system, or EPSG:4326")
	}
	return nil
}

// notConverted is that a system cannot be used, and what to do about positions in it.
type notConverted struct{ cause, positions string }

func (e *notConverted) Error() string { return e.cause + "; " + e.positions }

// LookupOutputCRS finds a system, as LookupCRS does, in which coordinates are to be
// written: its error says what to do about an output, which no position is in yet.
func LookupOutputCRS(name string) (CRS, error) {
	c, err := LookupCRS(name)
	var not *notConverted
	switch {
	case errors.As(err, &not):
		return c, fmt.Errorf("%s; name another system, or leave it out for WGS 84", not.cause)
	case err != nil:
		return c, err
	}
	return c, c.Writable()
}

// Project converts a position of the system's own frame to easting and northing
// in metres, whatever the system's unit is; divide by UnitM for that.
func (c CRS) Project(p LonLat) (eastM, northM float64, err error) {
	if c.Geographic() {
		return 0, 0, fmt.Errorf("%s (%s) is geographic and has no eastings", c.ID(), c.Name)
	}
	eastM, northM = c.projection.forward(p)
	if !finite(eastM) || !finite(northM) {
		return 0, 0, fmt.Errorf("%.6f, %.6f can't be projected in %s (%s)", p.LonDeg, p.LatDeg, c.ID(), c.Name)
	}
	return eastM, northM, nil
}

// Unproject converts easting and northing in metres to a position in the
// system's own frame.
func (c CRS) Unproject(eastM, northM float64) (LonLat, error) {
	if c.Geographic() {
		return LonLat{}, fmt.Errorf("%s (%s) is geographic: give lat and lon, not eastings", c.ID(), c.Name)
	}
	p := c.projection.inverse(eastM, northM)
	if !finite(eastM) || !finite(northM) || !p.Valid() {
		return LonLat{}, fmt.Errorf("easting %.3f m, northing %.3f m is not a place on %s (%s)", eastM, northM, c.ID(), c.Name)
	}
	return p, nil
}
