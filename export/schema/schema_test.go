package schema_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"loamline.example/export/geojson"
	"loamline.example/export/internal/check"
	"loamline.example/export/internal/sample"
	"loamline.example/export/layer"
	"loamline.example/export/schema"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// The published schema and its table are made from the layers, so that they
// cannot differ from what is written.
func TestSchemaIsMadeFromTheLayers(t *testing.T) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(schemaOf(layer.All())); err != nil {
		t.Fatal(err)
	}
	check.Golden(t, "../loamline-"+schema.Version+".schema.json", b.Bytes())
	check.Golden(t, "../README.md", []byte(schemaReadme(layer.All())))
}

type object = map[string]any

func schemaOf(ls []layer.Layer) object {
	kinds := []any{}
	defs := object{
		"position": object{"type": "array", "minItems": 2, "maxItems": 2, "prefixItems": []any{
			object{"type": "number", "minimum": -180, "maximum": 180}, object{"type": "number", "minimum": -90, "maximum": 90},
		}},
		"path":  object{"type": "array", "minItems": 2, "items": ref("position")},
		"ring":  object{"type": "array", "minItems": 4, "items": ref("position")},
		"Point": geometrySchema("Point", ref("position")), "LineString": geometrySchema("LineString", ref("path")),
		"MultiLineString": geometrySchema("MultiLineString", object{"type": "array", "minItems": 2, "items": ref("path")}),
		"Polygon":         geometrySchema("Polygon", object{"type": "array", "minItems": 1, "items": ref("ring")}),
		"MultiPolygon": geometrySchema("MultiPolygon", object{"type": "array", "minItems": 2,
			"items": object{"type": "array", "minItems": 1, "items": ref("ring")}}),
		"loamline": memberSchema(),
	}
	for _, l := range ls {
		defs[l.Role] = featureSchema(l)
		kinds = append(kinds, ref(l.Role))
	}
	return object{
		"$schema":     "https://json-schema.org/draft/2020-12/schema",
		"$id":         "urn:loamline:geojson:" + schema.Version,
		"title":       "loamline map, GeoJSON",
		"description": "One RFC 7946 FeatureCollection a job. Lengths in metres, positions WGS 84 longitude and latitude.",
		"type":        "object",
		"required":    []string{"type", "loamline", "features"},
		"properties": object{
			"type": object{"const": "FeatureCollection"},
			"bbox": object{"type": "array", "minItems": 4, "maxItems": 4, "items": object{"type": "number"}},
			"crs":  false, "loamline": ref("loamline"),
			"features": object{"type": "array", "items": object{"oneOf": kinds}},
		},
		"$defs": defs,
	}
}

func ref(name string) object { return object{"$ref": "#/$defs/" + name} }

func geometrySchema(name string, coordinates any) object {
	return object{"type": "object", "required": []string{"type", "coordinates"},
		"properties": object{"type": object{"const": name}, "coordinates": coordinates, "crs": false}}
}

func featureSchema(l layer.Layer) object {
	props, names := object{}, []string{}
	for _, c := range append(append([]layer.Column(nil), layer.Common...), l.Columns...) {
		names = append(names, c.Name)
		props[c.Name] = columnSchema(c)
	}
	props["role"] = object{"const": l.Role}
	geometry := []any{object{"type": "null"}}
	for _, g := range geometryTypes(l) {
		geometry = append(geometry, ref(g))
	}
	return object{
		"type": "object", "description": l.Words, "required": []string{"type", "id", "geometry", "properties"},
		"properties": object{
			"type": object{"const": "Feature"}, "id": object{"type": "string"}, "geometry": object{"oneOf": geometry},
			"properties": object{"type": "object", "required": names, "properties": props},
		},
	}
}

func geometryTypes(l layer.Layer) []string {
	switch {
	case l.Shape == layer.ShapePoint:
		return []string{"Point"}
	case l.Shape == layer.ShapeArea:
		return []string{"Polygon", "MultiPolygon"}
	case l.Role == "centerline":
		return []string{"LineString"}
	}
	return []string{"LineString", "MultiLineString"}
}

func columnSchema(c layer.Column) object {
	out := object{"description": c.Words}
	if c.Unit != "" {
		out["description"] = c.Words + " (" + c.Unit + ")"
	}
	name := map[layer.Type]string{layer.TypeText: "string", layer.TypeInteger: "integer", layer.TypeReal: "number", layer.TypeBoolean: "boolean",
		layer.TypeTexts: "array", layer.TypeReals: "array"}[c.Type]
	out["type"] = name
	if !c.Always {
		out["type"] = []string{name, "null"}
	}
	switch c.Type {
	case layer.TypeTexts:
		out["items"] = object{"type": "string"}
	case layer.TypeReals:
		out["items"] = object{"type": []string{"number", "null"}}
	}
	if c.Enum != nil {
		enum := []any{}
		for _, e := range c.Enum {
			enum = append(enum, e)
		}
		if !c.Always {
			enum = append(enum, nil)
		}
		out["enum"] = enum
	}
	return out
}

func memberSchema() object {
	text, texts, count := object{"type": "string"}, object{"type": "array", "items": object{"type": "string"}}, object{"type": "integer", "minimum": 0}
	counts := object{}
	for _, n := range countNames {
		counts[n] = count
	}
	list := func(required []string, props object) object {
		return object{"type": "array", "items": object{"type": "object", "required": required, "properties": props}}
	}
	return object{
		"type":     "object",
		"required": []string{"version", "schema", "job", "frame", "settings", "inputs", "counts", "lines", "problems", "cautions", "advice"},
		"properties": object{
			"version": text, "schema": object{"type": "string", "pattern": `^2\.`}, "job": text, "frame": text,
			"settings": object{"type": "object", "required": []string{"ticket", "date", "units", "crs", "datum", "tolerance"},
				"properties": object{"job_id": object{"type": "string", "description": "what the job goes by in an archive, where that is stated"}}},
			"inputs":   list([]string{"name", "sha256"}, object{"name": text, "sha256": object{"type": "string", "pattern": "^[0-9a-f]{64}$"}}),
			"counts":   object{"type": "object", "required": countNames, "properties": counts},
			"lines":    list([]string{"name", "utility", "traced_m", "checked", "statements", "try_next"}, object{"name": text, "utility": columnSchema(layer.Common[2]), "traced_m": object{"type": "number"}, "checked": texts, "statements": texts, "try_next": texts}),
			"problems": list([]string{"file", "row", "column", "field", "value", "cause", "hint", "warning"}, object{"row": count, "column": count, "cause": text}),
			"cautions": texts,
			"advice":   list([]string{"line", "from_m", "to_m", "kind", "words"}, object{"line": text, "from_m": object{"type": []string{"number", "null"}}, "to_m": object{"type": []string{"number", "null"}}, "kind": text, "words": text}),
		},
	}
}

var countNames = []string{"rows", "used", "set_aside", "check", "exposed", "unreadable"}

func compiled(t *testing.T, url string, text []byte) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(url, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(url)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// ourSchema is the published one as it lies on the disk, where -update may just have
// remade it; what the program holds was compiled in before.
func ourSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := os.ReadFile("loamline-" + schema.Version + ".schema.json")
	if err != nil {
		t.Fatal(err)
	}
	if !*check.Update && !bytes.Equal(text, schema.JSON) {
		t.Error("the program holds another schema than lies beside it")
	}
	return compiled(t, "urn:loamline:geojson:"+schema.Version, text)
}

// Every golden and every odd sheet, against our schema and against the published
// schema of GeoJSON (testdata/SOURCES.md).
func TestWrittenGeoJSONFitsBothSchemas(t *testing.T) {
	published, err := os.ReadFile("../../testdata/geojson/schema/GeoJSON.json")
	if err != nil {
		t.Fatal(err)
	}
	ours := ourSchema(t)
	theirs := compiled(t, "urn:geojson", published)
	texts := map[string][]byte{
		"every kind":   check.Write(t, sample.EveryKind(), geojson.Write),
		"antimeridian": check.Write(t, sample.Moved(sample.EveryKind(), geo.LonLat{LonDeg: 179.9998, LatDeg: -17}), geojson.Write),
		"nothing":      check.Write(t, &trace.Sheet{Plane: geo.NewPlane(geo.LonLat{})}, geojson.Write),
	}
	goldens, _ := filepath.Glob("../geojson/testdata/*.geojson")
	examples, _ := filepath.Glob("../../examples/*/*.geojson")
	for _, path := range append(goldens, examples...) {
		if strings.Contains(path, "reference") || strings.Contains(path, "record") {
			continue // an input, not ours
		}
		if texts[path], err = os.ReadFile(path); err != nil {
			t.Fatal(err)
		}
	}
	if len(goldens) == 0 {
		t.Error("no golden")
	}
	for name, text := range texts {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(text[:min(200, len(text))], []byte(`"loamline"`)) {
			continue
		}
		if err := ours.Validate(doc); err != nil {
			t.Errorf("%s: %.600v", name, err)
		}
		if v := check.Violations(text); len(v) > 0 {
			t.Errorf("%s: %q", name, v)
		}
		if err := theirs.Validate(doc); err != nil {
			t.Errorf("%s: published schema: %v", name, err)
		}
	}
}

// A schema that lets everything pass would be worthless.
func TestSchemaRefuses(t *testing.T) {
	ours := ourSchema(t)
	good := string(check.Write(t, sample.Sheet(), geojson.Write))
	for name, change := range map[string][2]string{
		"unknown role":     {`"role":"gap"`, `"role":"hole"`},
		"unknown grade":    {`"grade":"strong"`, `"grade":"sure"`},
		"text for depth":   {`"depth_m":[1.04,`, `"depth_m":["1.04",`},
		"null station":     {`"part":1,`, `"part":null,`},
		"missing counts":   {`"counts":`, `"sums":`},
		"swapped position": {`[-71.502,44.103]`, `[44.103,-171.502]`},
		"crs":              {`{"type":"FeatureCollection",`, `{"type":"FeatureCollection","crs":{},`},
		"wrong geometry":   {`{"type":"LineString"`, `{"type":"MultiPoint"`},
		"foreign utility":  {`"utility":"water"`, `"utility":"milk"`},
	} {
		bad := strings.Replace(good, change[0], change[1], 1)
		if bad == good {
			t.Fatalf("%s: nothing was changed", name)
		}
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(bad))
		if err != nil {
			t.Fatal(err)
		}
		if ours.Validate(doc) == nil {
			t.Errorf("%s passes", name)
		}
	}
}

func schemaReadme(ls []layer.Layer) string {
	var b strings.Builder
	b.WriteString(schemaIntro)
	for _, l := range ls {
		fmt.Fprintf(&b, "\n### `%s` (%s)\n\n%s.\n\n", l.Role, strings.Join(geometryTypes(l), " or "), words.Capital(l.Words))
		b.WriteString("| field | type | unit | null | meaning |\n| --- | --- | --- | --- | --- |\n")
		for _, c := range l.Columns {
			null, name := "yes", "`"+c.Name+"`"
			if c.Always {
				null = "no"
			}
			if !c.Contract {
				name += " ¹"
			}
			words := c.Words
			if c.Enum != nil && !strings.Contains(words, c.Enum[0]) {
				words += ": " + strings.Join(c.Enum, ", ")
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", name, typeWords(c.Type), c.Unit, null, words)
		}
	}
	b.WriteString("\n¹ An addition to the stable fields: a minor version may change it.\n")
	return b.String()
}

func typeWords(t layer.Type) string {
	return map[layer.Type]string{layer.TypeText: "text", layer.TypeInteger: "integer", layer.TypeReal: "real", layer.TypeBoolean: "boolean",
		layer.TypeTexts: "list of texts", layer.TypeReals: "list of reals"}[t]
}

const schemaIntro = `# Fields of the map

One job is one FeatureCollection of RFC 7946. Positions are WGS 84, longitude
then latitude, in degrees with at most 8 decimals (1 mm). Every length is in
metres on the ground, written to the millimetre, which is how finely it is
written and not how well it is known. A number that is not known is null.

` + "`loamline-2.0.schema.json`" + ` is the JSON Schema (draft 2020-12). Its version stands
in ` + "`loamline.schema`" + `: the major number changes when a stable field changes or
goes, the minor one when something is added. Readers should skip what they do
not know.

| format | where the fields are |
| --- | --- |
| GeoJSON | ` + "`properties`" + ` of each feature |
| KML | ` + "`ExtendedData`" + ` of each placemark, a ` + "`Schema`" + ` per role; lists are JSON texts |
| GeoPackage | a table per role, named as the role; lists are JSON texts, days and instants (UTC, to the millisecond) of their own types, and ` + "`centerline_vertex`" + ` has a row per vertex |
| PostGIS | a table per role, named as the role, with the job's key; lists are arrays, days and instants of their own types |
| CSV | ` + "`…-lines.csv`" + ` a row per vertex, ` + "`…-stakeout.csv`" + ` a row per point to stake out, with its ties, ` + "`…-readings.csv`" + ` a row per reading, ` + "`…-records.csv`" + ` a row per station compared with a record; their cautions are in ` + "`…-cautions.txt`" + ` |

## The member ` + "`loamline`" + `

| field | type | meaning |
| --- | --- | --- |
| ` + "`version`" + ` | text | version of the program |
| ` + "`schema`" + ` | text | version of these fields |
| ` + "`job`" + ` | text | name of the job |
| ` + "`frame`" + ` | text | datum of the input and what was done to get to WGS 84 |
| ` + "`settings`" + ` | object | the job file's keys as used, defaults filled in; lengths in metres |
| ` + "`inputs`" + ` | list | ` + "`name`" + ` and ` + "`sha256`" + ` of each file |
| ` + "`counts`" + ` | object | ` + "`rows`" + ` = ` + "`used`" + ` + ` + "`set_aside`" + ` + ` + "`check`" + ` + ` + "`exposed`" + ` + ` + "`unreadable`" + ` |
| ` + "`lines`" + ` | list | each line, drawn or not: ` + "`name`, `utility`, `traced_m`, `checked`" + ` (which checks were made or not possible), ` + "`statements`" + ` (accuracy in the words of public rules), ` + "`try_next`" + ` (what could settle what was found) |
| ` + "`problems`" + ` | list | problems in the input: ` + "`file`, `row`, `column`, `field`, `value`, `cause`, `hint`, `warning`" + ` (the row was still used) |
| ` + "`cautions`" + ` | list of texts | for every reader of the map |
| ` + "`advice`" + ` | list of objects | what to check before digging: ` + "`line`" + ` (empty: the whole map), ` + "`from_m`, `to_m`" + ` (null: all of the line), ` + "`kind`, `words`" + ` |

## Features

Every feature has an ` + "`id`" + ` (role, line, running number) and the properties ` + "`role`, `line` and `utility`" + ` (class of the
uniform colour code for temporary marking: electric, gas, communication, water,
reclaimed, sewer or unknown). They come role by role in the order below. A line or area that crosses the antimeridian is cut there; a centerline
is then two features. Left and right are seen in the direction of travel,
which is the order of a centerline's coordinates.

` + "`horizontal_95_m` and `depth_95_m`" + ` are half-widths of 95 % bands. Depth is read
from the ground to the centre of the conductor, is an estimate of its date and
must never set how deep to dig.
`
