package tables

import "fmt"

// Question asks about a column in words.
func (c ColumnView) Question(r *Remembered) string {
	switch {
	case c.Recalled != "" && c.Name != "" && r != nil:
		return fmt.Sprintf("%s says that %q is %s; answered on %s, for %s, was %s: which is right?", c.SaidBy(), c.Header, ColumnWords(c.Name), r.Day(), r.For, ColumnWords(c.Recalled))
	case c.Recalled != "" && r != nil:
		return fmt.Sprintf("%q is %s, as answered on %s for %s: still right?", c.Header, ColumnWords(c.Recalled), r.Day(), r.For)
	case c.Doubt != "":
		return fmt.Sprintf("what is the column %q? %s", c.Header, c.Doubt)
	}
	return fmt.Sprintf("what is the column %q?", c.Header)
}

// SaidBy is who says what a column is that nobody was asked about.
func (c ColumnView) SaidBy() string {
	if c.Stated {
		return "the job file"
	}
	return "its header"
}
