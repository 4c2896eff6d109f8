package compare

import (
	"slices"
	"testing"

	"loamline.example/trace"
)

func mapOf(lines ...trace.Located) trace.Located {
	out := trace.Located{Name: "map"}
	for _, l := range lines {
		out.Lines = append(out.Lines, l.Lines...)
	}
	return out
}

func TestPairLines(t *testing.T) {
	at := func(name string, eastM float64) trace.Located {
		return located(name, func(float64) float64 { return eastM }, 1)
	}
	for _, tt := range []struct {
		name          string
		first, second trace.Located
		want          []Pair
	}{
		{"by name, where the place agrees", mapOf(at("A", 0), at("B", 3)), mapOf(at("B", 3.1), at("A", 0.1)), []Pair{{First: "A", Second: "A"}, {First: "B", Second: "B"}}},
		{"by place, where names are others", mapOf(at("A", 0), at("B", 3)), mapOf(at("main", 0.1), at("B", 3)), []Pair{{First: "A", Second: "main", ByPlace: true}, {First: "B", Second: "B"}}},
		{"names taken the other way round", mapOf(at("A", 0), at("B", 3)), mapOf(at("A", 3), at("B", 0)), []Pair{{First: "A", Second: "B", ByPlace: true}, {First: "B", Second: "A", ByPlace: true}}},
		{"displaced beyond both bands, of one name", mapOf(at("A", 0)), mapOf(at("A", 1.5)), []Pair{{First: "A", Second: "A"}}},
		{"displaced, of another name", mapOf(at("A", 0)), mapOf(at("x", 1.5)), []Pair{{First: "A", Second: "x", ByPlace: true}}},
		{"too far apart", mapOf(at("A", 0)), mapOf(at("x", 4)), []Pair{{First: "A"}, {Second: "x"}}},
		{"nowhere near", mapOf(at("A", 0)), mapOf(at("x", 4000)), []Pair{{First: "A"}, {Second: "x"}}},
	} {
		if got := PairLines(tt.first, tt.second); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %+v, not %+v", tt.name, got, tt.want)
		}
	}
	first, second := mapOf(at("A", 0), at("B", 3)), mapOf(at("x", 0.15), at("y", 3))
	o := OverlayPairs(first, second, []Pair{{First: "A", Second: "x"}, {First: "B"}, {Second: "y"}})
	if len(o) != 3 || o[0].Other != "x" || o[0].MeanOffsetM() < 0.149 || o[0].MeanOffsetM() > 0.151 || !o[1].FirstOnly || !o[2].OtherOnly {
		t.Errorf("%+v", o)
	}
}
