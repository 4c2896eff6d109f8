package kml

import (
	"strconv"

	"github.com/twpayne/go-kml/v3"

	"loamline.example/export/layer"
	"loamline.example/export/style"
)

// kmlSchemas declares the properties of every role, so that a GIS that reads
// the file gets them with types. Lists are JSON texts: KML 2.2 has none.
func kmlSchemas(ls []layer.Layer) []kml.Element {
	var out []kml.Element
	for _, l := range ls {
		s := kml.NamedSchema("properties-"+l.Role, l.Role)
		for _, c := range append(append([]layer.Column(nil), layer.Common...), l.Columns...) {
			f := kml.SimpleField(c.Name, kmlType(c.Type))
			if c.Unit != "" {
				f.Append(kml.DisplayName(c.Name + " (" + c.Unit + ")"))
			}
			s.Append(f)
		}
		out = append(out, s)
	}
	return out
}

func kmlType(t layer.Type) string {
	switch t {
	case layer.TypeInteger:
		return "int"
	case layer.TypeReal:
		return "double"
	case layer.TypeBoolean:
		return "bool"
	}
	return "string"
}

// kmlData holds the properties of a feature; what is not known is left out.
func kmlData(l layer.Layer, f *layer.Feature) kml.Element {
	d := kml.SchemaData("#properties-"+l.Role, kml.SimpleData("role", l.Role), kml.SimpleData("line", f.Line),
		kml.SimpleData("utility", string(style.Of(f.Utility).Utility)))
	for i, c := range l.Columns {
		v := f.Values[i]
		if !v.Known {
			continue
		}
		text := v.Text
		switch c.Type {
		case layer.TypeText:
		case layer.TypeBoolean:
			text = strconv.Itoa(int(v.Num))
		default:
			text = string(layer.AppendJSON(nil, c, v))
		}
		d.Append(kml.SimpleData(c.Name, text))
	}
	return kml.ExtendedData(d)
}
