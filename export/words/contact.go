package words

import (
	"slices"
	"strings"

	"loamline.example/trace"
)

// Contact is whom to call where a line is hit, as far as the job states it.
func Contact(s *trace.Sheet) []string {
	c := s.Job.Contact
	var out []string
	if c.Emergency != "" {
		out = append(out, "Where a line is hit or gas is smelled, call "+c.Emergency+" from a safe place.")
	}
	switch {
	case c.Owner != "" && c.OwnerPhone != "":
		out = append(out, "Owner of the lines, to be called at once about any damage: "+c.Owner+", "+c.OwnerPhone+".")
	case c.Owner != "":
		out = append(out, "Owner of the lines, to be told at once of any damage: "+c.Owner+".")
	case c.OwnerPhone != "":
		out = append(out, "Owner of the lines, to be called at once about any damage: "+c.OwnerPhone+".")
	}
	return out
}

// Call is the same in short, for a head that has one line for it; empty where the job
// states no number.
func Call(s *trace.Sheet) string {
	c := s.Job.Contact
	var out []string
	if c.Emergency != "" {
		out = append(out, c.Emergency+" where a line is hit or gas is smelled")
	}
	if c.OwnerPhone != "" {
		out = append(out, strings.TrimPrefix(c.Owner+", ", ", ")+c.OwnerPhone+" about any damage")
	}
	return strings.Join(out, "; ")
}

// Cautions are the cautions of a map, after whom to call.
func Cautions(s *trace.Sheet) []string { return slices.Concat(Contact(s), s.Cautions) }
