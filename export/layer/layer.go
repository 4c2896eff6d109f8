package layer

import (
	"fmt"
	"iter"
	"slices"

	"github.com/paulmach/orb"

	"loamline.example/export/literal"
	"loamline.example/geo"
	"loamline.example/trace"
)

// Type is the type of a property in every format.
type Type int

const (
	TypeText Type = iota
	TypeInteger
	TypeReal
	TypeBoolean
	TypeTexts // a list of texts
	TypeReals // a list of numbers, one a vertex
)

// Column is one property of a role. Unit is empty for texts and counts.
// Decimals is how finely a real is written: three for metres is a millimetre.
type Column struct {
	Name     string
	Type     Type
	Unit     string
	Decimals int
	Words    string // for the analyst
	Contract bool   // stable: kept as it is through all minor versions
	Always   bool   // never null
	Enum     []string
	Day      bool // a text that is a day, YYYY-MM-DD: a date where a format has that type
	Instant  bool // a text that is an instant, RFC 3339: a date and time where a format has that type
}

// shape is the kind of geometry of a role.
type shape int

const (
	ShapePoint shape = iota
	ShapeLine
	ShapeArea
)

// Layer is one role: what its features look like and where they come from.
// Each yields features whose values are in the order of Columns; the feature is
// only valid until the next one.
type Layer struct {
	Role    string
	Shape   shape
	Words   string
	Columns []Column
	Each    func(s *trace.Sheet) iter.Seq[*Feature]
}

// Feature is one feature of a layer. Line and area are in plane metres, a point
// is geographic; a reading without a possible position has no place.
type Feature struct {
	Line    string
	Utility trace.Utility
	Path    []geo.XY
	Area    orb.MultiPolygon
	At      geo.LonLat
	NoPlace bool
	Values  []Value
}

// Common come before the columns of every role.
var Common = []Column{
	{Name: "role", Type: TypeText, Words: "what the feature is", Contract: true, Always: true},
	{Name: "line", Type: TypeText, Words: "the line that it belongs to", Contract: true, Always: true},
	{Name: "utility", Type: TypeText, Words: "class of the uniform colour code for temporary marking", Contract: true, Always: true,
		Enum: []string{"electric", "gas", "communication", "water", "reclaimed", "sewer", "unknown"}},
}

// All lists every role in the order in which features are written: areas
// first, then what is drawn broadly under a line, so that a viewer that paints in
// file order keeps the lines in sight.
func All() []Layer {
	return slices.Concat(broadly, plainLayers(ShapeLine), finely, plainLayers(ShapePoint), []Layer{Reading})
}

// The layers with columns of their own: what is drawn broadly, and what is drawn over it.
var (
	broadly = []Layer{cautionLayer, toleranceLayer, recordDifferenceLayer, bleedOverLayer, doubtLayer}
	finely  = []Layer{gapLayer, Centerline, crossingLayer, fieldCheckLayer, exposedCheckLayer}
)

// CheckPlace refuses coordinates that are not finite: a bug upstream must not
// become a line on a map.
func (f *Feature) CheckPlace() error {
	for _, q := range f.Path {
		if !literal.Finite(q.X) || !literal.Finite(q.Y) {
			return fmt.Errorf("a vertex at %v, %v", q.X, q.Y)
		}
	}
	for _, poly := range f.Area {
		for _, ring := range poly {
			for _, p := range ring {
				if !literal.Finite(p[0]) || !literal.Finite(p[1]) {
					return fmt.Errorf("a vertex of a zone at %v, %v", p[0], p[1])
				}
			}
		}
	}
	return nil
}

// Value is the value of one property; the zero value is null.
type Value struct {
	Type  Type
	Known bool
	Num   float64
	Text  string
	Nums  []float64
	Texts []string
}

func textValue(s string) Value { return Value{Type: TypeText, Known: s != "", Text: s} }

func integerValue(i int) Value { return Value{Type: TypeInteger, Known: true, Num: float64(i)} }

func realValue(v float64) Value { return Value{Type: TypeReal, Known: literal.Finite(v), Num: v} }

func textsValue(s []string) Value { return Value{Type: TypeTexts, Known: true, Texts: s} }

func realsValue(v []float64) Value { return Value{Type: TypeReals, Known: true, Nums: v} }

func booleanValue(b bool) Value {
	v := Value{Type: TypeBoolean, Known: true}
	if b {
		v.Num = 1
	}
	return v
}
