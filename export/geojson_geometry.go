package export

// geometry writes the geometry of a feature, null where it has no place.
func (e *geojsonWriter) geometry(l layer, f *feature) error {
	if err := f.checkPlace(); err != nil {
		return err
	}
	switch {
	case f.NoPlace:
		e.raw("null")
	case l.Shape == shapePoint:
		p := e.geographic(f.At)
		e.box.add(p)
		e.raw(`{"type":"Point","coordinates":`)
		e.position(lonLatE8{e.home(p.lon), p.lat})
		e.raw("}")
	case l.Shape == shapeLine:
		e.lineGeometry(f)
	default:
		return e.areaGeometry(f)
	}
	return nil
}

func (e *geojsonWriter) lineGeometry(f *feature) {
	if len(f.Path) < 2 {
		e.raw("null")
		return
	}
	pts := e.path(densePath(f.Path))
	for _, p := range pts {
		e.box.add(p)
	}
	pieces := e.cutLine(pts)
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

func (e *geojsonWriter) areaGeometry(f *feature) error {
	polys, err := e.area(f.Area)
	if err != nil {
		return err
	}
	for _, rings := range polys {
		for _, p := range rings[0] {
			e.box.add(e.running(p))
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

func (e *geojsonWriter) rings(rings [][]lonLatE8) {
	e.b = append(e.b, '[')
	for i, r := range rings {
		if i > 0 {
			e.raw(",")
		}
		e.positions(r)
	}
	e.b = append(e.b, ']')
}

func (e *geojsonWriter) positions(pts []lonLatE8) {
	e.b = append(e.b, '[')
	for i, p := range pts {
		if i > 0 {
			e.b = append(e.b, ',')
		}
		e.position(p)
	}
	e.b = append(e.b, ']')
}

func (e *geojsonWriter) position(p lonLatE8) {
	e.b = append(e.b, '[')
	e.b = appendFixed(e.b, int64(p.lon), degreeDecimals)
	e.b = append(e.b, ',')
	e.b = appendFixed(e.b, int64(p.lat), degreeDecimals)
	e.b = append(e.b, ']')
}
