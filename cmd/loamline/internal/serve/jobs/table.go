package jobs

import (
	"crypto/sha256"
	"encoding/hex"
	"sort"
	"strings"

	"loamline/trace"
	"loamline/trace/intake"
)

// NotUsed is the answer that a column is not to be used.
const NotUsed = "-"

// previewRows is how many rows are looked at for examples.
const previewRows = 200

// TableView is a readings table as it is understood.
type TableView struct {
	Separator   string            `json:"separator"`
	Fingerprint string            `json:"header_fingerprint"`
	Columns     []ColumnView      `json:"columns"`
	Answers     map[string]string `json:"answers,omitempty"` // the file's header to a name of ours or NotUsed
	Remembered  bool              `json:"remembered"`        // the answers were given for an earlier file
	Rows        int               `json:"rows"`              // 0 while the positions are not known
	Unreadable  int               `json:"unreadable"`
}

// ColumnView is one column as it is understood.
type ColumnView struct {
	Header string   `json:"header"`
	Name   string   `json:"name,omitempty"`  // ours, with its unit; empty where not used
	Guess  string   `json:"guess,omitempty"` // what the header seems to mean, to be confirmed
	Ask    bool     `json:"ask,omitempty"`   // nobody has said yet, and it matters
	Sample []string `json:"sample,omitempty"`
	Filled int      `json:"filled"` // rows with a value
}

// viewTable says how a table is understood with the answers given so far.
func viewTable(file intake.File, answers map[string]string, columns map[string]string, withoutPosition bool) (*TableView, []string, error) {
	r, err := file.Open()
	if err != nil {
		return nil, nil, err
	}
	defer r.Close()
	opt := intake.TableOptions{Columns: columnMap(answers, columns), WithoutPosition: withoutPosition, Bytes: file.Size}
	p, err := intake.ReadPreview(r, file.Name, opt, previewRows)
	if err != nil {
		return nil, nil, err
	}
	v := &TableView{Separator: p.Separator, Fingerprint: fingerprint(p), Answers: answers}
	for _, c := range p.Columns {
		cv := ColumnView{Header: c.Header, Name: c.Name, Sample: c.Sample}
		if _, answered := answers[c.Header]; c.Name == "" && !answered && c.Header != "" {
			cv.Guess, cv.Ask = guess(c.Header)
		}
		v.Columns = append(v.Columns, cv)
	}
	if !v.placed(withoutPosition) {
		return v, nil, nil
	}
	lines, err := v.count(file, opt)
	return v, lines, err
}

// count reads the whole table: how many rows, what is filled, which lines.
func (v *TableView) count(file intake.File, opt intake.TableOptions) (lines []string, err error) {
	r, err := file.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	t, err := intake.ReadTable(r, file.Name, 0, opt)
	if err != nil {
		return nil, err
	}
	v.Rows, v.Unreadable = t.Rows, t.Unreadable
	for i := range t.Columns {
		v.Columns[i].Filled = t.Columns[i].Filled
	}
	if len(t.Readings) == 0 {
		return nil, noRow(file.Name, t)
	}
	seen := map[string]bool{}
	for i := range t.Readings {
		if n := t.Readings[i].Line; !seen[n] && len(seen) < maxLineNames {
			seen[n] = true
			lines = append(lines, n)
		}
	}
	return lines, nil
}

// maxLineNames is how many lines of one file are offered for settings.
const maxLineNames = 500

// noRow says why a table without a readable row is refused.
func noRow(name string, t intake.Table) error {
	if t.Rows == 0 {
		return &trace.Problem{File: name, Cause: "there is no reading in it", Hint: "a readings table has a header row and one row a reading"}
	}
	for i := range t.Problems {
		if p := t.Problems[i]; !p.Warn {
			p.Cause = "none of the rows could be read; the first: " + p.Cause
			return &p
		}
	}
	return &trace.Problem{File: name, Cause: "none of the rows could be read"}
}

// placed reports whether the columns give rows a position, now or by a log.
func (v *TableView) placed(withoutPosition bool) bool {
	has := map[string]bool{}
	for _, c := range v.Columns {
		field, _, _ := strings.Cut(c.Name, "_")
		has[field] = true
	}
	return has["lat"] && has["lon"] || has["east"] && has["north"] || withoutPosition && has["time"]
}

// Projected reports whether positions are eastings and northings.
func (v *TableView) Projected() bool {
	for _, c := range v.Columns {
		if strings.HasPrefix(c.Name, "east_") {
			return true
		}
	}
	return false
}

// Asks reports whether something must still be said about the columns.
func (v *TableView) Asks() bool {
	for _, c := range v.Columns {
		if c.Ask {
			return true
		}
	}
	return v.Rows == 0
}

// columnMap is what the reader takes: the job file's map as far as nobody
// answered otherwise, and the answers.
func columnMap(answers, columns map[string]string) map[string]string {
	m := map[string]string{}
	for ours, theirs := range columns {
		if _, answered := answers[theirs]; !answered {
			m[ours] = theirs
		}
	}
	for theirs, ours := range answers {
		if ours != NotUsed {
			m[ours] = theirs
		}
	}
	return m
}

// fingerprint names a header: the same columns in the same order.
func fingerprint(p intake.Preview) string {
	h := sha256.New()
	for _, c := range p.Columns {
		h.Write([]byte(strings.ToLower(c.Header) + "\x1f"))
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// checkAnswers refuses answers that no table can be read with.
func checkAnswers(file string, v *TableView, answers map[string]string) error {
	headers := map[string]bool{}
	for _, c := range v.Columns {
		headers[c.Header] = true
	}
	given := map[string]string{}
	keys := make([]string, 0, len(answers))
	for h := range answers {
		keys = append(keys, h)
	}
	sort.Strings(keys)
	for _, header := range keys {
		name := answers[header]
		switch {
		case !headers[header]:
			return refuse(Problem{File: file, Field: header, Cause: "this file has no such column", Hint: "answer by the file's own headers"})
		case name != NotUsed && !isColumnName(name):
			return refuse(Problem{File: file, Field: header, Value: name, Cause: "no column of a readings table has this name", Hint: "use one of the names offered, or \"-\" where the column is not to be used"})
		case name != NotUsed && given[name] != "":
			return refuse(Problem{File: file, Field: header, Value: name, Cause: "this and " + given[name] + " are said to be the same", Hint: "keep one of them"})
		}
		given[name] = header
	}
	return nil
}
