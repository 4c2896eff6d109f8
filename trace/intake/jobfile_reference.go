package intake

import (
	"fmt"
	"net/url"

	"loamline.example/geo"
	"loamline.example/trace"
)

func (f *jobFile) reference(path string, doc map[string]any) error {
	r := trace.Reference{Utility: trace.UnknownKind}
	if err := f.table(path, doc, setters{"file": text(&r.File), "utility": utility(&r.Utility),
		"crs": text(&r.CRS), "datum": text(&r.Datum), "epoch": number(&r.Epoch), "layer": text(&r.Layer), "table": text(&r.Table),
		"name_column": text(&r.NameColumn), "role": oneOf(&r.Role, trace.RoleLine, trace.RoleBackground)}); err != nil {
		return err
	}
	if r.File == "" {
		return f.problem(path, "this reference has no file", "name the layer: file = \"lines.geojson\"")
	}
	if err := f.database(path, &r); err != nil {
		return err
	}
	if _, err := geo.NewFrame(r.CRS, r.Datum, r.Epoch); err != nil {
		return f.problem(path, err.Error(), "name the frame that the layer's coordinates are in: crs, datum and epoch")
	}
	f.job.References = append(f.job.References, r)
	return nil
}

// database sorts out a layer that is a table of a database: its name may stand in
// the address, as ?table=, or under a key of its own.
func (f *jobFile) database(path string, r *trace.Reference) error {
	if !r.InDatabase() {
		if r.Table != "" {
			return f.problem(join(path, "table"), "a table belongs to a database", "for a file with several layers write layer = …; a database is file = \"postgres://host/database\"")
		}
		return nil
	}
	if r.Layer != "" {
		return f.problem(join(path, "layer"), "a database has tables, not layers", "write table = \"schema.table\"")
	}
	if err := TableInAddress(r); err != nil {
		return f.problem(join(path, "file"), err.Error(), "write file = \"postgres://host/database\" and table = \"schema.table\"")
	}
	return nil
}

// TableInAddress takes the table out of a database's address, where it stands
// there. Its errors never repeat the address, which may hold a password.
func TableInAddress(r *trace.Reference) error {
	u, err := url.Parse(r.File)
	if err != nil {
		return fmt.Errorf("this is not the address of a database")
	}
	q := u.Query()
	if t := q.Get("table"); t != "" {
		if r.Table != "" && r.Table != t {
			return fmt.Errorf("the address names the table %q, and table = %q", t, r.Table)
		}
		r.Table = t
		q.Del("table")
		u.RawQuery = q.Encode()
		r.File = u.String()
	}
	if r.Table == "" {
		return fmt.Errorf("the database's table is not named")
	}
	return nil
}

// oneOf takes one of a few words.
func oneOf(to *string, words ...string) func(any) error {
	return func(v any) error {
		for _, w := range words {
			if v == w {
				*to = w
				return nil
			}
		}
		return fmt.Errorf("%v is not known here: use %q or %q%s", v, words[0], words[1], nearestIs(v, words))
	}
}
