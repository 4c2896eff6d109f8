package trace

import (
	"context"

	"loamline.example/geo"
)

// Source is everything that goes into a job, read but not yet judged.
type Source struct {
	Name       string // base name of the outputs
	Version    string // of the program
	Job        Job
	Inputs     []Input
	Readings   []Reading // Build keeps and reorders them
	Unreadable int       // rows that no Reading stands for
	Problems   []Problem
	Records    []GeoRecord
	Underlay   *GeoPicture // nil for none
	// Nearby, if set, returns lines known from elsewhere that come near some
	// places of the job, in its plane; they count as records.
	Nearby   func(ctx context.Context, plane geo.Plane, places []geo.XY) ([]Record, error)
	Progress func(done, total int) // called after each line, if set; may come from any goroutine
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
