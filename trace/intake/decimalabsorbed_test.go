package intake

import (
	"fmt"
	"strings"
	"testing"
)

// Decimal commas that an empty last column takes in leave rows that fit the header: where
// the decimals or the last column show them, the table is refused or that is told.
func TestDecimalCommasTakenIn(t *testing.T) {
	table := func(header, row string) string {
		text := header + "\n"
		for i := range 6 {
			text += strings.ReplaceAll(fmt.Sprintf(row, i), "N", fmt.Sprint(i)) + "\n"
		}
		return text
	}
	for _, c := range []struct{ name, text, refused, told string }{
		{"zeros, and numbers for notes", table("lat,lon,depth_m,current_ma,note", "44.1%d,-71.5,1,0N,60"), "walk.csv:2:13", ""},
		{"numbers for notes", table("lat,lon,depth_ft,signal,note", "44.1%d,-71.5,3,N,109"), "", "depth_ft"},
		{"zeros", table("lat,lon,depth_m,signal", "44.1%d,-71.5,1,0N"), "", "depth_m"},
		{"an accuracy", table("lat,lon,h_acc_m,depth_m,signal", "44.1%d,-71.5,0,02N,1.2"), "", "h_acc_m"},
		{"a latitude", table("lat,lon,depth_m", "52,5123%d,13.4"), "walk.csv:2:1", ""},
		{"decimal points", table("lat,lon,depth_m,current_ma,note", "44.1%d,-71.5,1.0N,60,12"), "", ""},
		{"whole feet", table("lat,lon,depth_ft,current_ma,note", "44.1%d,-71.5,3,6N,valve"), "", ""},
		{"whole feet, once not", table("lat,lon,depth_ft,current_ma,note", "44.1%d,-71.5,3,6N,1") + "44.2,-71.5,3.5,60,1\n", "", ""},
		{"one frequency", table("lat,lon,depth_ft,freq_hz,note", "44.1%d,-71.5,3,512,7"), "", ""},
		{"centimetres", table("lat,lon,depth_cm,current_ma,note", "44.1%d,-71.5,110,6N,7"), "", ""},
	} {
		got, err := ReadTable(strings.NewReader(c.text), "walk.csv", 0, TableOptions{})
		if c.refused != "" {
			if err == nil || !strings.Contains(err.Error(), c.refused) || !strings.Contains(err.Error(), "decimal commas") {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		told := ""
		for _, p := range got.Problems {
			if p.Check != nil && strings.Contains(p.Cause, "decimal commas") {
				told = p.Field
			}
		}
		if told != c.told {
			t.Errorf("%s: told of %q: %v", c.name, told, got.Problems)
		}
	}
}
