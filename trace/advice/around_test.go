package advice

import (
	"testing"

	"loamline.example/trace"
)

// A row that could not be read lies between the places of the rows next to it, whichever way
// the line was walked; between two lines, ahead of the first row and in another table nothing
// tells where.
func TestAroundARowThatCouldNotBeRead(t *testing.T) {
	read := func(file, row int32, stationM float64) trace.Reading {
		return trace.Reading{File: file, Row: row, StationM: stationM}
	}
	s := &trace.Sheet{Inputs: []trace.Input{{Name: "a.csv"}, {Name: "b.csv"}}, Lines: []trace.Line{
		{Setup: trace.LineSetup{Name: "A"}, Readings: []trace.Reading{read(0, 2, 9), read(0, 4, 6), read(0, 5, trace.Unknown), read(0, 6, 3), read(1, 5, 7)}},
		{Setup: trace.LineSetup{Name: "B"}, Readings: []trace.Reading{read(0, 8, 1)}},
	}}
	for row, want := range map[int][2]float64{3: {6, 9}, 5: {3, 6}, 7: {}, 1: {}, 9: {}} {
		line, from, to, ok := Around(s, "a.csv", row)
		if ok != (want != [2]float64{}) || ok && (line != "A" || [2]float64{from, to} != want) {
			t.Errorf("row %d: %q %g to %g, %v", row, line, from, to, ok)
		}
	}
	if _, _, _, ok := Around(s, "c.csv", 3); ok {
		t.Error("a table that is none of the job's has a place")
	}
}
