package layer

import (
	"iter"

	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

var Centerline = Layer{
	Role: trace.RoleCenterline, Shape: ShapeLine,
	Words: "a traced stretch of a line in travel order; what lies between two stretches is a gap",
	Columns: []Column{
		{Name: "part", Type: TypeInteger, Words: "number of the stretch within its line, from 1", Always: true},
		{Name: "parts", Type: TypeInteger, Words: "stretches of the line", Always: true},
		{Name: "length_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "ground length of the stretch", Contract: true, Always: true},
		{Name: "stations_m", Type: TypeReals, Unit: "m", Decimals: 3, Words: "distance of each vertex from the start of the line, gaps included", Contract: true, Always: true},
		{Name: "depth_m", Type: TypeReals, Unit: "m", Decimals: 3, Words: "read depth from the ground to the centre of the conductor at each vertex", Contract: true, Always: true},
		{Name: "depth_95_m", Type: TypeReals, Unit: "m", Decimals: 3, Words: "half-width of the 95 % band of that depth", Contract: true, Always: true},
		{Name: "horizontal_95_m", Type: TypeReals, Unit: "m", Decimals: 3, Words: "half-width, across the line, of the 95 % band of the true line, any suspected displacement included", Contract: true, Always: true},
		{Name: "common_95_m", Type: TypeReals, Unit: "m", Decimals: 3, Words: "the part of horizontal_95_m that is shared by the whole walk"},
		{Name: "cover_m", Type: TypeReals, Unit: "m", Decimals: 3, Words: "depth_m less half the diameter: ground to the top; null where no depth or no diameter is known"},
		{Name: "elev_m", Type: TypeReals, Unit: "m", Decimals: 3, Words: "elevation of the conductor's centre, in the vertical frame of the input; null where none is known"},
		{Name: "depth_min_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "the least of depth_m, to style by"},
		{Name: "depth_max_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "the greatest of depth_m"},
		{Name: "depth_95_max_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "the greatest of depth_95_m"},
		{Name: "horizontal_95_max_m", Type: TypeReal, Unit: "m", Decimals: 3, Words: "the greatest of horizontal_95_m"},
		{Name: "corner_stations_m", Type: TypeReals, Unit: "m", Decimals: 3, Words: "stations of the elbows", Always: true},
		{Name: "readings", Type: TypeInteger, Words: "readings of the whole line", Contract: true, Always: true},
		{Name: "used", Type: TypeInteger, Words: "of these, used for the line", Contract: true, Always: true},
		{Name: "set_aside", Type: TypeInteger, Words: "of these, set aside with a reason", Contract: true, Always: true},
		{Name: "hookup", Type: TypeText, Words: "direct, clamp, induction, passive or mixed", Contract: true, Enum: []string{"direct", "clamp", "induction", "passive", "mixed"}},
		{Name: "freq_hz", Type: TypeReal, Unit: "Hz", Decimals: 3, Words: "locating frequency; null where unknown or mixed", Contract: true},
		{Name: "diameter_m", Type: TypeReal, Unit: "m", Decimals: 4, Words: "outer diameter as stated"},
		{Name: "material", Type: TypeText, Words: "as stated"},
		{Name: "ticket", Type: TypeText, Words: "number of the request", Contract: true},
		{Name: "date", Type: TypeText, Words: "day of the locate, YYYY-MM-DD", Contract: true, Day: true},
		{Name: "notes", Type: TypeTexts, Words: "what must be known of the fit", Always: true},
	},
	Each: eachCenterline,
}

func eachCenterline(s *trace.Sheet) iter.Seq[*Feature] {
	return func(yield func(*Feature) bool) {
		date := words.JobDate(s)
		for i := range s.Lines {
			l := &s.Lines[i]
			if l.Centerline == nil {
				continue
			}
			parts := writableParts(s.Plane, l.Centerline.Parts)
			for k, p := range parts {
				f := &Feature{Line: l.Setup.Name, Utility: l.Setup.Utility, Path: p.Path()}
				f.Values = centerlineValues(l, p, k+1, len(parts), s.Job.Ticket, date, s.Job.Units)
				if !yield(f) {
					return
				}
			}
		}
	}
}

func centerlineValues(l *trace.Line, p trace.Part, number, parts int, ticket, date string, u geo.Units) []Value {
	per := func(get func(trace.Vertex) float64) Value {
		out := make([]float64, len(p.Vertices))
		for i, v := range p.Vertices {
			out[i] = get(v)
		}
		return realsValue(out)
	}
	corners := []float64{}
	for _, v := range p.Vertices {
		if v.Corner {
			corners = append(corners, v.StationM)
		}
	}
	counts := trace.CountReadings(l.Readings)
	return []Value{
		integerValue(number), integerValue(parts),
		realValue(p.ToM() - p.FromM()),
		per(func(v trace.Vertex) float64 { return v.StationM }),
		per(func(v trace.Vertex) float64 { return v.DepthM }),
		per(func(v trace.Vertex) float64 { return v.Depth95M }),
		per(func(v trace.Vertex) float64 { return v.Horizontal95M }),
		nullIfNone(per(func(v trace.Vertex) float64 { return v.Common95M })),
		nullIfNone(per(func(v trace.Vertex) float64 { return CoverM(v, l.Setup) })),
		nullIfNone(per(func(v trace.Vertex) float64 { return v.ElevM })),
		realValue(-most(p, func(v trace.Vertex) float64 { return -v.DepthM })),
		realValue(most(p, func(v trace.Vertex) float64 { return v.DepthM })),
		realValue(most(p, func(v trace.Vertex) float64 { return v.Depth95M })),
		realValue(most(p, func(v trace.Vertex) float64 { return v.Horizontal95M })),
		realsValue(corners),
		integerValue(counts.Rows), integerValue(counts.Used), integerValue(counts.SetAside),
		textValue(lineHookup(l)), realValue(lineFreqHz(l)),
		realValue(Known(l.Setup.DiameterM)), textValue(l.Setup.Material),
		textValue(ticket), textValue(date), textsValue(words.Remarks(u, l.Centerline.Notes)),
	}
}

// most is the greatest of what is known of a stretch's vertices, Unknown where
// nothing is.
func most(p trace.Part, get func(trace.Vertex) float64) float64 {
	out := trace.Unknown
	for _, v := range p.Vertices {
		if x := get(v); literal.Finite(x) && !(x <= out) {
			out = x
		}
	}
	return out
}

// nullIfNone turns a list in which nothing is known into null.
func nullIfNone(v Value) Value {
	for _, x := range v.Nums {
		if literal.Finite(x) {
			return v
		}
	}
	return Value{Type: v.Type}
}

// CoverM is the read depth to the top of the line.
func CoverM(v trace.Vertex, l trace.LineSetup) float64 {
	return v.DepthM - Known(l.DiameterM)/2
}

// Known turns a length, frequency or power of zero, which nothing has, into
// Unknown.
func Known(v float64) float64 {
	if v <= 0 {
		return trace.Unknown
	}
	return v
}

// lineHookup is what the job states, else what the readings agree on.
func lineHookup(l *trace.Line) string {
	h := l.Setup.Hookup
	if h != "" {
		return string(h)
	}
	for i := range l.Readings {
		switch r := l.Readings[i].Hookup; {
		case r == "" || r == h:
		case h == "":
			h = r
		default:
			return "mixed"
		}
	}
	return string(h)
}

// lineFreqHz is what the job states, else what the readings agree on.
func lineFreqHz(l *trace.Line) float64 {
	f := Known(l.Setup.FreqHz)
	if trace.Known(f) {
		return f
	}
	for i := range l.Readings {
		switch r := Known(l.Readings[i].FreqHz); {
		case !trace.Known(r) || r == f:
		case !trace.Known(f):
			f = r
		default:
			return trace.Unknown
		}
	}
	return f
}

// writableParts readies parts for degrees: long edges get vertices between, and
// no part crosses the antimeridian.
func writableParts(plane geo.Plane, parts []trace.Part) []trace.Part {
	var out []trace.Part
	for _, p := range parts {
		var dense []trace.Vertex
		for i, v := range p.Vertices {
			if i > 0 {
				dense = appendBetween(dense, p.Vertices[i-1], v)
			}
			dense = append(dense, v)
		}
		out = append(out, place.SplitAtAntimeridian(plane, dense)...)
	}
	return out
}

// appendBetween adds the vertices that keep an edge below maxEdgeM.
func appendBetween(out []trace.Vertex, a, b trace.Vertex) []trace.Vertex {
	n := place.EdgePieces(a.Pos, b.Pos)
	for k := 1; k < n; k++ {
		out = append(out, a.Lerp(b, float64(k)/float64(n)))
	}
	return out
}
