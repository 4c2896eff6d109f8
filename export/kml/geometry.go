package kml

import (
	"encoding/xml"
	"math"

	"github.com/paulmach/orb"
	"github.com/twpayne/go-kml/v3"

	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/geo"
	"loamline.example/trace"
)

// coordinates are places as KML writes them. They are written from their whole numbers, as
// the GeoJSON's are: the library's own element takes floating-point numbers and seeks the
// fewest digits of each, which are the same.
type coordinates []place.LonLatE8

// MarshalXML implements [xml.Marshaler].
func (c coordinates) MarshalXML(e *xml.Encoder, _ xml.StartElement) error {
	const room = len("-179.12345678,-89.12345678 ")
	text := make([]byte, 0, room*len(c))
	for i, p := range c {
		if i > 0 {
			text = append(text, ' ')
		}
		text = literal.AppendFixed(text, int64(p.Lon), place.DegreeDecimals)
		text = append(text, ',')
		text = literal.AppendFixed(text, int64(p.Lat), place.DegreeDecimals)
	}
	return e.EncodeElement(struct {
		Text []byte `xml:",innerxml"` // figures need no escaping
	}{text}, xml.StartElement{Name: xml.Name{Local: "coordinates"}})
}

// lineGeometry is a path on the ground. A pin, where given, carries the name.
func (k *writer) lineGeometry(path []geo.XY, pin *geo.XY) kml.Element {
	pieces := k.CutLine(k.Path(place.DensePath(path)))
	var parts []kml.Element
	if pin != nil {
		parts = append(parts, k.pointGeometry(k.XY(*pin)))
	}
	for _, p := range pieces {
		parts = append(parts, kml.LineString(kml.Tessellate(true), kml.AltitudeMode(kml.AltitudeModeClampToGround), coordinates(p)))
	}
	if len(parts) == 1 {
		return parts[0]
	}
	return kml.MultiGeometry(parts...)
}

// dashGeometry is a path as dashes, which KML has no style for, with a pin in
// the middle: what is not traced must not look like a line.
func (k *writer) dashGeometry(path []geo.XY) kml.Element {
	l := geo.NewPolyline(path)
	n := int(math.Max(2, math.Min(100, math.Round(l.Length()/2))))
	stepM := l.Length() / (float64(n) - 0.5) // a dash at either end
	parts := []kml.Element{k.pointGeometry(k.XY(*middle(path)))}
	for i := range n {
		from := float64(i) * stepM
		for _, p := range k.CutLine(k.Path(place.DensePath(l.Slice(from, from+stepM/2)))) {
			parts = append(parts, kml.LineString(kml.Tessellate(true), kml.AltitudeMode(kml.AltitudeModeClampToGround), coordinates(p)))
		}
	}
	return kml.MultiGeometry(parts...)
}

func (k *writer) pointGeometry(p place.LonLatE8) kml.Element {
	p.Lon = k.Home(p.Lon)
	return kml.Point(kml.AltitudeMode(kml.AltitudeModeClampToGround), coordinates([]place.LonLatE8{p}))
}

func (k *writer) areaGeometry(mp orb.MultiPolygon) (kml.Element, error) {
	polys, err := k.Area(mp)
	if err != nil {
		return nil, err
	}
	var parts []kml.Element
	for _, rings := range polys {
		p := kml.Polygon(kml.Tessellate(true), kml.AltitudeMode(kml.AltitudeModeClampToGround))
		for i, r := range rings {
			ring := kml.LinearRing(coordinates(r))
			if i == 0 {
				p.Append(kml.OuterBoundaryIs(ring))
			} else {
				p.Append(kml.InnerBoundaryIs(ring))
			}
		}
		parts = append(parts, p)
	}
	if len(parts) == 1 {
		return parts[0], nil
	}
	return kml.MultiGeometry(parts...), nil
}

// middle is the place half way along a path.
func middle(path []geo.XY) *geo.XY {
	l := geo.NewPolyline(path)
	at := l.At(l.Length() / 2)
	return &at
}

// view looks straight down on lines so that all of them are seen.
func (k *writer) view(lines []trace.Line) []kml.Element {
	lo, hi := geo.XY{X: math.Inf(1), Y: math.Inf(1)}, geo.XY{X: math.Inf(-1), Y: math.Inf(-1)}
	add := func(q geo.XY) {
		lo = geo.XY{X: math.Min(lo.X, q.X), Y: math.Min(lo.Y, q.Y)}
		hi = geo.XY{X: math.Max(hi.X, q.X), Y: math.Max(hi.Y, q.Y)}
	}
	for i := range lines {
		if c := lines[i].Centerline; c != nil {
			for _, p := range c.Parts {
				for _, v := range p.Vertices {
					add(v.Pos)
				}
			}
			continue
		}
		for j := range lines[i].Readings {
			if r := &lines[i].Readings[j]; r.Status == trace.StatusUsed || r.Status == trace.StatusExposed {
				add(k.Plane.XY(r.Geographic))
			}
		}
	}
	if !literal.Finite(lo.X) || !literal.Finite(hi.X) {
		return nil
	}
	// Never closer than a house.
	return k.lookDown(lo, hi, 60)
}

// lookAt looks straight down on a path so that all of it is seen, as near as one
// stands to it.
func (k *writer) lookAt(path []geo.XY) []kml.Element {
	lo, hi := path[0], path[0]
	for _, q := range path {
		lo = geo.XY{X: math.Min(lo.X, q.X), Y: math.Min(lo.Y, q.Y)}
		hi = geo.XY{X: math.Max(hi.X, q.X), Y: math.Max(hi.Y, q.Y)}
	}
	if !literal.Finite(lo.X) || !literal.Finite(hi.X) {
		return nil
	}
	return k.lookDown(lo, hi, 30)
}

func (k *writer) lookDown(lo, hi geo.XY, nearestM float64) []kml.Element {
	center := k.XY(lo.Lerp(hi, 0.5))
	// A viewer's camera sees about 60 degrees: the range is the extent over
	// 2 tan 30°, with room at the edges.
	rangeM := math.Max(nearestM, 1.3*math.Max(hi.X-lo.X, hi.Y-lo.Y)/(2*math.Tan(math.Pi/6)))
	return []kml.Element{kml.LookAt(
		kml.Longitude(k.Home(center.Lon).Deg()), kml.Latitude(center.Lat.Deg()),
		kml.Heading(0), kml.Tilt(0), kml.Range(math.Ceil(rangeM)), kml.AltitudeMode(kml.AltitudeModeClampToGround),
	)}
}
