package linename

import (
	"fmt"
	"math"
	"path"
	"strings"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// apartM is from how far on two walks hardly go on from each other: strides of one walk
// are shorter. Judgement.
const apartM = 25.0

// TellUnnamed tells of lines that took their name from two tables without one, whose names
// differ in their endings alone, and whose readings lie apart: they may be two lines.
func TellUnnamed(s *trace.Sheet) {
	for i := range s.Lines {
		l := &s.Lines[i]
		var files []int32
		byFile := map[int32][]*trace.Reading{}
		for k := range l.Readings {
			r := &l.Readings[k]
			if !r.Placed() || int(r.File) >= len(s.Inputs) || stem(s.Inputs[r.File].Name) != l.Setup.Name {
				continue
			}
			if byFile[r.File] == nil {
				files = append(files, r.File)
			}
			byFile[r.File] = append(byFile[r.File], r)
		}
		for k := 1; k < len(files); k++ {
			if near(byFile[files[k-1]], byFile[files[k]]) {
				continue
			}
			first, second := s.Inputs[files[k-1]].Name, s.Inputs[files[k]].Name
			s.Problems = append(s.Problems, trace.Problem{File: second, Field: "line", Value: trace.Shorten(l.Setup.Name), Warn: true,
				Cause: fmt.Sprintf("this table and %s name no line and were taken as one, by their own names, and their readings lie apart", first),
				Hint:  "if they are two lines, add a column named line with their names",
				Check: remark.TablesAsOne{First: first, Second: second, Line: l.Setup.Name, ApartM: apartM}})
			break
		}
	}
}

func stem(name string) string { return strings.TrimSuffix(name, path.Ext(name)) }

// near reports whether a reading of one walk lies within apartM of one of the other.
func near(a, b []*trace.Reading) bool {
	cell := func(r *trace.Reading) [2]int {
		return [2]int{int(math.Floor(r.Pos.X / apartM)), int(math.Floor(r.Pos.Y / apartM))}
	}
	in := map[[2]int][]*trace.Reading{}
	for _, r := range a {
		c := cell(r)
		in[c] = append(in[c], r)
	}
	for _, r := range b {
		at := cell(r)
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, o := range in[[2]int{at[0] + dx, at[1] + dy}] {
					if o.Pos.Dist(r.Pos) <= apartM {
						return true
					}
				}
			}
		}
	}
	return false
}
