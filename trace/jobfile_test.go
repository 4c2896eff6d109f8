package trace

import (
	"errors"
	"math"
	"strings"
	"testing"

	"loamline/geo"
)

func TestReadJobFile(t *testing.T) {
	const text = `ticket = "T-2041"
date = 2026-05-12
valid_until = "2026-06-11"
units = "us"
datum = "NAD83(2011)"
epoch = 2026.36
antenna_gap_m = 0.40

[tolerance]
half_width = "24 in"
measured_from = "centerline"
rule = "a rule"

[columns]
depth_in = "Depth (in)"

[[line]]
name = "W-1"
utility = "water"
diameter = "6 in"
hookup = "direct"
freq_hz = 8000
transmitter = [ -71.50231, 44.10342 ]

[[line]]
name = "G-1"
utility = "gas"

[[reference]]
file = "town.geojson"
utility = "gas"
`
	j, err := ReadJobFile(strings.NewReader(text), "job.toml")
	if err != nil {
		t.Fatal(err)
	}
	if j.Ticket != "T-2041" || j.Date != "2026-05-12" || j.ValidUntil != "2026-06-11" || j.Units != geo.US || j.Epoch != 2026.36 ||
		j.AntennaGap != 0.4 || j.Columns["depth_in"] != "Depth (in)" || j.References[0].Utility != Gas {
		t.Errorf("read %+v", j)
	}
	w := j.Setup("W-1")
	if w.Utility != Water || math.Abs(w.DiameterM-6*0.0254) > 1e-12 || w.FreqHz != 8000 || w.Transmitter.LatDeg != 44.10342 || Known(w.PowerW) {
		t.Errorf("line %+v", w)
	}
	if math.Abs(j.Tolerance.HalfWidthM-24*0.0254) > 1e-12 || j.Tolerance.MeasuredFrom != "centerline" {
		t.Errorf("tolerance %+v", j.Tolerance)
	}
}

func TestReadJobFileErrorsLeadToTheLine(t *testing.T) {
	tests := []struct {
		name, text string
		row        int
		want       string
	}{
		{"unknown key", "ticket = \"a\"\nticke = \"b\"\n", 2, `nearest right key is "ticket"`},
		{"unknown key in a table", "[tolerance]\n# comment\nhalfwidth = \"18 in\"\n", 3, `nearest right key is "half_width"`},
		{"unknown key in the second line", "[[line]]\nname = \"a\"\n\n[[line]]\nname = \"b\"\nutilty = \"gas\"\n", 6, `nearest right key is "utility"`},
		{"unknown class", "[[line]]\nname = \"a\"\nutility = \"steam\"\n", 3, "electric, gas, communication"},
		{"bare length", "[tolerance]\nhalf_width = 18\n", 2, `such as "18 in"`},
		{"length without unit", "[tolerance]\nhalf_width = \"18\"\n", 2, "no unit"},
		{"bad day", "date = \"12 May\"\n", 1, "write 2026-05-12"},
		{"bad units", "\nunits = \"imperial\"\n", 2, `use "metric" or "us"`},
		{"measured from", "[tolerance]\nmeasured_from = \"side\"\n", 2, `"edge" or "centerline"`},
		{"swapped transmitter", "[[line]]\nname = \"a\"\ntransmitter = [ 44.1, -171.5 ]\n", 3, "longitude stands first"},
		{"two of one name", "[[line]]\nname = \"a\"\n[[line]]\nname = \"a\"\n", 4, "two lines"},
		{"no TOML", "ticket = \n", 1, "TOML"},
		{"unknown column", "[columns]\ndepth = \"D\"\n", 2, `nearest right key is`},
		{"number in quotes", "epoch = \"2026\"\n", 1, "without quotes"},
		{"single brackets", "[line]\nname = \"a\"\n", 1, "double brackets"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ReadJobFile(strings.NewReader(tt.text), "job.toml")
			var p *Problem
			if !errors.As(err, &p) {
				t.Fatalf("error: %v", err)
			}
			if p.Row != tt.row || !strings.Contains(p.Error(), tt.want) {
				t.Errorf("%v", p)
			}
		})
	}
}
