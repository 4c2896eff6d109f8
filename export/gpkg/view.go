package gpkg

import (
	"database/sql"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"loamline.example/export/literal"
	"loamline.example/trace"
)

// view is a layer of centerlines that a GIS opens coloured by one of their figures:
// where lines lie shallow, and how sure the map is. It has no column that is reckoned:
// the standard wants the type of each, and SQLite tells none of those.
type view struct {
	name, title, words string
	column             string // of the centerlines, metres
	none               string // what is said where the figure is not known
	steps              []viewStep
}

// viewStep is a class of up to a figure; the last has no end.
type viewStep struct {
	belowM     float64 // 0 for no end
	label, hex string
}

// Shallow and unsure lines are the dark ones: they are what must not be overlooked.
var views = []view{
	{"centerline_by_depth", "Lines by least depth", "lines by the shallowest place of each part, ground to the centre of the line", "depth_min_m", "depth not known", []viewStep{
		{0.5, "shallower than 0.5 m (20 in)", "#7A0177"}, {1, "0.5 to 1 m (20 to 39 in)", "#C51B8A"}, {2, "1 to 2 m (39 to 79 in)", "#F768A1"}, {0, "2 m (79 in) and deeper", "#FBB4B9"}}},
	{"centerline_by_band", "Lines by how sure they are", "lines by the widest 95 % band of each part, to either side", "horizontal_95_max_m", "band not known", []viewStep{
		{0.1, "within 0.1 m (4 in)", "#BDD7E7"}, {0.3, "within 0.1 to 0.3 m (4 to 12 in)", "#6BAED6"}, {1, "within 0.3 to 1 m (12 to 39 in)", "#3182BD"}, {0, "1 m (39 in) and more", "#08306B"}}},
}

// unknownHex is the colour of a line whose figure is not known.
const unknownHex = "#1A1A1A"

func (v view) sql() string {
	return `CREATE VIEW "` + v.name + `" AS SELECT fid AS OGC_FID, geom, job, line, utility, part, ` + v.column + ` FROM centerline`
}

// symbols are one a step, told by its number, and one for what is not known, which is
// dashed.
func (v view) symbols() []symbol {
	var out []symbol
	for i, s := range v.steps {
		out = append(out, symbol{strconv.Itoa(i), s.label, "line", []symbolLayer{lineSymbol(s.hex, 255, 1, nil)}})
	}
	return append(out, symbol{strconv.Itoa(len(v.steps)), v.none, "line", []symbolLayer{lineSymbol(unknownHex, 255, 1, []float64{3, 2})}})
}

// between are the limits of a step, as text; empty where there is none.
func (v view) between(step int) (from, below string) {
	if step > 0 {
		from = literal.Trim(v.steps[step-1].belowM, 3)
	}
	if v.steps[step].belowM > 0 {
		below = literal.Trim(v.steps[step].belowM, 3)
	}
	return from, below
}

// filter is the condition of a symbol in the language of expressions, which is that
// of SQL.
func (v view) filter(symbol int) string {
	if symbol == len(v.steps) {
		return `"` + v.column + `" IS NULL`
	}
	from, below := v.between(symbol)
	var out []string
	if from != "" {
		out = append(out, `"`+v.column+`" >= `+from)
	}
	if below != "" {
		out = append(out, `"`+v.column+`" < `+below)
	}
	return strings.Join(out, " AND ")
}

func (v view) qml() string {
	var b strings.Builder
	b.WriteString(qmlHead(forms[trace.RoleCenterline].label) + `<renderer-v2 type="RuleRenderer" symbollevels="0" enableorderby="0" forceraster="0"><rules key="all">`)
	for i, s := range v.symbols() {
		fmt.Fprintf(&b, `<rule key="%d" symbol="%d" label="%s" filter="%s"/>`, i, i, literal.XML(s.label), literal.XML(v.filter(i)))
	}
	b.WriteString(`</rules>`)
	writeSymbols(&b, v.symbols())
	b.WriteString(`</renderer-v2>` + labelStyle(forms[trace.RoleCenterline].label) + `</qgis>`)
	return b.String()
}

func (v view) sld() string {
	property := `<ogc:PropertyName>` + v.column + `</ogc:PropertyName>`
	return sld(v.name, v.symbols(), func(s symbol) string {
		step, err := strconv.Atoi(s.value)
		if err != nil || step == len(v.steps) {
			return `<ogc:PropertyIsNull>` + property + `</ogc:PropertyIsNull>`
		}
		from, below := v.between(step)
		var out string
		if from != "" {
			out += `<ogc:PropertyIsGreaterThanOrEqualTo>` + property + `<ogc:Literal>` + from + `</ogc:Literal></ogc:PropertyIsGreaterThanOrEqualTo>`
		}
		if below != "" {
			out += `<ogc:PropertyIsLessThan>` + property + `<ogc:Literal>` + below + `</ogc:Literal></ogc:PropertyIsLessThan>`
		}
		if from != "" && below != "" {
			out = `<ogc:And>` + out + `</ogc:And>`
		}
		return out
	})
}

// putViews makes the views where they are not there yet: an archive of an earlier
// version of the program gets them with its next job.
func (p *writer) putViews() error {
	for _, v := range views {
		var there string
		err := p.tx.QueryRow(`SELECT name FROM sqlite_master WHERE name = ?`, v.name).Scan(&there)
		if err == nil {
			continue
		}
		if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		err = p.steps(
			func() error { return p.exec(v.sql()) },
			func() error {
				return p.exec(`INSERT INTO gpkg_contents (table_name, data_type, identifier, description, last_change, srs_id)
				 SELECT ?, 'features', ?, ?, ?, srs_id FROM gpkg_contents WHERE table_name = 'centerline'`, v.name, v.title, v.words, p.stamp)
			},
			func() error {
				return p.exec(`INSERT INTO gpkg_geometry_columns SELECT ?, 'geom', geometry_type_name, srs_id, z, m FROM gpkg_geometry_columns WHERE table_name = 'centerline'`, v.name)
			},
			func() error {
				return p.putStyle(v.name, v.title, v.qml(), v.sld())
			})
		if err != nil {
			return err
		}
	}
	return nil
}
