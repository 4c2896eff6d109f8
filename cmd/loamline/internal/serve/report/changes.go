package report

import (
	"fmt"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/export/member"
)

// Changes is what another run of the same job changed.
type Changes struct {
	From     int             `json:"from"`
	To       int             `json:"to"`
	Settings []SettingChange `json:"settings"`
	Columns  []SettingChange `json:"columns"` // "file: header", and what it was taken for
	Inputs   []SettingChange `json:"inputs"`  // by SHA-256
	Frame    *SettingChange  `json:"frame,omitempty"`
	Program  *SettingChange  `json:"program,omitempty"`
	// Unrecorded is set where an earlier version of the program made one of the
	// maps and did not note its columns and files.
	Unrecorded bool          `json:"unrecorded,omitempty"`
	Counts     []CountChange `json:"counts"`
	Added      []string      `json:"findings_added"`
	Removed    []string      `json:"findings_removed"`
	Lines      []Overlay     `json:"lines"`
}

// SettingChange is a key of the job file with another value.
type SettingChange struct {
	Key  string `json:"key"`
	From string `json:"from"` // empty where it was not said
	To   string `json:"to"`
}

// CountChange is a sum of the ledger that changed.
type CountChange struct {
	What string `json:"what"`
	From int    `json:"from"`
	To   int    `json:"to"`
}

// ChangesOf tells what the second of two results changed, but for the numbers of the runs
// and the lines, which are in the maps.
func ChangesOf(a, b *Result, before, now jobfile.Settings) (*Changes, error) {
	c := &Changes{Columns: []SettingChange{}, Inputs: []SettingChange{}, Counts: countChanges(a.Counts, b.Counts)}
	var err error
	if c.Settings, err = settingChanges(before, now); err != nil {
		return nil, err
	}
	if c.Unrecorded = a.Columns == nil || b.Columns == nil; !c.Unrecorded {
		c.Columns = mapChanges(flatMeanings(a.Columns), flatMeanings(b.Columns))
		c.Inputs = mapChanges(flatInputs(a.Inputs), flatInputs(b.Inputs))
	}
	if a.Frame != b.Frame {
		c.Frame = &SettingChange{"frame", a.Frame, b.Frame}
	}
	if a.Version != b.Version {
		c.Program = &SettingChange{"program", a.Version, b.Version}
	}
	had, has := findingTitles(a, a.Units == b.Units), findingTitles(b, a.Units == b.Units)
	c.Removed, c.Added = without(had, has), without(has, had)
	return c, nil
}

func settingChanges(a, b jobfile.Settings) ([]SettingChange, error) {
	from, err := flatten(a)
	if err != nil {
		return nil, err
	}
	to, err := flatten(b)
	if err != nil {
		return nil, err
	}
	return mapChanges(from, to), nil
}

// mapChanges lists the keys with another value, in their order.
func mapChanges(from, to map[string]string) []SettingChange {
	keys := map[string]bool{}
	for k := range from {
		keys[k] = true
	}
	for k := range to {
		keys[k] = true
	}
	out := []SettingChange{}
	for k := range keys {
		if from[k] != to[k] {
			out = append(out, SettingChange{k, from[k], to[k]})
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Key < out[j].Key })
	return out
}

func flatMeanings(columns map[string]map[string]string) map[string]string {
	out := map[string]string{}
	for file, m := range columns {
		for header, name := range m {
			out[file+": "+header] = name
		}
	}
	return out
}

func flatInputs(inputs []member.Input) map[string]string {
	out := map[string]string{}
	for _, in := range inputs {
		out[in.Name] = in.SHA256
	}
	return out
}

// flatten lists settings by their keys in the job file; lines go by name.
func flatten(s jobfile.Settings) (map[string]string, error) {
	text, err := s.TOML()
	if err != nil {
		return nil, err
	}
	var doc map[string]any
	if err := toml.Unmarshal(text, &doc); err != nil {
		return nil, err
	}
	out := map[string]string{}
	flattenInto(out, "", doc)
	return out, nil
}

func flattenInto(out map[string]string, path string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for k, e := range v {
			p := k
			if path != "" {
				p = path + "." + k
			}
			flattenInto(out, p, e)
		}
	case []any:
		for _, e := range v {
			doc, ok := e.(map[string]any)
			if !ok { // a position
				out[path] = fmt.Sprint(v)
				return
			}
			name, _ := doc["name"].(string)
			if name == "" {
				name, _ = doc["file"].(string)
			}
			flattenInto(out, path+" "+name, doc)
		}
	default:
		out[path] = strings.TrimSpace(fmt.Sprint(v))
	}
}

func countChanges(a, b member.Counts) []CountChange {
	out := []CountChange{}
	for _, c := range []CountChange{{"rows", a.Rows, b.Rows}, {"used", a.Used, b.Used}, {"set aside", a.SetAside, b.SetAside},
		{"lifted as a check", a.Check, b.Check}, {"exposed", a.Exposed, b.Exposed}, {"unreadable", a.Unreadable, b.Unreadable}} {
		if c.From != c.To {
			out = append(out, c)
		}
	}
	return out
}

// findingTitles lists the findings by line and title; in different units, whose
// stations read otherwise, by line and kind alone.
func findingTitles(r *Result, sameUnits bool) []string {
	var out []string
	for _, l := range r.Lines {
		if !l.Drawn {
			out = append(out, l.Name+": no line could be drawn")
		}
		for _, f := range l.Findings {
			title := f.Title
			if !sameUnits {
				title, _, _ = strings.Cut(title, ", ")
			}
			out = append(out, l.Name+": "+title)
		}
	}
	return out
}

// without returns what a has more often than b.
func without(a, b []string) []string {
	has := map[string]int{}
	for _, s := range b {
		has[s]++
	}
	out := []string{}
	for _, s := range a {
		if has[s]--; has[s] < 0 {
			out = append(out, s)
		}
	}
	return out
}
