package trace

// Counts is the ledger: Used, SetAside, Check, Exposed and Unreadable add up
// to Rows.
type Counts struct {
	Rows, Used, SetAside, Check, Exposed, Unreadable int
}

// Balanced reports whether every row is accounted for.
func (c Counts) Balanced() bool {
	return c.Rows == c.Used+c.SetAside+c.Check+c.Exposed+c.Unreadable
}

// CountReadings counts the fates of readings.
func CountReadings(rs []Reading) Counts {
	c := Counts{Rows: len(rs)}
	for i := range rs {
		switch rs[i].Status {
		case StatusUsed:
			c.Used++
		case StatusSetAside:
			c.SetAside++
		case StatusCheck:
			c.Check++
		case StatusExposed:
			c.Exposed++
		}
	}
	return c
}
