package export

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"loamline/trace"
)

// versionRow is a version as it is stored.
type versionRow struct {
	id       Identity
	base     string
	name     string
	ticket   string
	date     string
	settings string // the member loamline
	geojson  []byte // packed; nil for a job that an older program kept
	sha256   string // of the GeoJSON
}

// versionOf readies a version of a job.
func versionOf(s *trace.Sheet) (versionRow, error) {
	v := versionRow{id: IdentityOf(s.Job, s.Inputs), base: JobKey(s), name: s.Name, ticket: s.Job.Ticket, date: JobDate(s)}
	var err error
	if v.settings, err = memberText(s); err != nil {
		return v, err
	}
	var b bytes.Buffer
	h := sha256.New()
	z, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	if err != nil {
		return v, err
	}
	if err := GeoJSON(io.MultiWriter(z, h), s); err != nil {
		return v, err
	}
	err = z.Close()
	v.geojson, v.sha256 = b.Bytes(), hex.EncodeToString(h.Sum(nil))
	return v, err
}

// unpackMap returns the GeoJSON of a stored version.
func unpackMap(key string, version int, packed []byte) ([]byte, error) {
	if packed == nil {
		return nil, fmt.Errorf("version %d of job %q was kept by an older loamline, which did not keep its GeoJSON: make its map again", version, key)
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(z)
}

// told is what of a member loamline a history tells.
type told struct {
	Version  string         `json:"version"`
	Job      string         `json:"job"`
	Frame    string         `json:"frame"`
	Settings map[string]any `json:"settings"`
	Inputs   []inputJSON    `json:"inputs"`
	Counts   map[string]any `json:"counts"`
	Lines    []struct {
		Name    string `json:"name"`
		TracedM any    `json:"traced_m"`
	} `json:"lines"`
}

// changes lists what differs between two versions, one a line.
func changes(before, after string) string {
	a, b := facts(before), facts(after)
	keys := map[string]bool{}
	for k := range a {
		keys[k] = true
	}
	for k := range b {
		keys[k] = true
	}
	var out []string
	for k := range keys {
		was, is := a[k], b[k]
		switch {
		case was == is:
		case was == "":
			out = append(out, fmt.Sprintf("%s: %s added", k, is))
		case is == "":
			out = append(out, fmt.Sprintf("%s: %s gone", k, was))
		default:
			out = append(out, fmt.Sprintf("%s: %s → %s", k, was, is))
		}
	}
	slices.Sort(out)
	return strings.Join(out, "\n")
}

// facts are the values of a member by their paths.
func facts(member string) map[string]string {
	out := map[string]string{}
	var t told
	if json.Unmarshal([]byte(member), &t) != nil {
		return out
	}
	out["version"], out["job"], out["frame"] = t.Version, t.Job, t.Frame
	flatten(out, "settings", t.Settings)
	flatten(out, "counts", t.Counts)
	for _, in := range t.Inputs {
		short := in.SHA256
		if len(short) > 12 {
			short = short[:12]
		}
		out["input "+in.Name] = strings.TrimSpace(out["input "+in.Name] + " " + short)
	}
	for _, l := range t.Lines {
		out["line "+l.Name+" traced_m"] = fmt.Sprint(l.TracedM)
	}
	return out
}

func flatten(out map[string]string, path string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			flatten(out, path+"."+k, x)
		}
	case []any:
		for i, x := range v {
			flatten(out, fmt.Sprintf("%s.%d", path, i+1), x)
		}
	case nil:
	default:
		out[path] = fmt.Sprint(v)
	}
}

// filesOf are the fingerprints of all inputs that a member names.
func filesOf(member string) []string {
	var t told
	if json.Unmarshal([]byte(member), &t) != nil {
		return nil
	}
	var out []string
	for _, in := range t.Inputs {
		out = append(out, in.SHA256)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// SettingsWords is the settings of a version, as its map has them.
func SettingsWords(member string) (string, error) {
	var t struct {
		Settings json.RawMessage `json:"settings"`
	}
	if err := json.Unmarshal([]byte(member), &t); err != nil {
		return "", err
	}
	return string(t.Settings), nil
}
