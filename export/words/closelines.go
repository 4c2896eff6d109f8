package words

import (
	"loamline.example/geo"
	"loamline.example/trace/closelines"
)

// CloseWords tells of two lines that run close.
func CloseWords(u geo.Units, c closelines.Pair) string {
	if c.OnRecord {
		return c.Line + ", " + u.Long(c.FromM) + " to " + u.Long(c.ToM) + ": " + quoted(c.Other) + " is on record, not located, " + u.Short(c.LeastM) + " beside it at " +
			u.Long(c.AtM) + ": no machine between them or in either zone."
	}
	return c.Line + ", " + u.Long(c.FromM) + " to " + u.Long(c.ToM) + ": " + c.Other + " runs close, drawn " + u.Short(c.LeastM) + " apart at " +
		u.Long(c.AtM) + "; their zones touch: no machine between them."
}
