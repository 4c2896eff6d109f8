package serve

import (
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
	"loamline.example/cmd/loamline/internal/serve/problem"
)

// linesOnPage is how many lines the settings show at a time.
const linesOnPage = 40

// linesView is a part of a job's lines.
type linesView struct {
	Rows  []lineRow
	Find  string
	From  int // of the lines that match, from 0
	Last  int
	Match int
	All   int
	Prev  int // -1 where there is none
	Next  int
}

// lineRow is a line with its place among all of the job's, by which the form
// names its fields.
type lineRow struct {
	I int
	jobfile.LineSettings
}

// Many reports whether there are more lines than one page shows.
func (v linesView) Many() bool { return v.All > linesOnPage }

func linesOf(lines []jobfile.LineSettings, find string, from int) linesView {
	v := linesView{Find: strings.TrimSpace(find), All: len(lines), Prev: -1, Next: -1}
	var match []lineRow
	for i, l := range lines {
		if strings.Contains(strings.ToLower(l.Name), strings.ToLower(v.Find)) {
			match = append(match, lineRow{i, l})
		}
	}
	v.Match = len(match)
	v.From = max(0, min(from, max(0, len(match)-1)/linesOnPage*linesOnPage))
	v.Last = min(len(match), v.From+linesOnPage)
	v.Rows = match[v.From:v.Last]
	if v.From > 0 {
		v.Prev = max(0, v.From-linesOnPage)
	}
	if v.Last < len(match) {
		v.Next = v.Last
	}
	return v
}

// transmitter reads where a line's transmitter stood, in degrees: both fields empty for
// nowhere. A form without them leaves it as it is.
func (f *form) transmitter(at string, before []float64) []float64 {
	x, has := f.get(at + "x")
	y, _ := f.get(at + "y")
	switch {
	case !has:
		return before
	case x == "" && y == "":
		return nil
	case x == "" || y == "":
		f.problems = append(f.problems, problem.Problem{Field: strings.TrimSuffix(at, "."), Cause: "one of longitude and latitude is missing", Hint: "write both, in degrees, or neither"})
		return before
	}
	out := make([]float64, 2)
	f.number(at+"x", &out[0])
	f.number(at+"y", &out[1])
	return out
}

// TransmitterX is the longitude of where the line's transmitter stood, "" where that is
// not said.
func (r lineRow) TransmitterX() string { return r.transmitterAt(0) }

// TransmitterY is the latitude.
func (r lineRow) TransmitterY() string { return r.transmitterAt(1) }

func (r lineRow) transmitterAt(i int) string {
	if i >= len(r.Transmitter) {
		return ""
	}
	return strconv.FormatFloat(r.Transmitter[i], 'f', -1, 64)
}

// forAll lays what the form says of all lines over every one of them; an empty
// field leaves them as they are.
func (f *form) forAll(lines []jobfile.LineSettings) {
	var all jobfile.LineSettings
	for name, to := range map[string]*string{"utility": &all.Utility, "diameter": &all.Diameter, "material": &all.Material, "hookup": &all.Hookup} {
		f.text("all."+name, to)
	}
	f.number("all.freq_hz", &all.FreqHz)
	f.number("all.power_w", &all.PowerW)
	for i := range lines {
		l := &lines[i]
		for _, t := range []struct{ from, to *string }{{&all.Utility, &l.Utility}, {&all.Diameter, &l.Diameter}, {&all.Material, &l.Material}, {&all.Hookup, &l.Hookup}} {
			if *t.from != "" {
				*t.to = *t.from
			}
		}
		if all.FreqHz != 0 {
			l.FreqHz = all.FreqHz
		}
		if all.PowerW != 0 {
			l.PowerW = all.PowerW
		}
	}
}
