package jobs

import (
	"slices"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/problem"
	"loamline.example/cmd/loamline/internal/serve/tables"
)

// What a Question can be about.
const (
	AboutColumn   = "column"
	AboutDepth    = "depth"
	AboutPosition = "position"
	AboutCRS      = "crs"
	AboutDatum    = "datum"
)

// Question is something that must still be said before a map can be made, for
// programs and in words.
type Question struct {
	About  string `json:"about"`
	File   string `json:"file,omitempty"`   // of a column, a depth or a position
	Column string `json:"column,omitempty"` // its header
	Stated string `json:"stated,omitempty"` // what the job file or the header says that it is
	// Remembered is what was answered for an earlier file with this header.
	Remembered string `json:"remembered,omitempty"`
	Words      string `json:"words"`
}

// Open lists what must still be said before a map can be made.
func (j *Job) Open() []Question {
	var out []Question
	for _, f := range j.Files {
		if f.Table == nil {
			continue
		}
		for _, c := range f.Table.Columns {
			if c.Ask {
				out = append(out, Question{AboutColumn, f.Name, c.Header, c.Name, c.Recalled, f.Name + ": " + c.Question(f.Table.Recalled)})
			}
		}
		if f.Table.AskDepth {
			out = append(out, Question{About: AboutDepth, File: f.Name, Words: f.Name + ": which column is the depth?"})
		}
		if f.Table.Rows == 0 && !slices.ContainsFunc(f.Table.Columns, func(c tables.ColumnView) bool { return c.Ask && c.Recalled != "" }) {
			out = append(out, Question{About: AboutPosition, File: f.Name, Words: f.Name + ": which columns are the position?"})
		}
	}
	if j.NeedsCRS() {
		out = append(out, Question{About: AboutCRS, Words: "Which coordinate reference system are the eastings and northings in?"})
	}
	if !j.DatumSaid && !j.NeedsCRS() && !j.Projected() {
		out = append(out, Question{About: AboutDatum, Words: "Which datum were the position corrections in?"})
	}
	return out
}

// Questions is Open in words alone.
func (j *Job) Questions() []string {
	var out []string
	for _, q := range j.Open() {
		out = append(out, q.Words)
	}
	return out
}

// NotReady is why no map can be made yet: questions are open.
type NotReady struct{ Open []Question }

func (n *NotReady) Error() string {
	return "something about the files has not been said yet: " + n.Open[0].Words
}

// Problems are the questions, place by place.
func (n *NotReady) Problems() []problem.Problem {
	out := make([]problem.Problem, len(n.Open))
	for i, q := range n.Open {
		out[i] = problem.Problem{File: q.File, Field: q.About, Value: q.Column, Cause: strings.TrimPrefix(q.Words, q.File+": ")}
	}
	return out
}
