package namechange

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/doubt"
	"loamline.example/trace/ranked"
	"loamline.example/trace/remark"
)

// What makes a change of name doubtful. All judgement.
const (
	// leastOn readings of a line lie on the other's course, and mostOn at most: fewer are
	// a corner, and more would have been noticed on the walk.
	leastOn, mostOn = 3, 12
	// courseOf is how many readings tell the course that goes on.
	courseOf = 5
	// onCourseM is how far aside of it a reading lies at most that is on it.
	onCourseM = 0.4
	// leastTurnRad is how sharply the line turns into it: a bend does not, within
	// leastOn readings.
	leastTurnRad = 40 * math.Pi / 180
	// leastLeap is how many strides long a step into it is that is no stride.
	leastLeap = 2.5
	// oneStride is up to how many strides lie between two readings one after the other.
	oneStride = 2.0
)

// Doubts are the stretches that may belong to another line, of each line.
func Doubts(lines []trace.Line) [][]trace.Finding {
	out := make([][]trace.Finding, len(lines))
	rows := inTables(lines)
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1].line, rows[i].line
		if a == b || rows[i-1].File != rows[i].File {
			continue
		}
		before, after := walked(rows, i-1, -1), walked(rows, i, 1)
		if n, ok := endsOn(before, after); ok {
			out[a] = append(out[a], doubtOf(&lines[a], lines[b].Setup.Name, before[:n+1], true)...)
			out[b] = append(out[b], goesOn(&lines[b], lines[a].Setup.Name, before[:n], true)...)
		} else if n, ok := endsOn(after, before); ok {
			out[b] = append(out[b], doubtOf(&lines[b], lines[a].Setup.Name, after[:n+1], false)...)
			out[a] = append(out[a], goesOn(&lines[a], lines[b].Setup.Name, after[:n], false)...)
		}
	}
	return out
}

// row is a reading with the index of its line.
type row struct {
	*trace.Reading
	line int
}

// inTables are the readings of all lines in the order of their tables.
func inTables(lines []trace.Line) []row {
	var rows []row
	for k := range lines {
		for i := range lines[k].Readings {
			if r := &lines[k].Readings[i]; onWalk(r) {
				rows = append(rows, row{r, k})
			}
		}
	}
	slices.SortFunc(rows, func(a, b row) int { return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row)) })
	return rows
}

// onWalk reports whether a reading was taken on the walk along its line.
func onWalk(r *trace.Reading) bool {
	return r.Placed() && r.Status != trace.StatusCheck && r.Status != trace.StatusExposed
}

// walked are the few readings of a line from a row on, in the order of its table or against
// it, up to where another line's follow.
func walked(rows []row, from, step int) []*trace.Reading {
	var out []*trace.Reading
	for i := from; i >= 0 && i < len(rows) && len(out) <= mostOn+leastOn; i += step {
		if rows[i].line != rows[from].line || rows[i].File != rows[from].File {
			break
		}
		out = append(out, rows[i].Reading)
	}
	return out
}

// endsOn reports whether a line, whose readings begin at the change of name, lies on the
// course of the other with so many of them, into which it turns or leaps.
func endsOn(line, other []*trace.Reading) (n int, ok bool) {
	if len(other) < leastOn || len(line) <= leastOn {
		return 0, false
	}
	course := other[:min(courseOf, len(other))]
	from := course[0].Pos
	along := from.Sub(course[len(course)-1].Pos)
	strideM := stride(course)
	if along.Norm() < float64(leastOn-1)*strideM/oneStride || strideM == 0 || line[0].Pos.Dist(from) > oneStride*strideM {
		return 0, false
	}
	along = along.Scale(1 / along.Norm())
	on := func(p geo.XY) bool { return math.Abs(along.Cross(p.Sub(from))) <= onCourseM }
	for _, r := range course {
		if !on(r.Pos) {
			return 0, false
		}
	}
	was := from
	for n < len(line) && on(line[n].Pos) && along.Dot(line[n].Pos.Sub(was)) > 0 && line[n].Pos.Dist(was) <= leastLeap*strideM {
		was = line[n].Pos
		n++
	}
	if n < leastOn || n > mostOn || n == len(line) {
		return 0, false
	}
	rest := line[n:]
	leaps := rest[0].Pos.Dist(was) > leastLeap*strideM
	if !leaps && len(rest) < 2 {
		return 0, false // a single reading past a corner
	}
	own := rest[min(leastOn, len(rest))-1].Pos.Sub(rest[0].Pos)
	if !leaps && own.Norm() < strideM/oneStride {
		return 0, false
	}
	turns := math.Abs(math.Atan2(along.Cross(own), along.Dot(own))) >= leastTurnRad
	off := !on(rest[0].Pos)
	return n, off && turns || leaps && (off || turns)
}

// stride is the usual distance from one reading to the next, in metres.
func stride(rs []*trace.Reading) float64 {
	var between []float64
	for i := 1; i < len(rs); i++ {
		between = append(between, rs[i].Pos.Dist(rs[i-1].Pos))
	}
	return ranked.Median(between)
}

// doubtOf is that readings of a line, but for the last of those given, from which the line
// turns or leaps to them, may belong to the other. It stands where they are on the line,
// or at their places, where no line is drawn through them.
func doubtOf(l *trace.Line, other string, on []*trace.Reading, late bool) []trace.Finding {
	if l.Centerline == nil {
		return nil
	}
	return []trace.Finding{doubt.Over(l, on, on, remark.NameChanged{Other: other, N: len(on) - 1, Late: late})}
}

// goesOn is what that means for the other line: it may begin sooner or go on farther.
func goesOn(l *trace.Line, other string, on []*trace.Reading, late bool) []trace.Finding {
	if l.Centerline == nil {
		return nil
	}
	return []trace.Finding{doubt.Over(l, nil, on, remark.NameChanged{Other: other, N: len(on), Late: late, Beyond: true})}
}
