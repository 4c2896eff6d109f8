package intake

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"loamline.example/trace"
	"loamline.example/trace/setting"
	"loamline.example/trace/spelling"
)

// maxJobBytes bounds a job file; a real one has some dozen lines.
const maxJobBytes = 1 << 20

// ReadJobFile reads a job file over the default settings. Every error is a
// Problem with the file, the line and, for an unknown key, the nearest right
// one. name is the file's, for messages.
func ReadJobFile(r io.Reader, name string) (trace.Job, error) {
	return ReadJobFileOver(trace.DefaultJob(), r, name)
}

// ReadJobFileOver reads a job file over other settings than the default ones: what the
// file states replaces them.
func ReadJobFileOver(job trace.Job, r io.Reader, name string) (trace.Job, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxJobBytes+1))
	if err != nil {
		return job, &trace.Problem{File: name, Cause: err.Error(), Err: err, Hint: "check that the file can be read"}
	}
	if len(text) > maxJobBytes {
		return job, &trace.Problem{File: name, Cause: "the file is longer than 1 MB", Hint: "a job file holds settings; give the readings separately"}
	}
	text = bytes.TrimPrefix(text, []byte(byteOrderMark))
	if p := jobTextProblem(name, text); p != nil {
		return job, p
	}
	doc := map[string]any{}
	if err := toml.Unmarshal(text, &doc); err != nil {
		var de *toml.DecodeError
		if errors.As(err, &de) {
			row, column := de.Position()
			p := &trace.Problem{File: name, Row: row, Column: column, Cause: strings.TrimPrefix(de.Error(), "toml: "), Err: err,
				Hint: "a job file is TOML: key = value, texts in quotes"}
			if cause, hint := typed(text, row, column); cause != "" {
				p.Cause, p.Hint = cause, hint
			} else if key, value, at := dayAt(text, row); key != "" {
				p.Column, p.Field, p.Cause, p.Hint = at, key, value+" is no day of the calendar", writeDay
			}
			return job, p
		}
		return job, &trace.Problem{File: name, Cause: err.Error(), Err: err, Hint: "a job file is TOML: key = value, texts in quotes"}
	}
	f := jobFile{name: name, places: keyPlaces(text), doc: doc, job: &job}
	if err := f.fill(doc); err != nil {
		return job, err
	}
	var p *trace.Problem
	if err := setting.Check(job); errors.As(err, &p) {
		at := f.problem(p.Field, p.Cause, p.Hint)
		at.Err = p.Err
		return job, at
	}
	return job, nil
}

// jobFile fills a Job from a decoded document.
type jobFile struct {
	name   string
	places map[string]filePlace // by key path
	doc    map[string]any
	job    *trace.Job
}

// setters are the keys of one table.
type setters map[string]func(v any) error

func (f *jobFile) fill(doc map[string]any) error {
	j := f.job
	return f.table("", doc, setters{
		"job_id":         text(&j.ID),
		"ticket":         text(&j.Ticket),
		"date":           day(&j.Date),
		"valid_until":    day(&j.ValidUntil),
		"locator":        text(&j.Locator),
		"area":           text(&j.Area),
		"units":          text((*string)(&j.Units)),
		"language":       text(&j.Language),
		"crs":            text(&j.CRS),
		"datum":          text(&j.Datum),
		"epoch":          number(&j.Epoch),
		"vertical_datum": text(&j.VerticalDatum),
		"antenna_gap_m":  number(&j.AntennaGap),
		"gnss_offset_s":  number(&j.GNSSOffsetS),
		"tolerance": func(v any) error {
			return f.subtable("tolerance", v, setters{
				"half_width":    length(&j.Tolerance.HalfWidthM),
				"measured_from": text(&j.Tolerance.MeasuredFrom),
				"rule":          text(&j.Tolerance.Rule),
			})
		},
		"contact": func(v any) error {
			return f.subtable("contact", v, setters{
				"owner":           text(&j.Contact.Owner),
				"owner_phone":     text(&j.Contact.OwnerPhone),
				"emergency_phone": text(&j.Contact.Emergency),
			})
		},
		"columns":   f.columns,
		"line":      f.eachTable("line", f.line),
		"reference": f.eachTable("reference", f.reference),
		"feature":   f.eachTable("feature", f.feature),
		"underlay":  f.underlay,
		"output": func(v any) error {
			return f.subtable("output", v, setters{"crs": text(&j.OutputCRS), "sheets": text(&j.Sheets), "page_url": text(&j.PageURL)})
		},
	})
}

// table applies a table's setters in the order of the file.
func (f *jobFile) table(path string, doc map[string]any, set setters) error {
	keys := make([]string, 0, len(doc))
	for k := range doc {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(a, b int) bool {
		pa, pb := f.places[join(path, keys[a])], f.places[join(path, keys[b])]
		if pa != pb {
			return pa.before(pb)
		}
		return keys[a] < keys[b]
	})
	for _, k := range keys {
		apply, ok := set[k]
		if !ok {
			known := make([]string, 0, len(set))
			for s := range set {
				known = append(known, s)
			}
			sort.Strings(known)
			return f.problem(join(path, k), "this key is not known", keyHint(k, known))
		}
		if err := apply(doc[k]); err != nil {
			var p *trace.Problem
			if errors.As(err, &p) {
				return err
			}
			return f.problem(join(path, k), err.Error(), "")
		}
	}
	return nil
}

// keyHint says which key may have been meant.
func keyHint(key string, known []string) string {
	var units []string
	for _, n := range unitNames(key) {
		if slices.Contains(known, n) {
			units = append(units, n)
		}
	}
	if len(units) > 0 {
		return "its unit is missing: write " + strings.Join(units, ", ")
	}
	if near := spelling.Nearest(key, known); near != "" {
		return fmt.Sprintf("the nearest right key is %q", near)
	}
	return "known keys here: " + strings.Join(known, ", ")
}

func (f *jobFile) subtable(path string, v any, set setters) error {
	doc, ok := v.(map[string]any)
	if !ok {
		return f.problem(path, "this is a table", fmt.Sprintf("write [%s] on a line of its own and its keys below", path))
	}
	return f.table(path, doc, set)
}

// eachTable reads an array of tables such as [[line]].
func (f *jobFile) eachTable(name string, one func(path string, doc map[string]any) error) func(any) error {
	return func(v any) error {
		docs, ok := tables(v)
		if !ok {
			return f.problem(name, "this is a list of tables", fmt.Sprintf("write [[%s]] in double brackets", name))
		}
		for i, doc := range docs {
			if err := one(fmt.Sprintf("%s.%d", name, i), doc); err != nil {
				return err
			}
		}
		return nil
	}
}

// tables is a list of tables, written with headers or inline.
func tables(v any) ([]map[string]any, bool) {
	list, ok := v.([]any)
	if !ok {
		return nil, false
	}
	docs := make([]map[string]any, len(list))
	for i, item := range list {
		if docs[i], ok = item.(map[string]any); !ok {
			return nil, false
		}
	}
	return docs, true
}

func (f *jobFile) line(path string, doc map[string]any) error {
	l := trace.LineSetup{Utility: trace.UnknownKind, DiameterM: trace.Unknown, FreqHz: trace.Unknown, PowerW: trace.Unknown}
	err := f.table(path, doc, setters{
		"name":        text(&l.Name),
		"utility":     utility(&l.Utility),
		"diameter":    length(&l.DiameterM),
		"material":    text(&l.Material),
		"hookup":      hookup(&l.Hookup),
		"freq_hz":     number(&l.FreqHz),
		"power_w":     number(&l.PowerW),
		"transmitter": position(&l.Transmitter),
	})
	if err != nil {
		return err
	}
	if l.Name = strings.TrimSpace(l.Name); l.Name == "" {
		return f.problem(path, "this line has no name", "give it the name that the readings use")
	}
	if key, err := setting.CheckLine(l); err != nil {
		return f.problem(join(path, key), err.Error(), "")
	}
	for _, other := range f.job.Lines {
		if other.Name == l.Name {
			return f.problem(join(path, "name"), fmt.Sprintf("there are two lines %q", l.Name), "say everything about a line in one [[line]]")
		}
	}
	f.job.Lines = append(f.job.Lines, l)
	return nil
}

func (f *jobFile) columns(v any) error {
	doc, ok := v.(map[string]any)
	if !ok {
		return f.problem("columns", "this is a table", "write [columns] on a line of its own and its keys below")
	}
	set := setters{}
	f.job.Columns = map[string]string{}
	byHeader, byField := map[string]string{}, map[string]string{}
	for _, name := range ColumnNames() {
		set[name] = func(v any) error {
			var header string
			if err := text(&header)(v); err != nil {
				return err
			}
			key, field := strings.ToLower(strings.TrimSpace(header)), columns[name].field
			switch {
			case key == "":
				return errors.New("write the file's header, in quotes")
			case byHeader[key] != "":
				return fmt.Errorf("%s has the header %q already", byHeader[key], header)
			case byField[field] != "":
				return fmt.Errorf("%s gives %s already: keep one of them", byField[field], field)
			}
			byHeader[key], byField[field], f.job.Columns[name] = name, name, header
			return nil
		}
	}
	return f.table("columns", doc, set)
}

// problem points at a key; a table without a place of its own is pointed at by its
// header.
func (f *jobFile) problem(key, cause, hint string) *trace.Problem {
	at := f.places[key]
	for path := parent(key); at.line == 0 && path != ""; path = parent(path) {
		at = f.places[path]
	}
	return &trace.Problem{File: f.name, Row: at.line, Column: at.column, Field: key, Place: f.entry(key), Cause: cause, Hint: hint}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
