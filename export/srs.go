package export

import (
	"github.com/paulmach/orb"

	"loamline/geo"
)

// xy is a written position: easting or longitude first.
type xy struct{ x, y float64 }

// placer turns the geometry of features into written positions.
type placer interface {
	point(geo.LonLat) (xy, error)
	lines(path []geo.XY) ([][]xy, error)
	areas(mp orb.MultiPolygon) ([][][]xy, error)
}

// newPlacer writes in a frame; its zero value is WGS 84 in degrees.
func newPlacer(plane geo.Plane, frame geo.Frame) placer {
	d := newDegrees(plane)
	if frame.CRS.Code == 0 || frame.CRS.Geographic() && !frame.Datum.Moves() {
		return degreePlacer{d}
	}
	return gridPlacer{d, frame}
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

// gridPlacer writes the coordinates of another frame. Zones are taken as the GeoJSON has
// them, valid and wound, so that both formats hold the same area.
type gridPlacer struct {
	degrees
	frame geo.Frame
}

func (p gridPlacer) point(ll geo.LonLat) (xy, error) {
	x, y, err := p.frame.FromWGS84(ll)
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
