package geojson

import (
	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/place"
)

// geometry writes the geometry of a feature, null where it has no place.
func (e *writer) geometry(l layer.Layer, f *layer.Feature) error {
	if err := f.CheckPlace(); err != nil {
		return err
	}
	switch {
	case f.NoPlace:
		e.raw("null")
	case l.Shape == layer.ShapePoint:
		p := e.Geographic(f.At)
		e.box.Add(p)
		e.raw(`{"type":"Point","coordinates":`)
		e.position(place.LonLatE8{Lon: e.Home(p.Lon), Lat: p.Lat})
		e.raw("}")
	case l.Shape == layer.ShapeLine:
		e.lineGeometry(f)
	default:
		return e.areaGeometry(f)
	}
	return nil
}

func (e *writer) lineGeometry(f *layer.Feature) {
	if len(f.Path) < 2 {
		e.raw("null")
		return
	}
	pts := e.Path(place.DensePath(f.Path))
	for _, p := range pts {
		e.box.Add(p)
	}
	pieces := e.CutLine(pts)
	if len(pieces) == 1 {
		e.raw(`{"type":"LineString","coordinates":`)
		e.positions(pieces[0])
	} else {
		e.raw(`{"type":"MultiLineString","coordinates":`)
		e.b = append(e.b, '[')
		for i, p := range pieces {
			if i > 0 {
				e.raw(",")
			}
			e.positions(p)
		}
		e.b = append(e.b, ']')
	}
	e.raw("}")
}

func (e *writer) areaGeometry(f *layer.Feature) error {
	polys, err := e.Area(f.Area)
	if err != nil {
		return err
	}
	for _, rings := range polys {
		for _, p := range rings[0] {
			e.box.Add(e.Running(p))
		}
	}
	switch len(polys) {
	case 0:
		e.raw("null")
		return nil
	case 1:
		e.raw(`{"type":"Polygon","coordinates":`)
		e.rings(polys[0])
	default:
		e.raw(`{"type":"MultiPolygon","coordinates":[`)
		for i, rings := range polys {
			if i > 0 {
				e.raw(",")
			}
			e.rings(rings)
		}
		e.raw("]")
	}
	e.raw("}")
	return nil
}

func (e *writer) rings(rings [][]place.LonLatE8) {
	e.b = append(e.b, '[')
	for i, r := range rings {
		if i > 0 {
			e.raw(",")
		}
		e.positions(r)
	}
	e.b = append(e.b, ']')
}

func (e *writer) positions(pts []place.LonLatE8) {
	e.b = append(e.b, '[')
	for i, p := range pts {
		if i > 0 {
			e.b = append(e.b, ',')
		}
		e.position(p)
	}
	e.b = append(e.b, ']')
}

func (e *writer) position(p place.LonLatE8) {
	e.b = append(e.b, '[')
	e.b = literal.AppendFixed(e.b, int64(p.Lon), place.DegreeDecimals)
	e.b = append(e.b, ',')
	e.b = literal.AppendFixed(e.b, int64(p.Lat), place.DegreeDecimals)
	e.b = append(e.b, ']')
}
