package tables

import (
	"fmt"
	"regexp"
	"strings"
)

// ask decides whether a column that nobody has answered must be asked about.
func (c *ColumnView) ask(recalled *Remembered, separator string) {
	if recalled != nil {
		if old := recalled.Answers[c.Header]; old != "" && old != c.Name {
			_, wanted := guess(c.Header)
			c.Recalled = old
			c.Ask = wanted || old != notUsed || c.Name != ""
			return
		}
	}
	switch {
	case c.Name == "":
		c.Guess, c.Ask = guess(c.Header)
	case c.Name == "freq_hz" && separator != ",":
		if v := thousands(c.Sample); v != "" {
			c.Ask, c.Doubt = true, fmt.Sprintf("%q can mean %s Hz, or %s Hz", v, v[:strings.IndexByte(v, ',')], strings.Replace(v, ",", "", 1))
		}
	}
}

// withThousands is a figure such as 33,000.
var withThousands = regexp.MustCompile(`^[1-9][0-9]{0,2},[0-9]{3}$`)

// thousands finds a value whose comma can be a decimal one or part of thousands.
func thousands(values []string) string {
	for _, v := range values {
		if withThousands.MatchString(v) {
			return v
		}
	}
	return ""
}

// depthOpen reports whether no column is known as the depth, and one could be.
func (v *TableView) depthOpen() bool {
	open := false
	for _, c := range v.Columns {
		if strings.HasPrefix(c.Name, "depth_") || c.Ask && (strings.HasPrefix(c.Recalled, "depth_") || mayBeDepth(c.Header)) {
			return false // known, or asked about by itself
		}
		if _, answered := v.Answers[c.Header]; c.Name == "" && !answered && c.Header != "" {
			if field, _ := guess(c.Header); field == "" {
				open = true
			}
		}
	}
	return open && !v.NoDepth
}
