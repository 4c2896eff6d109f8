package summary

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// The screen that the short summary is to fit: that of a terminal as it opens on most
// systems is 80 columns wide and 24 to 30 rows high (common practice, no source). A job
// with more lines than tableRows gets a row more for each.
const (
	screenColumns = 80
	screenHeight  = 30
	tableRows     = 6
)

// columns is how wide a text without colour is on a terminal.
func columns(text string) int { return runewidth.StringWidth(text) }

// screenRows is how many rows of the screen lines of text take.
func screenRows(text string) int {
	return strings.Count(strings.TrimSuffix(Wrap(text, screenColumns), "\n"), "\n") + 1
}
