package intake

import (
	"strings"
	"testing"
)

// A header of another language is not taken for whatever name of ours is near by chance:
// the names that there are stand beside it. A slip of the finger is seen as before.
func TestUnknownHeaders(t *testing.T) {
	for header, want := range map[string]string{
		"tiefe": "name it depth_cm, depth_ft", "zeit": "", "strom": "", "profondeur": "name it depth_cm, depth_ft", "lage": "", "hoehe": "", "datum": "", "fecha": "", "linie": "line", "linea": "line",
		"depht_m": "depth_m", "Depth (in)": "depth_in", "curent_ma": "current_ma",
	} {
		got := unknownHint(header)
		if (want == "") != (got == noHint) || !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", header, got, want)
		}
	}
}
