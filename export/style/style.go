package style

import "loamline.example/trace"

// Style is how a class of utility is told apart: by colour, by letter code and
// by dash, never by colour alone.
//
// The colours are those of the Uniform Color Code for temporary marking of
// underground utilities (American Public Works Association). Neither that code
// nor ANSI Z535.1, to which it refers, publishes screen values: Hex is our own
// choice of the named colour. The dashes are our own. Letter codes follow
// marking habit in the US and Canada (from memory).
type Style struct {
	Utility trace.Utility
	Name    string    // in plain words, "potable water"
	Code    string    // letter code, "W"
	Color   string    // the code's name of the colour, "blue"
	Hex     string    // "#RRGGBB", for lines and fills
	InkHex  string    // darker, for text on white: contrast 4.5:1 or better (WCAG 2.1, 1.4.3)
	Dash    []float64 // dash, space, ... in line widths; nil is solid
}

// styles is in the order of trace.Utilities.
var styles = []Style{
	{trace.Electric, "electric power", "E", "red", "#D40000", "#B00000", []float64{10, 3, 2, 3}},
	{trace.Gas, "gas, oil, steam", "G", "yellow", "#FFD100", "#6B5600", []float64{7, 4}},
	{trace.Communication, "communication", "C", "orange", "#FF6A00", "#A34300", []float64{3, 3}},
	{trace.Water, "potable water", "W", "blue", "#0057B8", "#0057B8", nil},
	{trace.Reclaimed, "reclaimed water, irrigation, slurry", "RW", "purple", "#6A1B9A", "#6A1B9A", []float64{10, 3, 2, 3, 2, 3}},
	{trace.Sewer, "sewer, drain", "S", "green", "#00843D", "#006B32", []float64{16, 4}},
	{trace.UnknownKind, "unknown utility", "UNK", "none", "#5C5C5C", "#4A4A4A", []float64{1, 3}},
}

// All returns the table in the order of legends.
func All() []Style { return append([]Style(nil), styles...) }

// Of returns the style of a class. A class that the table does not know is
// drawn as unknown, never as another one.
func Of(u trace.Utility) Style {
	for _, s := range styles {
		if s.Utility == u {
			return s
		}
	}
	return styles[len(styles)-1]
}

// WarningHex is the colour of everything that says "do not trust the mark
// here": black, which the uniform code leaves free and which prints in grey.
const WarningHex = "#000000"

// GradeWidth is how broadly a suspected stretch is drawn, in widths of the
// line: the surer the suspicion, the broader.
func GradeWidth(g trace.Grade) float64 {
	switch g {
	case trace.GradeStrong:
		return 5
	case trace.GradeSuspect:
		return 4
	}
	return 3
}

func GradeAlpha(g trace.Grade) uint8 {
	switch g {
	case trace.GradeStrong:
		return 190
	case trace.GradeSuspect:
		return 150
	}
	return 70
}
