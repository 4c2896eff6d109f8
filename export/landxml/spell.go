package landxml

import (
	"strconv"

	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/place"
)

// decimals of a coordinate: a tenth of a millimetre, or less of a foot.
const decimals = 4

func (d *document) raw(s string) { d.out.WriteString(s) }

func (d *document) indent() {
	for range d.depth {
		d.out.WriteByte(' ')
	}
}

// tag writes the beginning of an element with those of its attributes, in pairs of
// name and value, that say something.
func (d *document) tag(name string, attributes []string) {
	d.indent()
	d.raw("<" + name)
	for i := 0; i+1 < len(attributes); i += 2 {
		if attributes[i+1] != "" {
			d.raw(" " + attributes[i] + "=\"" + literal.XML(attributes[i+1]) + "\"")
		}
	}
}

func (d *document) open(name string, attributes ...string) {
	d.tag(name, attributes)
	d.raw(">\n")
	d.depth++
}

func (d *document) end(name string) {
	d.depth--
	d.indent()
	d.raw("</" + name + ">\n")
}

func (d *document) empty(name string, attributes ...string) {
	d.tag(name, attributes)
	d.raw("/>\n")
}

// property is one piece of data; one that is not known is left out.
func (d *document) property(label, value string) {
	if value != "" {
		d.empty("Property", "label", label, "value", value)
	}
}

// column is a property for each value of a column: a list of numbers is one, with
// blanks between as LandXML has its lists, and a list of texts one a text.
func (d *document) column(c layer.Column, v layer.Value) {
	if !v.Known {
		return
	}
	switch c.Type {
	case layer.TypeText:
		d.property(c.Name, v.Text)
	case layer.TypeTexts:
		for _, t := range v.Texts {
			d.property(c.Name, t)
		}
	case layer.TypeReals:
		var b []byte
		for i, x := range v.Nums {
			if i > 0 {
				b = append(b, ' ')
			}
			if !literal.Finite(x) {
				b = append(b, "unknown"...)
				continue
			}
			b = literal.AppendReal(b, x, c.Decimals)
		}
		d.property(c.Name, string(b))
	default:
		d.property(c.Name, string(layer.AppendJSON(nil, c, v)))
	}
}

// located writes an element whose text is a position, or several, with elevations
// where they are given.
func (d *document) located(name string, path []place.XY, heights []float64, attributes ...string) {
	d.tag(name, attributes)
	d.raw(">")
	var b []byte
	for i, p := range path {
		if i > 0 {
			b = append(b, ' ')
		}
		b = strconv.AppendFloat(b, p.Y, 'f', decimals, 64)
		b = append(b, ' ')
		b = strconv.AppendFloat(b, p.X, 'f', decimals, 64)
		if heights != nil {
			b = append(b, ' ')
			b = strconv.AppendFloat(b, heights[i], 'f', decimals, 64)
		}
	}
	d.out.Write(b)
	d.raw("</" + name + ">\n")
}

// course is a run of positions: a straight is a Line, anything else an IrregularLine
// whose list has its two ends too.
func (d *document) course(path []place.XY, heights []float64, desc string) {
	name, list := "Line", ""
	if len(path) > 2 {
		name, list = "IrregularLine", "PntList2D"
		if heights != nil {
			list = "PntList3D"
		}
	}
	at := func(i int) []float64 {
		if heights == nil {
			return nil
		}
		return heights[i : i+1]
	}
	last := len(path) - 1
	d.open("CoordGeom", "desc", desc)
	d.open(name)
	d.located("Start", path[:1], at(0))
	d.located("End", path[last:], at(last))
	if list != "" {
		d.located(list, path, heights)
	}
	d.end(name)
	d.end("CoordGeom")
}
