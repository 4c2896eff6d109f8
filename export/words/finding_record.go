package words

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/finding"
)

// What is said of a record that lies elsewhere.
var _ = worded("Differences from the records", func(u geo.Units, f finding.RecordDifference) told {
	return told{"Record '" + f.Record + "' lies elsewhere, " + Range(u, f.FromM, f.ToM), recordWords(u, f)}
})

func recordWords(u geo.Units, f finding.RecordDifference) []string {
	lies := u.Short(math.Abs(f.MeanOffsetM)) + " " + sideOf(f.MeanOffsetM) + " of the trace"
	if nothing(u.Short, f.MeanOffsetM) {
		lies = "along the trace"
	}
	return []string{
		"The record '" + f.Record + "' lies " + lies + " on average, " + u.Short(math.Abs(f.LargestOffsetM)) + " at most; the accuracy of both explains " +
			u.Short(f.AllowedM) + ".",
		"Record or trace is wrong here, or they are two different lines: treat both places as occupied and expose.",
	}
}
