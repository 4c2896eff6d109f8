package export

import (
	"context"
	"fmt"
	"io"
	"sync"

	"github.com/paulmach/orb"

	"loamline.example/export/literal"
	"loamline.example/geo"
	"loamline.example/trace"
)

// withPlaces holds back every output of a sheet that has a place which nobody computed:
// each would fail at it in its own way, or draw something. The sheet is looked through
// when the first of them is written.
func withPlaces(s *trace.Sheet, outs []Output) []Output {
	check := sync.OnceValue(func() error { return checkPlaces(s) })
	for i := range outs {
		if write := outs[i].Write; write != nil {
			outs[i].Write = func(w io.Writer) error {
				if err := check(); err != nil {
					return err
				}
				return write(w)
			}
		}
		if write := outs[i].WritePath; write != nil {
			outs[i].WritePath = func(ctx context.Context, path string) error {
				if err := check(); err != nil {
					return err
				}
				return write(ctx, path)
			}
		}
	}
	return outs
}

// checkPlaces refuses coordinates that are not finite in what is drawn of a sheet: a bug
// upstream must not become a line on a map. Readings are left out; a wrong position is
// theirs to have.
func checkPlaces(s *trace.Sheet) error {
	for i := range s.Lines {
		l := &s.Lines[i]
		if err := checkLine(l); err != nil {
			return fmt.Errorf("line %q: %w", l.Setup.Name, err)
		}
	}
	for _, r := range s.Records {
		if err := checkPath(r.Path); err != nil {
			return fmt.Errorf("record %q: %w", r.Name, err)
		}
	}
	return nil
}

func checkLine(l *trace.Line) error {
	if l.Centerline != nil {
		for _, p := range l.Centerline.Parts {
			for _, v := range p.Vertices {
				if err := checkPath([]geo.XY{v.Pos}); err != nil {
					return err
				}
			}
		}
	}
	for _, z := range []trace.Zone{l.Tolerance, l.Caution} {
		if err := checkArea(z.Area); err != nil {
			return err
		}
	}
	for _, f := range l.Findings {
		if err := checkPath(f.Where()); err != nil {
			return fmt.Errorf("%s: %w", f.Role(), err)
		}
		for _, c := range f.Beside() {
			if err := checkPath(c.Path); err != nil {
				return fmt.Errorf("%s: %w", f.Role(), err)
			}
		}
	}
	return nil
}

func checkPath(path []geo.XY) error {
	for _, q := range path {
		if !literal.Finite(q.X) || !literal.Finite(q.Y) {
			return fmt.Errorf("a place at %v, %v", q.X, q.Y)
		}
	}
	return nil
}

func checkArea(area orb.MultiPolygon) error {
	for _, poly := range area {
		for _, ring := range poly {
			for _, p := range ring {
				if !literal.Finite(p[0]) || !literal.Finite(p[1]) {
					return fmt.Errorf("a corner of a zone at %v, %v", p[0], p[1])
				}
			}
		}
	}
	return nil
}
