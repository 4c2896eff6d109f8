package gpkg

import (
	"fmt"
	"strconv"
	"strings"

	"loamline.example/export/layer"
	"loamline.example/export/literal"
)

// pixelMM is the size of a pixel by which SLD measures (OGC 02-070, 10.1: 0.28 mm).
const pixelMM = 0.28

// layerSLD is the style of a role as a Styled Layer Descriptor, version 1.0.0 (OGC
// 02-070), for map servers and every other GIS: the symbols of layerStyle in a rule
// each, without its labels.
func layerSLD(l layer.Layer) string {
	f := formOf(l)
	attr, symbols := f.by, f.symbols
	filter := func(s symbol) string {
		if attr == "" {
			return ""
		}
		return `<ogc:PropertyIsEqualTo><ogc:PropertyName>` + attr + `</ogc:PropertyName><ogc:Literal>` + literal.XML(s.value) + `</ogc:Literal></ogc:PropertyIsEqualTo>`
	}
	return sld(l.Role, symbols, filter)
}

// sld is a descriptor with a rule for each symbol, for what its filter lets through.
func sld(name string, symbols []symbol, filter func(symbol) string) string {
	var b strings.Builder
	b.WriteString(`<StyledLayerDescriptor version="1.0.0" xmlns="http://www.opengis.net/sld" xmlns:ogc="http://www.opengis.net/ogc"><NamedLayer><Name>` + name + `</Name><UserStyle><Name>` + name + `</Name><FeatureTypeStyle>`)
	for _, s := range symbols {
		b.WriteString(`<Rule>`)
		if f := filter(s); f != "" {
			fmt.Fprintf(&b, `<Name>%s</Name><Title>%s</Title><ogc:Filter>%s</ogc:Filter>`, literal.XML(s.value), literal.XML(s.label), f)
		}
		for _, y := range s.layers {
			b.WriteString(y.sld())
		}
		b.WriteString(`</Rule>`)
	}
	b.WriteString(`</FeatureTypeStyle></UserStyle></NamedLayer></StyledLayerDescriptor>`)
	return b.String()
}

func (y symbolLayer) prop(name string) string {
	for _, kv := range y.props {
		if kv[0] == name {
			return kv[1]
		}
	}
	return ""
}

// sld is a symbolizer with what the layer of the QML has.
func (y symbolLayer) sld() string {
	switch y.class {
	case "SimpleLine":
		var dash []string
		for _, mm := range strings.FieldsFunc(y.prop("customdash"), func(r rune) bool { return r == ';' }) {
			dash = append(dash, pixels(mm))
		}
		return `<LineSymbolizer>` + sldStroke(y.prop("line_color"), y.prop("line_width"), strings.Join(dash, " ")) + `</LineSymbolizer>`
	case "SimpleFill":
		return `<PolygonSymbolizer>` + sldFill(y.prop("color")) + sldStroke(y.prop("outline_color"), y.prop("outline_width"), "") + `</PolygonSymbolizer>`
	}
	// The marks that SLD knows by name; a diamond is a square on its corner.
	name, rotation := y.prop("name"), ""
	switch name {
	case "cross2":
		name = "x"
	case "diamond":
		name, rotation = "square", `<Rotation>45</Rotation>`
	}
	return `<PointSymbolizer><Graphic><Mark><WellKnownName>` + name + `</WellKnownName>` + sldFill(y.prop("color")) +
		sldStroke(y.prop("outline_color"), y.prop("outline_width"), "") + `</Mark><Size>` + pixels(y.prop("size")) + `</Size>` + rotation + `</Graphic></PointSymbolizer>`
}

func sldFill(color string) string {
	hex, opacity := sldColor(color)
	return `<Fill><CssParameter name="fill">` + hex + `</CssParameter><CssParameter name="fill-opacity">` + opacity + `</CssParameter></Fill>`
}

func sldStroke(color, widthMM, dash string) string {
	hex, opacity := sldColor(color)
	s := `<Stroke><CssParameter name="stroke">` + hex + `</CssParameter><CssParameter name="stroke-opacity">` + opacity +
		`</CssParameter><CssParameter name="stroke-width">` + pixels(widthMM) + `</CssParameter>`
	if dash != "" {
		s += `<CssParameter name="stroke-dasharray">` + dash + `</CssParameter>`
	}
	return s + `</Stroke>`
}

// sldColor is a colour of the QML, red, green, blue and alpha, as SLD has it.
func sldColor(color string) (hex, opacity string) {
	var c [4]uint64
	for i, part := range strings.Split(color, ",") {
		c[i], _ = strconv.ParseUint(part, 10, 8)
	}
	return fmt.Sprintf("#%02X%02X%02X", c[0], c[1], c[2]), literal.Trim(float64(c[3])/255, 2)
}

func pixels(mm string) string {
	v, _ := strconv.ParseFloat(mm, 64)
	return literal.Trim(v/pixelMM, 2)
}
