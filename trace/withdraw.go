package trace

import "fmt"

// withdraw takes back a line about which no zone can be drawn: a centerline
// without its zone must not leave, and the job's other lines must. Its readings
// are set aside with the reason, and the map asks for a new locate of it.
func (l *Line) withdraw(why error) {
	l.Centerline, l.Tolerance, l.Caution = nil, Zone{}, Zone{}
	l.Findings, l.Statements, l.Compared = nil, nil, nil
	l.Checked = append(l.Checked, fmt.Sprintf("No line is drawn: %v.", why))
	for i := range l.Readings {
		r := &l.Readings[i]
		r.StationM, r.OffsetM = Unknown, Unknown
		if r.Status == StatusUsed {
			r.setAside("no zone: none could be drawn about the course that the readings make")
		}
	}
}
