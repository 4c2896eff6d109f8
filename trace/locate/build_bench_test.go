package locate

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/intake"
	"loamline.example/trace/tracetest"
)

// BenchmarkBuild is the main job from the rows to the Sheet, by lines.
func BenchmarkBuild(b *testing.B) {
	for _, n := range []int{1, 4, 16} {
		var text strings.Builder
		if err := tracetest.ManyLines(&text, n); err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("lines=%d", n), func(b *testing.B) {
			for b.Loop() {
				tab, err := intake.ReadTable(strings.NewReader(text.String()), "many.csv", 0, intake.TableOptions{})
				if err != nil {
					b.Fatal(err)
				}
				s, err := Build(context.Background(), trace.Source{Name: "many", Job: trace.DefaultJob(), Inputs: []trace.Input{{Name: "many.csv"}}, Readings: tab.Readings})
				if err != nil || len(s.Lines) != n || s.Counts.Rows != 500*n || !s.Counts.Balanced() {
					b.Fatalf("%v, %d lines, %+v", err, len(s.Lines), s.Counts)
				}
			}
		})
	}
}
