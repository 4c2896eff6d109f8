package gpkg

import (
	"fmt"
	"strconv"
	"strings"

	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// putStyles writes layer_styles, the table in which the open GIS convention
// keeps a style a layer; useAsDefault makes a desktop GIS take it on loading.
// Lines and zones are told apart by colour, dash and label.
func (p *writer) putStyles() error {
	for _, l := range layer.AllWithVertices() {
		if err := p.putLayerStyle(l); err != nil {
			return err
		}
	}
	return nil
}

func (p *writer) putLayerStyle(l layer.Layer) error {
	return p.putStyle(l.Role, words.RoleTitle(l.Role), layerStyle(l), layerSLD(l))
}

func (p *writer) putStyle(table, title, qml, sld string) error {
	return p.exec(`INSERT INTO layer_styles (f_table_catalog, f_table_schema, f_table_name, f_geometry_column, styleName,
	 styleQML, styleSLD, useAsDefault, description, owner, update_time) VALUES ('', '', ?, 'geom', ?, ?, ?, 1, ?, '', ?)`,
		table, table, qml, sld, title, p.stamp)
}

// symbol is one symbol of a renderer: a value of the attribute, its legend and
// its layers.
type symbol struct {
	value, label, kind string
	layers             []symbolLayer
}

type symbolLayer struct {
	class string
	props [][2]string
}

// layerStyle is the style of a role in QML, the style format of a common desktop
// GIS, version 3.
func layerStyle(l layer.Layer) string {
	f := formOf(l)
	attr, symbols, label := f.by, f.symbols, f.label
	var b strings.Builder
	b.WriteString(qmlHead(label))
	if attr == "" {
		b.WriteString(`<renderer-v2 type="singleSymbol" symbollevels="0" enableorderby="0" forceraster="0">`)
	} else {
		b.WriteString(`<renderer-v2 type="categorizedSymbol" attr="` + attr + `" symbollevels="0" enableorderby="0" forceraster="0"><categories>`)
		for i, s := range symbols {
			fmt.Fprintf(&b, `<category symbol="%d" value="%s" label="%s" render="true"/>`, i, literal.XML(s.value), literal.XML(s.label))
		}
		b.WriteString(`</categories>`)
	}
	writeSymbols(&b, symbols)
	b.WriteString(`</renderer-v2>`)
	b.WriteString(labelStyle(label))
	b.WriteString(`</qgis>`)
	return b.String()
}

func qmlHead(label string) string {
	return `<qgis version="3.22.0" styleCategories="Symbology|Labeling" labelsEnabled="` + flag01(label != "") + `">`
}

func writeSymbols(b *strings.Builder, symbols []symbol) {
	b.WriteString(`<symbols>`)
	for i, s := range symbols {
		fmt.Fprintf(b, `<symbol type="%s" name="%d" alpha="1" clip_to_extent="1" force_rhr="0">`, s.kind, i)
		for _, y := range s.layers {
			b.WriteString(`<layer class="` + y.class + `" enabled="1" pass="0" locked="0">`)
			for _, kv := range y.props {
				b.WriteString(`<prop k="` + kv[0] + `" v="` + literal.XML(kv[1]) + `"/>`)
			}
			b.WriteString(`</layer>`)
		}
		b.WriteString(`</symbol>`)
	}
	b.WriteString(`</symbols>`)
}

// form is how a role is drawn: the attribute that its features are told apart by, a
// symbol for each value, and the expression that labels them, or none.
type form struct {
	by      string
	symbols []symbol
	label   string
}

// forms are the roles that have a form of their own.
var forms = map[string]form{
	trace.RoleCenterline:         {"utility", byUtility("line", func(s style.Style) symbolLayer { return lineSymbol(s.Hex, 255, 0.8, s.Dash) }), lineLabel()},
	trace.RoleToleranceZone:      {by: "utility", symbols: byUtility("fill", func(s style.Style) symbolLayer { return fillSymbol(s.Hex, 60, 0.3) })},
	trace.RoleCautionZone:        {by: "utility", symbols: byUtility("fill", func(s style.Style) symbolLayer { return fillSymbol(s.Hex, 30, 0.15) })},
	trace.RoleVertex:             {by: "utility", symbols: byUtility("marker", func(s style.Style) symbolLayer { return markerSymbol("circle", s.Hex, 1.2) })},
	finding.RoleBleedOver:        {"grade", byGrade(), `'bleed-over: ' || "grade"`},
	finding.RoleGap:              {"", []symbol{{kind: "line", layers: []symbolLayer{lineSymbol(style.WarningHex, 255, 0.5, []float64{4, 4})}}}, `'not traced'`},
	finding.RoleDoubt:            {"", anyLine, `'in doubt'`},
	finding.RoleRecordDifference: {symbols: []symbol{{kind: "line", layers: []symbolLayer{lineSymbol("#7A7A7A", 140, 1.6, nil)}}}},
	trace.RoleReading:            {by: "status", symbols: byStatus()},
	finding.RoleFieldCheck: {by: "passed", symbols: []symbol{
		{"1", "no sign of trouble", "marker", []symbolLayer{markerSymbol("triangle", "#FFFFFF", 2.2)}},
		{"0", "failed", "marker", []symbolLayer{markerSymbol("triangle", style.WarningHex, 2.6)}},
	}},
}

// anyLine and anyPoint are the forms of a role that has none of its own.
var (
	anyLine  = []symbol{{kind: "line", layers: []symbolLayer{lineSymbol(style.WarningHex, 150, 1.6, nil)}}}
	anyPoint = []symbol{{kind: "marker", layers: []symbolLayer{markerSymbol("diamond", "#FFFFFF", 2.6)}}}
)

func formOf(l layer.Layer) form {
	f, own := forms[l.Role]
	switch {
	case own:
	case l.Shape == layer.ShapeLine:
		f.symbols = anyLine
	default:
		f.symbols = anyPoint
	}
	return f
}

func byGrade() (out []symbol) {
	for _, g := range []trace.Grade{trace.GradeWatch, trace.GradeSuspect, trace.GradeStrong} {
		out = append(out, symbol{string(g), words.Grade(g), "line", []symbolLayer{lineSymbol(style.WarningHex, style.GradeAlpha(g), 0.8*style.GradeWidth(g), nil)}})
	}
	return out
}

func byStatus() (out []symbol) {
	for _, st := range []struct {
		of   trace.Status
		mark string
	}{{trace.StatusUsed, "cross"}, {trace.StatusSetAside, "cross2"}, {trace.StatusCheck, "triangle"}, {trace.StatusExposed, "square"}} {
		out = append(out, symbol{string(st.of), words.Status(st.of), "marker", []symbolLayer{markerSymbol(st.mark, "#303030", 1.8)}})
	}
	return out
}

func byUtility(kind string, draw func(style.Style) symbolLayer) (out []symbol) {
	for _, s := range style.All() {
		out = append(out, symbol{string(s.Utility), s.Name + " (" + s.Code + ")", kind, []symbolLayer{draw(s)}})
	}
	return out
}

// qmlColor is red, green, blue, alpha.
func qmlColor(hex string, alpha uint8) string {
	v, _ := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	return fmt.Sprintf("%d,%d,%d,%d", v>>16, v>>8&255, v&255, alpha)
}

func lineSymbol(hex string, alpha uint8, widthMM float64, dash []float64) symbolLayer {
	props := [][2]string{
		{"line_color", qmlColor(hex, alpha)}, {"line_width", literal.Trim(widthMM, 2)}, {"line_width_unit", "MM"},
		{"line_style", "solid"}, {"capstyle", "flat"}, {"joinstyle", "round"},
	}
	if dash != nil {
		var mm []string
		for _, d := range dash {
			mm = append(mm, literal.Trim(d*widthMM, 2))
		}
		props = append(props, [2]string{"use_custom_dash", "1"}, [2]string{"customdash", strings.Join(mm, ";")}, [2]string{"customdash_unit", "MM"})
	}
	return symbolLayer{"SimpleLine", props}
}

func fillSymbol(hex string, alpha uint8, outlineMM float64) symbolLayer {
	return symbolLayer{"SimpleFill", [][2]string{
		{"color", qmlColor(hex, alpha)}, {"style", "solid"}, {"outline_color", qmlColor(hex, 255)},
		{"outline_width", literal.Trim(outlineMM, 2)}, {"outline_width_unit", "MM"}, {"outline_style", "solid"},
	}}
}

func markerSymbol(name, hex string, sizeMM float64) symbolLayer {
	return symbolLayer{"SimpleMarker", [][2]string{
		{"name", name}, {"color", qmlColor(hex, 255)}, {"outline_color", "0,0,0,255"}, {"outline_width", "0.3"},
		{"outline_width_unit", "MM"}, {"size", literal.Trim(sizeMM, 2)}, {"size_unit", "MM"},
	}}
}

// lineLabel labels a line by its name and the letters of its utility.
func lineLabel() string {
	var b strings.Builder
	b.WriteString(`"line" || ' ' || CASE`)
	for _, s := range style.All() {
		b.WriteString(` WHEN "utility" = '` + string(s.Utility) + `' THEN '` + s.Code + `'`)
	}
	b.WriteString(" END")
	return b.String()
}

func labelStyle(expression string) string {
	if expression == "" {
		return ""
	}
	return `<labeling type="simple"><settings><text-style fieldName="` + literal.XML(expression) + `" isExpression="1" fontSize="8" fontSizeUnit="Point"` +
		` textColor="0,0,0,255"><text-buffer bufferDraw="1" bufferSize="1" bufferSizeUnits="MM" bufferColor="255,255,255,255"/></text-style>` +
		`<placement placement="2" placementFlags="10"/></settings></labeling>`
}

func flag01(b bool) string {
	if b {
		return "1"
	}
	return "0"
}
