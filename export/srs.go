package export

import (
	"github.com/paulmach/orb"

	"loamline/geo"
)

// SRS is a coordinate reference system that geometry can be written in. The
// zero value is EPSG:4326 in degrees.
type SRS struct {
	Code     int                                      // of the EPSG dataset
	Name     string                                   // as the EPSG dataset has it
	WKT      string                                   // OGC 01-009 text, for GeoPackage
	FromWGS  func(geo.LonLat) (x, y float64, _ error) // easting and northing in the system's own unit
	Decimals int                                      // of its unit that are written
}

// wgs84SRS is the system of everything without a choice of its own. The text is
// the one of the EPSG dataset in OGC 01-009 form.
var wgs84SRS = SRS{
	Code: 4326, Name: "WGS 84",
	WKT: `GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],` +
		`AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,` +
		`AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","4326"]]`,
}

// xy is a written position: easting or longitude first.
type xy struct{ x, y float64 }

// placer turns the geometry of features into written positions.
type placer interface {
	point(geo.LonLat) (xy, error)
	lines(path []geo.XY) ([][]xy, error)
	areas(mp orb.MultiPolygon) ([][][]xy, error)
}

func newPlacer(plane geo.Plane, srs SRS) placer {
	d := newDegrees(plane)
	if srs.FromWGS == nil {
		return degreePlacer{d}
	}
	return gridPlacer{d, srs}
}

// degreePlacer writes the very positions of the GeoJSON.
type degreePlacer struct{ degrees }

func (p degreePlacer) point(ll geo.LonLat) (xy, error) {
	q := p.geographic(ll)
	return xy{p.home(q.lon).deg(), q.lat.deg()}, nil
}

func (p degreePlacer) lines(path []geo.XY) ([][]xy, error) {
	var out [][]xy
	for _, piece := range p.cutLine(p.path(densePath(path))) {
		out = append(out, toXY(piece))
	}
	return out, nil
}

func (p degreePlacer) areas(mp orb.MultiPolygon) ([][][]xy, error) {
	polys, err := p.area(mp)
	if err != nil {
		return nil, err
	}
	out := make([][][]xy, len(polys))
	for i, rings := range polys {
		for _, r := range rings {
			out[i] = append(out[i], toXY(r))
		}
	}
	return out, nil
}

func toXY(pts []lonLatE8) []xy {
	out := make([]xy, len(pts))
	for i, p := range pts {
		out[i] = xy{p.lon.deg(), p.lat.deg()}
	}
	return out
}

// gridPlacer writes projected coordinates. Zones are taken as the GeoJSON has
// them, valid and wound, so that both formats hold the same area.
type gridPlacer struct {
	degrees
	srs SRS
}

func (p gridPlacer) point(ll geo.LonLat) (xy, error) {
	x, y, err := p.srs.FromWGS(ll)
	return xy{x, y}, err
}

func (p gridPlacer) path(pts []geo.XY) ([]xy, error) {
	out := make([]xy, len(pts))
	var err error
	for i, q := range pts {
		if out[i], err = p.point(p.plane.LonLat(q)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (p gridPlacer) lines(path []geo.XY) ([][]xy, error) {
	line, err := p.path(densePath(path))
	return [][]xy{line}, err
}

func (p gridPlacer) areas(mp orb.MultiPolygon) ([][][]xy, error) {
	polys, err := p.area(mp)
	if err != nil {
		return nil, err
	}
	out := make([][][]xy, len(polys))
	for i, rings := range polys {
		for _, r := range rings {
			ring := make([]xy, len(r))
			for k, q := range r {
				if ring[k], err = p.point(geo.LonLat{LonDeg: q.lon.deg(), LatDeg: q.lat.deg()}); err != nil {
					return nil, err
				}
			}
			out[i] = append(out[i], ring)
		}
	}
	return out, nil
}
