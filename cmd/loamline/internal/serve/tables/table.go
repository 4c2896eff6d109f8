// Package tables understands readings tables that were handed in: what each column is, as its
// header, the job file or a person says; what a header that nobody explained seems to mean;
// what must be asked before a map can be made; and what was answered for an earlier file of
// the same instrument, which is only ever offered. Reading values is package intake's, and
// whose job a table belongs to is known above.
package tables

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sort"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// notUsed is the answer that a column is not to be used.
const notUsed = "-"

// previewRows is how many rows are looked at for examples.
const previewRows = 200

// TableView is a readings table as it is understood.
type TableView struct {
	Separator   string            `json:"separator"`
	Fingerprint string            `json:"header_fingerprint"`
	Columns     []ColumnView      `json:"columns"`
	Answers     map[string]string `json:"answers,omitempty"`  // said about this job: the file's header to a name of ours or notUsed
	NoDepth     bool              `json:"no_depth,omitempty"` // somebody said that the file has no depth
	AskDepth    bool              `json:"ask_depth,omitempty"`
	Recalled    *Remembered       `json:"recalled,omitempty"` // what was answered for an earlier file of this instrument, on offer
	Rows        int               `json:"rows"`               // 0 while the positions are not known
	Unreadable  int               `json:"unreadable"`
	FirstDay    string            `json:"first_day,omitempty"` // of the readings, in the zone that they state
	LastDay     string            `json:"last_day,omitempty"`
	Box         *whereabouts.Box  `json:"box,omitempty"` // of the readings, where the file has degrees
}

// ColumnView is one column as it is understood.
type ColumnView struct {
	Header   string   `json:"header"`
	Name     string   `json:"name,omitempty"`     // ours, with its unit; empty where not used
	Guess    string   `json:"guess,omitempty"`    // what the header seems to mean, to be confirmed
	Recalled string   `json:"recalled,omitempty"` // what was answered for an earlier file, to be confirmed
	Doubt    string   `json:"doubt,omitempty"`    // why a column that is known is asked about
	Stated   bool     `json:"stated,omitempty"`   // the job file says what it is
	Ask      bool     `json:"ask,omitempty"`      // nobody has said yet, and it matters
	Sample   []string `json:"sample,omitempty"`
	Filled   int      `json:"filled"` // rows with a value
}

// Statements are what was said about a table, and by whom.
type Statements struct {
	Answers         map[string]string // by people, about this job
	NoDepth         bool
	Columns         map[string]string // by the job file
	Recalled        *Remembered       // for an earlier file: only offered
	WithoutPosition bool
}

// View says how a table is understood with what was said so far.
func View(file intake.File, said Statements) (*TableView, []string, error) {
	r, err := file.Open()
	if err != nil {
		return nil, nil, err
	}
	defer r.Close()
	opt := intake.TableOptions{Columns: ColumnMap(said.Answers, said.Columns), WithoutPosition: said.WithoutPosition, Bytes: file.Size}
	p, err := intake.ReadPreview(r, file.Name, opt, previewRows)
	if err != nil {
		return nil, nil, err
	}
	v := &TableView{Separator: p.Separator, Fingerprint: fingerprint(p), Answers: said.Answers, NoDepth: said.NoDepth, Recalled: said.Recalled}
	stated := map[string]bool{}
	for _, theirs := range said.Columns {
		stated[FoldHeader(theirs)] = true
	}
	for _, c := range p.Columns {
		cv := ColumnView{Header: c.Header, Name: c.Name, Sample: c.Sample, Stated: c.Name != "" && stated[FoldHeader(c.Header)]}
		if _, answered := said.Answers[c.Header]; !answered && c.Header != "" {
			cv.ask(said.Recalled, p.Separator)
		}
		v.Columns = append(v.Columns, cv)
	}
	v.AskDepth = v.depthOpen()
	if !v.placed(said.WithoutPosition) {
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
	v.whenAndWhere(t.Readings)
	seen := map[string]bool{}
	for i := range t.Readings {
		if n := t.Readings[i].Line; !seen[n] && len(seen) < MaxLineNames {
			seen[n] = true
			lines = append(lines, n)
		}
	}
	return lines, nil
}

// MaxLineNames is how many lines of one file are offered for settings.
const MaxLineNames = 500

// noRow says why a table without a readable row is refused.
func noRow(name string, t intake.Table) error {
	if t.Rows == 0 {
		return &trace.Problem{File: name, Cause: "there is no reading in it", Hint: "a readings table has a header row and one row per reading"}
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
	return v.Rows == 0 || v.AskDepth
}

// ColumnMap is what the reader takes: the job file's map as far as nobody
// answered otherwise, and the answers. Headers are the same in any case.
func ColumnMap(answers, columns map[string]string) map[string]string {
	answered := map[string]bool{}
	for theirs := range answers {
		answered[FoldHeader(theirs)] = true
	}
	m := map[string]string{}
	for ours, theirs := range columns {
		if !answered[FoldHeader(theirs)] {
			m[ours] = theirs
		}
	}
	for theirs, ours := range answers {
		if ours != notUsed {
			m[ours] = theirs
		}
	}
	return m
}

// FoldHeader is a header as the reader compares it.
func FoldHeader(h string) string { return strings.ToLower(strings.TrimSpace(h)) }

// fingerprint names a header: the same columns in the same order.
func fingerprint(p intake.Preview) string {
	h := sha256.New()
	for _, c := range p.Columns {
		h.Write([]byte(strings.ToLower(c.Header) + "\x1f"))
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// CheckAnswers refuses answers that no table can be read with.
// columns is what the job file says.
func CheckAnswers(file string, v *TableView, answers, columns map[string]string) error {
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
			return problem.Refuse(problem.Problem{File: file, Field: header, Cause: "this file has no such column", Hint: "answer by the file's own headers"})
		case name != notUsed && !IsColumnName(name):
			return problem.Refuse(problem.Problem{File: file, Field: header, Value: name, Cause: "no column of a readings table has this name", Hint: "use one of the names offered, or \"-\" where the column is not to be used"})
		case name == notUsed && IsColumnName(FoldHeader(header)):
			return problem.Refuse(problem.Problem{File: file, Field: header, Value: name, Cause: "a column of this name is always read as what its name says", Hint: "rename it in the file where it is something else, or say which of our columns it is"})
		case name != notUsed && given[name] != "":
			return problem.Refuse(problem.Problem{File: file, Field: header, Value: name, Cause: "this and " + given[name] + " are said to be the same", Hint: "keep one of them"})
		}
		given[name] = header
		if theirs := columns[name]; name != notUsed && theirs != "" && FoldHeader(theirs) != FoldHeader(header) && !hasHeader(answers, theirs) && hasHeader(headers, theirs) {
			return problem.Refuse(problem.Problem{File: file, Field: header, Value: name, Cause: fmt.Sprintf("the job file says that the column %q is this", theirs), Hint: "say what that column is as well"})
		}
	}
	return nil
}

// hasHeader looks a header up as the reader compares it.
func hasHeader[V any](byHeader map[string]V, header string) bool {
	for h := range byHeader {
		if FoldHeader(h) == FoldHeader(header) {
			return true
		}
	}
	return false
}
