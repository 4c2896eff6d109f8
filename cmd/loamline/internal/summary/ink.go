package summary

import (
	"io"
	"os"
	"runtime"

	"golang.org/x/term"
)

// ink is colour on a terminal, and nothing elsewhere: what a word means must
// never hang on it.
type ink bool

// inkFor asks whether w is a terminal that takes colour. NO_COLOR, if not
// empty, turns it off (no-color.org).
func inkFor(w io.Writer) ink {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return false
	}
	if runtime.GOOS == "windows" && os.Getenv("WT_SESSION") == "" {
		return false // an old console shows the codes themselves
	}
	return ink(term.IsTerminal(int(f.Fd())))
}

// The attributes of ECMA-48 (SGR) that the summary uses.
const (
	inkBold = "1"
	inkWarn = "1;33" // bold yellow
	inkStop = "1;31" // bold red
)

// in puts a text into an attribute.
func (k ink) in(attribute, text string) string {
	if !k || attribute == "" || text == "" {
		return text
	}
	return "\x1b[" + attribute + "m" + text + "\x1b[0m"
}
