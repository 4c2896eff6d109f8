package trace

import "loamline.example/geo"

// Located is a finished map as far as two of them can be compared: the lines
// with their bands, in WGS 84.
type Located struct {
	Name, Ticket, Date string
	CRS, Datum         string // as the job stated them; empty where it did not
	Lines              []LocatedLine
}

// LocatedLine is one line of a finished map; its parts are in travel order.
type LocatedLine struct {
	Name    string
	Utility Utility // "" or UnknownKind where the map has none
	Parts   [][]LocatedVertex

	// Doubted are the stretches, by station, that the map itself tells not to trust: its
	// doubts, and where bleed-over is more than watched for.
	Doubted []LocatedStretch
}

// LocatedStretch is from one station of a line to another; of all the line where they are
// not known.
type LocatedStretch struct{ FromM, ToM float64 }

// LocatedVertex is a vertex of a line, with Unknown for what was not read.
type LocatedVertex struct {
	At                                        geo.LonLat
	StationM, DepthM, Depth95M, Horizontal95M float64
}
