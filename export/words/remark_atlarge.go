package words

import (
	"fmt"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// inputAtLarge says what to check where the input leaves open what the map lacks, or
// where all of it lies.
func inputAtLarge(u geo.Units, r trace.Remark) string {
	switch r := r.(type) {
	case remark.LineUnread:
		return fmt.Sprintf("The job file describes the line %q, and no reading is of it: it is not drawn, and nothing that the job file says of it was used. If the readings are of this line, give it the same name in both and make the map again; if not, locate it before digging.",
			trace.Shorten(r.Line))
	case remark.NamesAlike:
		return fmt.Sprintf("%q and %q were drawn as two lines, and nothing is drawn between them. If they are one line, write its name in one way and make the map again.", trace.Shorten(r.Name), trace.Shorten(r.Other))
	case remark.TablesAsOne:
		return fmt.Sprintf("%s and %s name no line and were taken as one, %q, though their readings lie more than %s apart. If they are two lines, add a column named line with their names and make the map again.", r.First, r.Second, trace.Shorten(r.Line), u.Long(r.ApartM))
	case remark.NumbersSplit:
		return fmt.Sprintf("%s: every value of the column %q is a whole number followed by another one, as decimal commas make in a table separated by commas: both columns may be misread. If so, write decimal points and make the map again.", r.Table, trace.Shorten(r.Header))
	case remark.RowsUnread:
		first, at := "line", ""
		if r.N > 1 {
			first = "the first is line"
		}
		if r.Line != "" {
			at = ", at " + Range(u, r.FromM, r.ToM) + " of " + InText(r.Line)
		}
		return fmt.Sprintf("%s: %d of %d rows could not be read (%s %d%s). Correct the table and make the map again, or find the line there before digging.", r.Table, r.N, r.Of, first, r.FirstLine, at)
	case remark.RowsHashed:
		if r.N == 1 {
			return fmt.Sprintf("%s: line %d begins with # as a comment does, and holds a reading's place: nothing is drawn from it. If it is a reading, put the text that begins with # in quotes, or take the # away, and make the map again.", r.Table, r.FirstLine)
		}
		return fmt.Sprintf("%s: %d lines begin with # as comments do, and hold places of readings (the first is line %d): nothing is drawn from them. If they are readings, put the texts that begin with # in quotes, or take the # away, and make the map again.", r.Table, r.N, r.FirstLine)
	case remark.SimulatorData:
		return fmt.Sprintf("%s holds simulator data: readings that were never measured (%d) were set aside. Find out how they got into the file before you trust the rest of it.", r.File, r.N)
	case remark.SignTurned:
		return fmt.Sprintf("%s: a sign was lost in all its positions, and was put back for this map. Check that the map lies where the readings were taken, and correct the file at its source.", r.File)
	case remark.LayerFar:
		if r.N == 0 {
			return fmt.Sprintf("There is no line in the layer %s: no known line could be compared with the trace, or suspected. Find out whether it is the right layer.", r.Source)
		}
		return fmt.Sprintf("No line of the layer %s comes within %s of the readings: none could be compared with the trace, or suspected. Find out whether it is the layer of this place.", r.Source, u.Long(r.ReachM))
	case remark.LayerIncomplete:
		return fmt.Sprintf("Some lines of the layer %s could not be used (%d of its features): known lines may be missing from the map. Correct the layer and make the map again, or find them before digging.", r.Source, r.N)
	case remark.PlacedByClock:
		return fmt.Sprintf("%d positions are from the GNSS log %s, by time alone: a second between the two clocks is a metre at walking pace. Compare the map with a place that you know, and measure from the paint.", r.N, r.Log)
	case remark.OtherFoot:
		return fmt.Sprintf("The column %q was read in another foot than that of %s, because the column map says so. If that is wrong, the whole map lies a metre or more off: measure a known point, and measure from the paint.", trace.Shorten(r.Header), r.CRS)
	}
	return ""
}
