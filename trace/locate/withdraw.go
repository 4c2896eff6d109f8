package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// withdraw takes back a line about which no zone can be drawn: a centerline
// without its zone must not leave, and the job's other lines must. Its readings
// are set aside with the reason, and the map asks for a new locate of it.
func withdraw(l *trace.Line, why error) {
	l.Centerline, l.Tolerance, l.Caution = nil, trace.Zone{}, trace.Zone{}
	l.Findings, l.Statements, l.Compared = nil, nil, nil
	l.Checked = append(l.Checked, remark.NotDrawn{Why: why})
	for i := range l.Readings {
		r := &l.Readings[i]
		r.StationM, r.OffsetM = trace.Unknown, trace.Unknown
		if r.Status == trace.StatusUsed {
			r.SetAside(remark.NoZone)
		}
	}
}
