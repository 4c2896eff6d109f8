package place

import (
	"github.com/paulmach/orb"

	"loamline.example/geo"
)

// XY is a written position: easting or longitude first.
type XY struct{ X, Y float64 }

// Placer turns the geometry of features into written positions.
type Placer interface {
	Point(geo.LonLat) (XY, error)
	Lines(path []geo.XY) ([][]XY, error)
	Areas(mp orb.MultiPolygon) ([][][]XY, error)
}

// NewPlacer writes in a frame; its zero value is WGS 84 in degrees.
func NewPlacer(plane geo.Plane, frame geo.Frame) Placer {
	d := NewDegrees(plane)
	if frame.CRS.Code == 0 || frame.CRS.Geographic() && !frame.Datum.Moves() {
		return degreePlacer{d}
	}
	return gridPlacer{d, frame}
}

// degreePlacer writes the very positions of the GeoJSON.
type degreePlacer struct{ Degrees }

func (p degreePlacer) Point(ll geo.LonLat) (XY, error) {
	q := p.Geographic(ll)
	return XY{p.Home(q.Lon).Deg(), q.Lat.Deg()}, nil
}

func (p degreePlacer) Lines(path []geo.XY) ([][]XY, error) {
	var out [][]XY
	for _, piece := range p.CutLine(p.Path(DensePath(path))) {
		out = append(out, toXY(piece))
	}
	return out, nil
}

func (p degreePlacer) Areas(mp orb.MultiPolygon) ([][][]XY, error) {
	polys, err := p.Area(mp)
	if err != nil {
		return nil, err
	}
	out := make([][][]XY, len(polys))
	for i, rings := range polys {
		for _, r := range rings {
			out[i] = append(out[i], toXY(r))
		}
	}
	return out, nil
}

func toXY(pts []LonLatE8) []XY {
	out := make([]XY, len(pts))
	for i, p := range pts {
		out[i] = XY{p.Lon.Deg(), p.Lat.Deg()}
	}
	return out
}

// gridPlacer writes the coordinates of another frame. Zones are taken as the GeoJSON has
// them, valid and wound, so that both formats hold the same area.
type gridPlacer struct {
	Degrees
	frame geo.Frame
}

func (p gridPlacer) Point(ll geo.LonLat) (XY, error) {
	x, y, err := p.frame.FromWGS84(ll)
	return XY{x, y}, err
}

func (p gridPlacer) path(pts []geo.XY) ([]XY, error) {
	out := make([]XY, len(pts))
	var err error
	for i, q := range pts {
		if out[i], err = p.Point(p.Plane.LonLat(q)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (p gridPlacer) Lines(path []geo.XY) ([][]XY, error) {
	line, err := p.path(DensePath(path))
	return [][]XY{line}, err
}

func (p gridPlacer) Areas(mp orb.MultiPolygon) ([][][]XY, error) {
	polys, err := p.Area(mp)
	if err != nil {
		return nil, err
	}
	out := make([][][]XY, len(polys))
	for i, rings := range polys {
		for _, r := range rings {
			ring := make([]XY, len(r))
			for k, q := range r {
				if ring[k], err = p.Point(geo.LonLat{LonDeg: q.Lon.Deg(), LatDeg: q.Lat.Deg()}); err != nil {
					return nil, err
				}
			}
			out[i] = append(out[i], ring)
		}
	}
	return out, nil
}
