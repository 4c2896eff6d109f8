package linename

import (
	"fmt"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/spelling"
)

// TellUnread tells of lines that the job file describes and of which there is no reading,
// where the job file names them, and which of the lines that it does not describe may be
// meant. places are those of s.Job.Lines, empty where they are not known.
func TellUnread(s *trace.Sheet, places []trace.FilePlace) {
	read, described := map[string]bool{}, map[string]bool{}
	for i := range s.Lines {
		read[s.Lines[i].Setup.Name] = true
	}
	for _, l := range s.Job.Lines {
		described[l.Name] = true
	}
	var open []string
	for i := range s.Lines {
		if name := s.Lines[i].Setup.Name; !described[name] {
			open = append(open, name)
		}
	}
	for i, l := range s.Job.Lines {
		if read[l.Name] {
			continue
		}
		p := trace.Problem{File: s.Name, Field: "line", Value: l.Name, Warn: true,
			Cause: "the job file names a line without a reading", Hint: "check the line's name in the trace",
			Check: remark.LineUnread{Line: l.Name}}
		for _, in := range s.Inputs {
			if in.Kind == trace.InputJobFile {
				p.File = in.Name
				if i < len(places) {
					p.Row, p.Column = places[i].Row, places[i].Column
				}
			}
		}
		if near := meant(l.Name, open); near != "" {
			p.Hint += fmt.Sprintf("; the nearest name there is %q", trace.Shorten(near))
		}
		s.Problems = append(s.Problems, p)
	}
}

// meant is the name that another is a slip of, "" for none. Names of lines are short and
// differ in a letter, so that a third of one may, and one at least (judgement).
func meant(name string, among []string) string {
	near := spelling.Nearest(name, among)
	if near == "" || spelling.Distance(strings.ToLower(name), strings.ToLower(near)) > max(1, len(name)/3) {
		return ""
	}
	return near
}
