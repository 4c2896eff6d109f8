package export

import (
	"fmt"
	"iter"

	"github.com/paulmach/orb"

	"loamline/geo"
	"loamline/trace"
)

// columnType is the type of a property in every format.
type columnType int

const (
	typeText columnType = iota
	typeInteger
	typeReal
	typeBoolean
	typeTexts // a list of texts
	typeReals // a list of numbers, one a vertex
)

// column is one property of a role. Unit is empty for texts and counts.
// Decimals is how finely a real is written: three for metres is a millimetre.
type column struct {
	Name     string
	Type     columnType
	Unit     string
	Decimals int
	Words    string // for the analyst
	Contract bool   // stable: kept as it is through all minor versions
	Always   bool   // never null
	Enum     []string
}

// shape is the kind of geometry of a role.
type shape int

const (
	shapePoint shape = iota
	shapeLine
	shapeArea
)

// layer is one role: what its features look like and where they come from.
// Each yields features whose values are in the order of Columns; the feature is
// only valid until the next one.
type layer struct {
	Role    string
	Shape   shape
	Words   string
	Columns []column
	Each    func(s *trace.Sheet) iter.Seq[*feature]
}

// feature is one feature of a layer. Line and area are in plane metres, a point
// is geographic; a reading without a possible position has no place.
type feature struct {
	Line    string
	Utility trace.Utility
	Path    []geo.XY
	Area    orb.MultiPolygon
	At      geo.LonLat
	NoPlace bool
	Values  []value
}

// commonColumns come before the columns of every role.
var commonColumns = []column{
	{Name: "role", Type: typeText, Words: "what the feature is", Contract: true, Always: true},
	{Name: "line", Type: typeText, Words: "the line that it belongs to", Contract: true, Always: true},
	{Name: "utility", Type: typeText, Words: "class of the uniform colour code for temporary marking", Contract: true, Always: true,
		Enum: []string{"electric", "gas", "communication", "water", "reclaimed", "sewer", "unknown"}},
}

// layers lists every role in the order in which features are written: areas
// first, then what is drawn broadly under a line, so that a viewer that paints in
// file order keeps the lines in sight.
func layers() []layer {
	return []layer{
		cautionLayer, toleranceLayer, recordDifferenceLayer, bleedOverLayer, doubtLayer, gapLayer, centerlineLayer,
		crossingLayer, fieldCheckLayer, exposedCheckLayer, readingLayer,
	}
}

// checkPlace refuses coordinates that are not finite: a bug upstream must not
// become a line on a map.
func (f *feature) checkPlace() error {
	for _, q := range f.Path {
		if !finite(q.X) || !finite(q.Y) {
			return fmt.Errorf("a vertex at %v, %v", q.X, q.Y)
		}
	}
	for _, poly := range f.Area {
		for _, ring := range poly {
			for _, p := range ring {
				if !finite(p[0]) || !finite(p[1]) {
					return fmt.Errorf("a vertex of a zone at %v, %v", p[0], p[1])
				}
			}
		}
	}
	return nil
}

// value is the value of one property; the zero value is null.
type value struct {
	Type  columnType
	Known bool
	Num   float64
	Text  string
	Nums  []float64
	Texts []string
}

func textValue(s string) value { return value{Type: typeText, Known: s != "", Text: s} }

func integerValue(i int) value { return value{Type: typeInteger, Known: true, Num: float64(i)} }

func realValue(v float64) value { return value{Type: typeReal, Known: finite(v), Num: v} }

func textsValue(s []string) value { return value{Type: typeTexts, Known: true, Texts: s} }

func realsValue(v []float64) value { return value{Type: typeReals, Known: true, Nums: v} }

func booleanValue(b bool) value {
	v := value{Type: typeBoolean, Known: true}
	if b {
		v.Num = 1
	}
	return v
}

// finite reports whether a number can be written.
func finite(v float64) bool { return v-v == 0 }
