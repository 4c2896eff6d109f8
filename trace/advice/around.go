package advice

import "loamline.example/trace"

// Around tells where on a line a row of a table lies that could not be read: between the
// rows next to it there, where both are places of one line.
func Around(s *trace.Sheet, table string, row int) (line string, fromM, toM float64, ok bool) {
	var before, after *trace.Reading
	var of [2]string
	for i := range s.Lines {
		l := &s.Lines[i]
		for k := range l.Readings {
			r := &l.Readings[k]
			if int(r.File) >= len(s.Inputs) || s.Inputs[r.File].Name != table || !trace.Known(r.StationM) {
				continue
			}
			switch at := int(r.Row); {
			case at < row && (before == nil || r.Row > before.Row):
				before, of[0] = r, l.Setup.Name
			case at > row && (after == nil || r.Row < after.Row):
				after, of[1] = r, l.Setup.Name
			}
		}
	}
	if before == nil || after == nil || of[0] != of[1] {
		return "", 0, 0, false
	}
	return of[0], min(before.StationM, after.StationM), max(before.StationM, after.StationM), true
}
