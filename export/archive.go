package export

import "loamline/trace"

// JobKey is what a job goes by in a GeoPackage, an archive or a database: its
// ticket and name. A job of the same key is the same job done again.
func JobKey(s *trace.Sheet) string {
	if s.Job.Ticket == "" {
		return s.Name
	}
	return s.Job.Ticket + " / " + s.Name
}
