package main

import (
	"slices"
	"testing"
)

func TestDistinctNames(t *testing.T) {
	for _, tt := range []struct{ paths, want []string }{
		{[]string{"day1/a.csv"}, []string{"a.csv"}},
		{[]string{"day1/a.csv", "day2/b.csv"}, []string{"a.csv", "b.csv"}},
		{[]string{"day1/a.csv", "day2/a.csv"}, []string{"day1/a.csv", "day2/a.csv"}},
		{[]string{"p/x/a.csv", "q/x/a.csv", "b.csv"}, []string{"p/x/a.csv", "q/x/a.csv", "b.csv"}},
		{[]string{"a.csv", "./a.csv"}, []string{"a.csv", "a.csv"}},
		{[]string{"a.csv", "day1/a.csv"}, []string{"a.csv", "day1/a.csv"}},
		{[]string{"/a.csv", "/x/a.csv", "/x/a.csv"}, []string{"a.csv", "x/a.csv", "x/a.csv"}},
	} {
		if got := distinctNames(tt.paths); !slices.Equal(got, tt.want) {
			t.Errorf("%q: %q, want %q", tt.paths, got, tt.want)
		}
	}
}
