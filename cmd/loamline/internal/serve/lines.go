package serve

import (
	"strconv"
	"strings"

	"loamline.example/cmd/loamline/internal/serve/jobfile"
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
