package table

import (
	"encoding/csv"
	"io"
	"math"

	"loamline.example/trace"
)

// Records writes how far the records lie from the traces: one row per station
// at which a line was compared with a record of it, in metres, positive to the
// right of travel. Format as Lines; only the header where nothing was compared.
func Records(w io.Writer, s *trace.Sheet) error {
	c := csv.NewWriter(w)
	c.Write([]string{"line", "record", "source", "station_m", "offset_m", "allowed_m", "beyond"})
	for i := range s.Lines {
		l := &s.Lines[i]
		for _, o := range l.Compared {
			c.Write([]string{plainCell(l.Setup.Name), plainCell(o.Record), plainCell(o.Source), metresCell(o.StationM),
				metresCell(o.OffsetM), metresCell(o.AllowedM), yesCell(math.Abs(o.OffsetM) > o.AllowedM)})
		}
	}
	c.Flush()
	return c.Error()
}
