package archive

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

	"loamline.example/export/geojson"
	"loamline.example/export/member"
	"loamline.example/export/words"
	"loamline.example/trace"
)

// Row is a version as it is stored.
type Row struct {
	ID       Identity
	Base     string
	Name     string
	Ticket   string
	Date     string
	Settings string // the member loamline
	GeoJSON  []byte // packed; nil for a job that an older program kept
	SHA256   string // of the GeoJSON
}

// RowOf readies a version of a job.
func RowOf(s *trace.Sheet) (Row, error) {
	v := Row{ID: IdentityOf(s.Job, s.Inputs), Base: JobKey(s), Name: s.Name, Ticket: s.Job.Ticket, Date: words.JobDate(s)}
	var err error
	if v.Settings, err = member.Text(s); err != nil {
		return v, err
	}
	var b bytes.Buffer
	h := sha256.New()
	z, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	if err != nil {
		return v, err
	}
	if err := geojson.Write(io.MultiWriter(z, h), s); err != nil {
		return v, err
	}
	err = z.Close()
	v.GeoJSON, v.SHA256 = b.Bytes(), hex.EncodeToString(h.Sum(nil))
	return v, err
}

// UnpackMap returns the GeoJSON of a stored version.
func UnpackMap(key string, version int, packed []byte) ([]byte, error) {
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
	Inputs   []struct {
		Name   string `json:"name"`
		SHA256 string `json:"sha256"`
	} `json:"inputs"`
	Counts map[string]any `json:"counts"`
	Lines  []struct {
		Name    string `json:"name"`
		TracedM any    `json:"traced_m"`
	} `json:"lines"`
}

// Changes lists what differs between two versions, one a line.
func Changes(before, after string) string {
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

// FilesOf are the fingerprints of all inputs that a member names.
func FilesOf(member string) []string {
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
