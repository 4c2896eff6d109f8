package layer

import (
	"iter"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// vertexLayer is the depth profile as points, for a GIS that cannot read lists.
var vertexLayer = Layer{
	Role: trace.RoleVertex, Shape: ShapePoint,
	Words: "every vertex of the traced lines with its depth and bands",
	Columns: []Column{
		{Name: "part", Type: TypeInteger, Always: true, Words: "number of the stretch within its line, from 1"},
		{Name: "station_m", Type: TypeReal, Unit: "m", Decimals: 3, Always: true, Words: "distance from the start of the line, gaps included"},
		{Name: "depth_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "read depth to the centre of the conductor"},
		{Name: "depth_95_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "half-width of its 95 % band"},
		{Name: "horizontal_95_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "half-width of the 95 % band across the line"},
		{Name: "common_95_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "the part of it that is shared by the whole walk"},
		{Name: "datum_doubt_m", Type: TypeReal, Unit: "m", Decimals: 2, Words: "how far the whole map may be off for its frame, beside horizontal_95_m"},
		{Name: "cover_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "depth_m less half the diameter"},
		{Name: "elev_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "elevation of the centre, in the vertical frame of the input"},
		{Name: "corner", Type: TypeBoolean, Always: true, Words: "an elbow"},
		{Name: "bleed_over", Type: TypeText, Words: "grade of a suspected stretch that holds it"},
		{Name: "words", Type: TypeText, Always: true, Words: "the depth in a careful sentence, in the job's units"},
	},
	Each: eachVertex,
}

func eachVertex(s *trace.Sheet) iter.Seq[*Feature] {
	return func(yield func(*Feature) bool) {
		date := words.JobDate(s)
		for i := range s.Lines {
			l := &s.Lines[i]
			if l.Centerline == nil {
				continue
			}
			along := words.NewAlong(l)
			for k, p := range l.Centerline.Parts {
				for _, v := range p.Vertices {
					if !yield(vertexFeature(s, l, k+1, v, along.At(v), date)) {
						return
					}
				}
			}
		}
	}
}

// Bands are the half-widths that every output gives beside a vertex: those of the true
// line, with any suspected displacement in them; none on the edge of a gap and in a
// doubt that nothing bounds, where the words give none either.
type Bands struct{ Depth95M, Horizontal95M, Common95M float64 }

// Deep is a vertex with the depth that may be told of it, and what follows from that: where
// a doubt leaves none, neither depth nor elevation of the line is known.
func Deep(v trace.Vertex, t words.Told) trace.Vertex {
	if v.DepthM, _ = t.Depths(); !trace.Known(v.DepthM) {
		v.ElevM = trace.Unknown
	}
	return v
}

// BandsAt are the bands at a vertex of which this may be told.
func BandsAt(v trace.Vertex, t words.Told) Bands {
	_, depth95M := t.Depths()
	b := Bands{depth95M, t.Horizontal95M, v.Common95M}
	if !trace.Known(b.Horizontal95M) {
		b.Common95M = trace.Unknown // a part of what is not known
	}
	return b
}

func vertexFeature(s *trace.Sheet, l *trace.Line, part int, v trace.Vertex, t words.Told, date string) *Feature {
	bands := BandsAt(v, t)
	v = Deep(v, t)
	grade := ""
	sentence := t.Depth(s.Job.Units, date) + "; " + t.Position(s.Job.Units)
	if b := t.Doubt; b != nil {
		grade = string(b.Grade)
		if b.Watch {
			sentence = b.Words + ": " + sentence
		}
	}
	return &Feature{Line: l.Setup.Name, Utility: l.Setup.Utility, At: s.Plane.LonLat(v.Pos), Path: []geo.XY{v.Pos}, Values: []Value{
		integerValue(part), realValue(v.StationM), realValue(v.DepthM), realValue(bands.Depth95M), realValue(bands.Horizontal95M),
		realValue(bands.Common95M), realValue(Known(t.FrameM)), realValue(CoverM(v, l.Setup)), realValue(v.ElevM), booleanValue(v.Corner),
		textValue(grade), textValue(sentence),
	}}
}

// AllWithVertices are the feature tables of a GeoPackage.
func AllWithVertices() []Layer { return append(All(), vertexLayer) }
