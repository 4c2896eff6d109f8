package trace

import "loamline.example/geo"

// Record is a line known from a reference layer.
type Record struct {
	Name    string
	Source  string // file or database it came from
	Utility Utility
	Path    []geo.XY
	DepthM  []float64 // one a vertex, Unknown where not given
	DoubtM  float64   // how far off it may lie for its frame alone
	// DoubtWhy says why, as "its frame is not stated"; empty where nothing is in doubt.
	DoubtWhy string
	// Earlier marks what an earlier job traced: its names are that job's own, and line 1
	// of the one is not line 1 of the other.
	Earlier bool
	// FrameDoubtM is how far off all of that job's map may lie for its frame; FrameDoubtWhy
	// says so.
	FrameDoubtM   float64
	FrameDoubtWhy string
}

// GeoRecord is a line known from a reference layer, before it is brought into
// the job's plane. Positions are WGS 84 degrees.
type GeoRecord struct {
	Name    string
	Source  string
	Utility Utility
	Path    []geo.LonLat
	DepthM  []float64 // one a vertex, Unknown where not given
	DoubtM  float64   // how far off it may lie for its frame alone
	// DoubtWhy says why, as "its frame is not stated"; empty where nothing is in doubt.
	DoubtWhy string

	// Background marks what is no line of a utility, such as a kerb.
	Background bool
}

// RecordReachM is how far from the readings a record still matters: farther than
// any signal strays and any sheet shows.
const RecordReachM = 250.0

// RecordSigmaM is how well a record is taken to know where its line lies, one sigma
// across it (common practice, no source).
const RecordSigmaM = 0.30

// Background is a line or an outline of something that is no line of a utility.
type Background struct {
	Name   string
	Source string // file or database it came from
	Path   []geo.XY
	DoubtM float64 // how far off it may lie for its frame alone
}

// RecordOffset is how far a record lies from the trace at one station.
type RecordOffset struct {
	Record, Source string
	StationM       float64
	OffsetM        float64 // record from trace, positive to the right of travel
	AllowedM       float64 // what the bands of both explain
}

// Feature is a fixed feature in the job's plane. One place is measured to from
// there; a path, such as a kerb, is measured off square and along.
type Feature struct {
	Name   string
	Source string // the file or database that it came from; empty where the job states it
	Path   []geo.XY
}
