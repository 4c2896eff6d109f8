package table

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"loamline.example/export/layer"
	"loamline.example/export/literal"
	"loamline.example/export/place"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/intake"
)

// Lines writes the centerlines by station for surveyors: one row a vertex with
// position (WGS 84, degrees), depth and bands in metres, the same as in the other
// files (of the true line, with any suspected displacement in them), how far the whole map
// may be off for its frame beside them, the grade of any
// suspected bleed-over, and the careful sentence in the job's units. UTF-8,
// comma, RFC 4180, a header row; a field is empty where nothing is known.
func Lines(w io.Writer, s *trace.Sheet) error {
	c := csv.NewWriter(w)
	d := place.NewDegrees(s.Plane)
	date := words.JobDate(s)
	own := newOwnPlace(s)
	c.Write(append([]string{
		"line", "utility", "part", "station_m", "lat", "lon", "depth_m", "depth_95_m", "horizontal_95_m",
		"common_95_m", "datum_doubt_m", "cover_m", "elev_m", "corner", "bleed_over", "words",
	}, own.header...))
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Centerline == nil {
			continue
		}
		along := words.NewAlong(l)
		for k, p := range l.Centerline.Parts {
			for _, v := range p.Vertices {
				at := d.XY(v.Pos)
				t := along.At(v)
				bands := layer.BandsAt(v, t)
				grade, sentence := "", t.Depth(s.Job.Units, date)+"; "+t.Position(s.Job.Units)
				if b := t.Doubt; b != nil {
					grade = string(b.Grade)
					if b.Watch {
						sentence = b.Words + ": " + sentence
					}
				}
				v = layer.Deep(v, t)
				cells, err := own.cells(s.Plane.LonLat(v.Pos))
				if err != nil {
					return fmt.Errorf("line %q: %w", l.Setup.Name, err)
				}
				c.Write(append([]string{
					plainCell(l.Setup.Name), string(style.Of(l.Setup.Utility).Utility), strconv.Itoa(k + 1), metresCell(v.StationM),
					place.DegreesText(at.Lat), place.DegreesText(d.Home(at.Lon)), metresCell(v.DepthM), metresCell(bands.Depth95M),
					metresCell(bands.Horizontal95M), metresCell(bands.Common95M), metresCell(layer.Known(t.FrameM)), metresCell(layer.CoverM(v, l.Setup)), metresCell(v.ElevM),
					yesCell(v.Corner), grade, sentence,
				}, cells...))
			}
		}
	}
	c.Flush()
	return c.Error()
}

// rawColumns are the columns of the readings table beyond those of the reading's role;
// east and north are what lat and lon are then.
var rawColumns = func() []intake.Field {
	names := []string{"line", "lat", "lon", "east_m", "north_m"}
	for _, col := range layer.Reading.Columns {
		names = append(names, col.Name)
	}
	return intake.FieldsBeyond(names...)
}()

// Readings writes every reading with all that it holds and its fate, under the
// names of the readings table, so that it can be read in again (its positions are
// WGS 84 then), and behind them the rows that could not be read. Format as
// Lines.
func Readings(w io.Writer, s *trace.Sheet) error {
	c := csv.NewWriter(w)
	header := []string{"line", "lat", "lon"}
	for _, col := range layer.Reading.Columns {
		header = append(header, col.Name)
	}
	for _, col := range rawColumns {
		header = append(header, col.Metric())
	}
	own := newOwnPlace(s)
	header = append(header, own.header...)
	c.Write(header)
	for i := range s.Lines {
		one, k := *s, 0
		one.Lines = s.Lines[i : i+1]
		for f := range layer.Reading.Each(&one) {
			cells, err := own.cells(f.At)
			if err != nil {
				cells = make([]string, len(own.header)) // a wrong position may have none there
			}
			c.Write(append(readingRow(f, &s.Lines[i].Readings[k]), cells...))
			k++
		}
	}
	column := map[string]int{}
	for i, name := range header {
		column[name] = i
	}
	for _, p := range unreadable(s) {
		row := make([]string, len(header))
		row[column["file"]], row[column["row"]] = plainCell(p.File), strconv.Itoa(p.Row)
		row[column["status"]], row[column["reason"]] = "unreadable", plainCell(p.Error())
		c.Write(row)
	}
	c.Flush()
	return c.Error()
}

func readingRow(f *layer.Feature, r *trace.Reading) []string {
	row := []string{plainCell(f.Line), "", ""}
	if f.At.Valid() { // also where it is wrong: a table draws nothing
		row[1], row[2] = place.DegreesText(place.ToE8(f.At.LatDeg)), place.DegreesText(place.ToE8(f.At.LonDeg))
	}
	for i, col := range layer.Reading.Columns {
		v := f.Values[i]
		switch {
		case !v.Known:
			row = append(row, "")
		case col.Type == layer.TypeText:
			row = append(row, plainCell(v.Text))
		case col.Type == layer.TypeBoolean:
			row = append(row, yesCell(v.Num != 0))
		case col.Type == layer.TypeInteger:
			row = append(row, strconv.Itoa(int(v.Num)))
		default:
			row = append(row, literal.Trim(v.Num, col.Decimals))
		}
	}
	for _, col := range rawColumns {
		row = append(row, plainCell(col.Cell(r)))
	}
	return row
}

// unreadable lists the rows that could not be read, each once.
func unreadable(s *trace.Sheet) []*trace.Problem {
	var out []*trace.Problem
	seen := map[string]bool{}
	problems := words.Problems(s)
	for i := range problems {
		p := &problems[i]
		key := fmt.Sprintf("%s:%d", p.File, p.Row)
		if p.Warn || p.Row == 0 || seen[key] {
			continue
		}
		seen[key] = true
		out = append(out, p)
	}
	return out
}

func metresCell(m float64) string {
	if !literal.Finite(m) {
		return ""
	}
	return strconv.FormatFloat(m, 'f', 3, 64)
}

func yesCell(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// plainCell keeps a spreadsheet from running text of the input as a formula: it
// gets an apostrophe before it, which spreadsheets do not show.
func plainCell(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return s
	}
	if _, err := strconv.ParseFloat(s, 64); err == nil {
		return s
	}
	return "'" + s
}
