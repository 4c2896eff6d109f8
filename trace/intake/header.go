package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"loamline.example/trace"
	"loamline.example/trace/remark"
	"loamline.example/trace/spelling"
)

// maxUnknownColumns is how many unknown columns of a file are told one by one.
const maxUnknownColumns = 50

// header reads the header row and matches the file's columns with ours.
func (t *tableReader) header() error {
	rec, err := t.scan.next(0)
	if err != nil {
		if p := t.ended(err); p != nil {
			return p
		}
		p := &trace.Problem{File: t.name, Cause: "the file is empty", Hint: "a readings table has a header row and one row per reading"}
		if t.scan.comment != "" {
			p.Cause, p.Hint = "the file has no header row: all its lines start with # and are skipped", "if one of them is the header, take its # away"
		}
		return p
	}
	if p := headerProblem(t.name, rec); p != nil {
		return p
	}
	t.rec = rec
	headers := make([]string, len(rec.fields))
	seen := map[string]int{}
	for i := range headers {
		h := strings.Clone(strings.TrimSpace(rec.field(i)))
		if !utf8.ValidString(h) {
			return t.at(i, h, "the header is not UTF-8 text", saveAsCSV)
		}
		key := strings.ToLower(h)
		if j, again := seen[key]; again && key != "" {
			return t.at(i, h, fmt.Sprintf("columns %d and %d have the same header", j+1, i+1), "rename or delete one of them")
		}
		headers[i], seen[key] = h, i
	}
	names, err := t.match(headers, seen)
	if err != nil {
		return err
	}
	byField := map[string]int{}
	t.headerRow = rec.line
	t.use = make([]column, len(headers))
	t.lost, t.marks = make([]int, len(headers)), make([]int, len(headers))
	for i, n := range names {
		t.table.Columns = append(t.table.Columns, t.column(i, headers[i], n))
		if n == "" {
			continue
		}
		c := columns[n]
		if j, again := byField[c.field]; again {
			return t.at(i, headers[i], fmt.Sprintf("this column and %q both give %s", headers[j], c.field), "keep one of them, and rename the other if it is something else")
		}
		byField[c.field], t.use[i] = i, c
	}
	t.scan.places = placeColumns(byField)
	t.tellUnknown()
	return nil
}

// column notes a column and where its header stands.
func (t *tableReader) column(i int, header, name string) TableColumn {
	row, column := t.rec.position(t.rec.fields[i].from)
	return TableColumn{Header: header, Name: name, Row: row, Column: column}
}

// match names each file column: by the column map first, else by its header.
func (t *tableReader) match(headers []string, seen map[string]int) ([]string, error) {
	names := make([]string, len(headers))
	for _, ours := range ColumnNames() {
		theirs, mapped := t.opt.Columns[ours]
		if !mapped {
			continue
		}
		i, ok := seen[strings.ToLower(strings.TrimSpace(theirs))]
		if !ok {
			if _, own := seen[ours]; own {
				t.table.Passed = append(t.table.Passed, ours)
				continue // one map serves several files, and this one needs none
			}
			hint := "the file has " + quoteAll(headers)
			if near := spelling.Nearest(theirs, headers); near != "" {
				hint = fmt.Sprintf("the nearest header is %q", near)
			}
			return nil, &trace.Problem{File: t.name, Row: t.rec.line, Field: ours, Value: theirs,
				Cause: errNotMapped.Error(), Hint: hint, Err: errNotMapped}
		}
		if names[i] != "" {
			return nil, t.at(i, headers[i], fmt.Sprintf("the column map gives this column to both %s and %s", names[i], ours), "give each name its own column")
		}
		if p := t.contradicts(i, headers[i], ours); p != nil {
			return nil, p
		}
		names[i] = ours
	}
	for i, h := range headers {
		if _, known := columns[strings.ToLower(h)]; names[i] == "" && known {
			names[i] = strings.ToLower(h)
		}
	}
	return names, nil
}

// contradicts says where a header names another unit or another direction than the name
// that the column map gives it, and notes a depth to another place than ours.
func (t *tableReader) contradicts(i int, header, ours string) *trace.Problem {
	if unit := otherUnit(header, ours); unit != "" {
		return t.at(i, header, fmt.Sprintf("the column map reads this column as %s, and its header says %s", ours, cmp.Or(unitSaid[unit], unit)), unitHint(header, ours, unit))
	}
	if otherAxis(header, ours) {
		return t.at(i, header, fmt.Sprintf("the column map reads this column as %s, and its header says the other direction", ours),
			"give lat and north the column that runs north, and lon and east the one that runs east; where the header is wrong, correct it there")
	}
	if to := depthTo(header); columns[ours].field == "depth" && to != "" {
		p := t.at(i, header, "the column map reads this column as depths to the centre of the line, and its header says another depth", "ask what was measured, and write depths to the centre")
		p.Warn, p.Check = true, remark.DepthElsewhere{Table: t.name, Header: header, Invert: to == "invert"}
		t.table.Problems = append(t.table.Problems, *p)
	}
	return nil
}

// isColumn reports whether a header is known, by its own name or by the map.
func (o TableOptions) isColumn(header string) bool {
	if _, known := columns[strings.ToLower(header)]; known {
		return true
	}
	for _, theirs := range o.Columns {
		if strings.EqualFold(strings.TrimSpace(theirs), header) {
			return true
		}
	}
	return false
}

// needPosition makes sure that rows can have a position.
func (t *tableReader) needPosition() error {
	has := func(field string) bool {
		return slices.ContainsFunc(t.use, func(c column) bool { return c.field == field })
	}
	headers := make([]string, len(t.table.Columns))
	for i, c := range t.table.Columns {
		headers[i] = c.Header
	}
	switch {
	case has("lat") && has("lon") || has("east") && has("north"):
		return nil
	case t.opt.WithoutPosition && has("time"):
		return nil
	}
	missing := "lat and lon (or east_m and north_m)"
	for _, pair := range [][2]string{{"lat", "lon"}, {"lon", "lat"}, {"east", "north_m"}, {"north", "east_m"}} {
		if has(pair[0]) {
			missing = pair[1]
			break
		}
	}
	p := &trace.Problem{File: t.name, Row: t.rec.line, Cause: "there is no column " + missing + "; the file has " + quoteAll(headers),
		Hint: "name the position columns in the job file under [columns], or join a GNSS log by time"}
	if t.opt.WithoutPosition {
		p.Cause = "there is neither a position nor a column time by which the GNSS log could give one; the file has " + quoteAll(headers)
		p.Hint = "name the column of the times in the job file under [columns]"
	} else if hint := t.positionHint(has); hint != "" {
		p.Hint = hint
	}
	if line := t.headerBelow(); line > 0 {
		p.Hint = fmt.Sprintf("line %d looks like the header: delete the lines above it, or begin them with #", line)
	}
	if c := strings.ToLower(t.scan.comment); strings.Contains(c, "lat") && strings.Contains(c, "lon") {
		p.Hint = "lines that start with # are skipped: if one of them is the header, take its # away"
	}
	return p
}

// positionWords are headers of positions as others write them.
var positionWords = map[string][]string{
	"lat": {"latitude", "latitud", "gps latitude", "wgs84 latitude"},
	"lon": {"longitude", "longitud", "long", "lng", "gps longitude", "wgs84 longitude"},
}

// positionHint says which headers are likely meant for what is missing of the position,
// or that the header row is missing; empty where neither can be told.
func (t *tableReader) positionHint(has func(field string) bool) string {
	missing := []string{"lat", "lon"}
	switch {
	case has("lat"):
		missing = missing[1:]
	case has("lon"):
		missing = missing[:1]
	case has("east"):
		missing = []string{"north_m"}
	case has("north"):
		missing = []string{"east_m"}
	}
	var headers, named []string
	for _, c := range t.table.Columns {
		if headers = append(headers, c.Header); c.Name == "" && len(named) < len(missing) {
			if at := slices.IndexFunc(missing, func(ours string) bool { return meansPosition(c.Header, ours) }); at >= 0 {
				named = append(named, fmt.Sprintf("%s = %q", missing[at], c.Header))
				missing[at] = ""
			}
		}
	}
	switch {
	case len(named) == len(missing) && len(named) > 1:
		slices.Sort(named)
		return "did you mean these? Then write in the job file, under [columns], " + strings.Join(named, " and ")
	case len(named) == len(missing):
		return "did you mean this one? Then rename it, or write in the job file, under [columns], " + named[0]
	}
	figures := 0
	for _, h := range headers {
		if _, err := strconv.ParseFloat(h, 64); err == nil {
			figures++
		}
	}
	if 2*figures > len(headers) {
		return "the first row looks like a reading: write the header row above it, or take it from the blank table of 'loamline template'"
	}
	return ""
}

// meansPosition reports whether a header is another word for one of ours of the position,
// or a slip of the finger from it: a letter too many, too few or another, behind the first.
func meansPosition(header, ours string) bool {
	plain := strings.Join(strings.FieldsFunc(strings.ToLower(header), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), " ")
	return plain != "" && ours != "" && slices.ContainsFunc(append(positionWords[ours], strings.ReplaceAll(ours, "_", " ")), func(word string) bool {
		return plain == word || plain[0] == word[0] && spelling.Distance(plain, word) == 1
	})
}

// headerBelow is the line on which a header stands beneath titles, 0 where none does.
func (t *tableReader) headerBelow() int {
	const most = 20 // lines
	for range most {
		rec, err := t.scan.next(0)
		if err != nil {
			return 0
		}
		known := 0
		for i := range rec.fields {
			if t.opt.isColumn(strings.TrimSpace(rec.field(i))) {
				known++
			}
		}
		if known >= 2 {
			return rec.line
		}
	}
	return 0
}

// tellUnknown warns of the columns that are not used.
func (t *tableReader) tellUnknown() {
	unknown, listed := 0, false
	problems := map[int]int{}
	for i, c := range t.table.Columns {
		if c.Name != "" || c.Header == "" {
			continue
		}
		if unknown++; unknown > maxUnknownColumns {
			continue
		}
		hint := unknownHint(c.Header)
		if hint == noHint && !listed {
			hint, listed = hint+"; "+namesByTopic, true
		}
		p := t.at(i, c.Header, "this column is not known and not used", hint)
		p.Warn = true
		problems[i] = len(t.table.Problems)
		t.table.Problems = append(t.table.Problems, *p)
	}
	t.findMisnamed(problems)
	if more := unknown - maxUnknownColumns; more > 0 {
		t.table.Problems = append(t.table.Problems, trace.Problem{File: t.name, Row: t.rec.line, Warn: true,
			Cause: fmt.Sprintf("%d more columns are not known and not used", more), Hint: unknownHint("")})
	}
}

// unknownHint says which column may have been meant.
func unknownHint(header string) string {
	h := strings.ToLower(header)
	if units := unitNames(h); len(units) > 0 {
		return "its unit is missing: name it " + strings.Join(units, ", ")
	}
	near := spelling.Nearest(h, ColumnNames())
	if most := max(1, len(h)/4); near != "" && spelling.Distance(h, near) > most {
		near = "" // a word of another language is as near to some name by chance
	}
	g, ok := guessColumn(header)
	if ok && near == "" && len(g.names) > 1 && !g.other && !slices.Contains(g.names, g.field) {
		return "its unit is missing: name it " + g.words()
	}
	if ok && g.other {
		return "its unit is not read: convert the figures and name it " + g.words()
	}
	if ok && (near == "" || len(g.names) == 1) {
		near = g.names[0]
	}
	if near != "" {
		return fmt.Sprintf("if it is meant to be %q, rename it or name it in the job file under [columns]", near)
	}
	return noHint
}

// noHint is said of a column that is near none of ours, the first time with the names
// that there are.
const (
	noHint       = "if it is needed, give it one of loamline's names in the job file under [columns]"
	namesByTopic = "they are lat and lon, or east_m and north_m (place), depth_m, depth_cm, depth_ft or depth_in (depth), current_ma, signal, null_offset_m and freq_hz (signal), fix, hdop and h_acc_m (fix), line, point, time, exposed and lift_m, and the blank table has them all"
)

// quoteAll lists headers for a message.
func quoteAll(headers []string) string {
	const most = 20
	shown := slices.Clone(headers[:min(most, len(headers))])
	for i, h := range shown {
		shown[i] = fmt.Sprintf("%q", trace.Shorten(h))
	}
	list := strings.Join(shown, ", ")
	if more := len(headers) - most; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}
