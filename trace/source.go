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
	LinePlaces []FilePlace // where the job file names each of Job.Lines; empty where that is not known
	Records    []GeoRecord
	Underlay   *GeoPicture // nil for none
	// Nearby, if set, returns lines known from elsewhere that come near some
	// places of the job, in its plane; they count as records.
	Nearby   func(ctx context.Context, plane geo.Plane, places []geo.XY) ([]Record, error)
	Progress func(done, total int) // called after each line, if set; may come from any goroutine
}

// FilePlace is a line and a character of a file, from 1.
type FilePlace struct{ Row, Column int }
