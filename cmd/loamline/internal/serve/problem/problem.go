// Package problem is what is wrong with what people handed in, as it is stored, sent and
// shown: place by place, with what to do about it. What the server's own disk does is told
// here too, without where its files lie. Who refuses what, and by which status of HTTP a
// refusal is answered, is decided elsewhere.
package problem

import (
	"errors"
	"io/fs"
	"os"
	"strings"
	"syscall"

	"loamline.example/cmd/loamline/internal/serve/disk"
	"loamline.example/trace"
)

// Problem is trace.Problem as it is stored and sent.
type Problem struct {
	File    string `json:"file,omitempty"`
	Line    int    `json:"line,omitempty"`   // of the file, from 1
	Column  int    `json:"column,omitempty"` // character in the line, from 1
	Field   string `json:"field,omitempty"`  // column or key, where one is meant
	Value   string `json:"value,omitempty"`
	Cause   string `json:"cause"`
	Hint    string `json:"hint,omitempty"`
	Warning bool   `json:"warning,omitempty"` // the row or file was still used
	Place   string `json:"-"`                 // the field as people name it, in words alone
}

// sqliteFull is SQLITE_FULL (https://www.sqlite.org/rescode.html#full): a
// database finds the disk full by itself.
const sqliteFull = 13

// Of turns any error into a Problem.
func Of(err error) Problem {
	var p *trace.Problem
	var path *fs.PathError
	var refused *Refused
	var database interface{ Code() int }
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.As(err, &database) && database.Code() == sqliteFull:
		return Problem{Cause: "the disk of the computer that runs loamline is full", Hint: "have room made there, then make the map again"}
	case errors.As(err, &path), errors.As(err, new(*disk.NotWritten)), errors.As(err, new(*os.LinkError)), errors.As(err, new(*os.SyscallError)):
		// Where things lie on the server's disk is nobody's business.
		return Problem{Cause: "the files of this job cannot be read or written on the computer that runs loamline", Hint: "tell whoever runs it, its log says more; then make the map again"}
	case errors.As(err, &p):
		return Stored(*p)
	case errors.As(err, &refused) && len(refused.Problems) > 0:
		return refused.Problems[0]
	}
	return Problem{Cause: err.Error()}
}

// Stored is a problem as the readers tell it.
func Stored(p trace.Problem) Problem {
	return Problem{p.File, p.Row, p.Column, p.Field, p.Value, p.Cause, p.Hint, p.Warn, p.Place}
}

// Words is the problem in one line for people.
func (p Problem) Words() string {
	t := trace.Problem{File: p.File, Row: p.Line, Column: p.Column, Field: p.Field, Place: p.Place, Value: p.Value, Cause: p.Cause, Hint: p.Hint}
	return t.Error()
}

// Refused is why something that was handed in is not taken: what the user can
// put right.
type Refused struct{ Problems []Problem }

func (r *Refused) Error() string {
	words := make([]string, len(r.Problems))
	for i, p := range r.Problems {
		words[i] = p.Words()
	}
	return strings.Join(words, "\n")
}

// Refuse refuses what was handed in for these problems.
func Refuse(p ...Problem) error { return &Refused{p} }

// RefuseError refuses what is wrong with what was handed in; what the server's
// own disk does is nobody's mistake and stays the error that it is.
func RefuseError(err error) error {
	if errors.As(err, new(*disk.NotStored)) {
		return err
	}
	return Refuse(Of(err))
}
