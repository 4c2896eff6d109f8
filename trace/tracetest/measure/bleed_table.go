package measure

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"loamline.example/trace/tracetest"
)

// bleedWorlds are the rows world by world.
func bleedWorlds(rows []BleedRow) (worlds []World, of map[World][]BleedRow) {
	of = map[World][]BleedRow{}
	for _, r := range rows {
		of[r.World] = append(of[r.World], r)
	}
	return worldsOf(rows, func(r BleedRow) World { return r.World }), of
}

// sumBleed adds up the rows that a test picks, for one set of columns.
func sumBleed(rows []BleedRow, set int, pick func(tracetest.Family) bool) *BleedScore {
	out := &BleedScore{}
	for _, r := range rows {
		if pick(r.Family) {
			out.add(r.Scores[set])
		}
	}
	return out
}

func isJump(f tracetest.Family) bool    { return strings.HasPrefix(f.Name, "jump") }
func isFooling(f tracetest.Family) bool { return strings.HasPrefix(f.Name, "fools") }
func isBleed(f tracetest.Family) bool   { return f.CarriesBleed && !isJump(f) && !isFooling(f) }

// isRTKJump is a jump traced with RTK throughout.
func isRTKJump(f tracetest.Family) bool {
	return f.Name == "jump" || f.Name == "jump-return" || f.Name == "jump-known"
}
func isQuiet(f tracetest.Family) bool { return !f.CarriesBleed }

// WriteBleed writes the tables of suspected bleed-over.
func WriteBleed(w io.Writer, rows []BleedRow) error {
	t := &table{w: w}
	worlds, of := bleedWorlds(rows)
	t.printf("### Found and missed, at suspect or strong, by columns available\n\n")
	t.head("columns", "world", "dangerous stretches found, %", "of their length, %", "jumps found, %", "said to be jumps, %",
		"jumps, RTK, %", "stretches on coupled signal, %", "false stretches /km, quiet lines", "false m /km")
	for k, set := range ColumnSets {
		for _, world := range worlds {
			rows := of[world]
			b, q, j, rtk := sumBleed(rows, k, isBleed), sumBleed(rows, k, isQuiet), sumBleed(rows, k, isJump), sumBleed(rows, k, isRTKJump)
			all := sumBleed(rows, k, func(f tracetest.Family) bool { return f.CarriesBleed && !isFooling(f) })
			t.row(set.Name, string(world), share(b.Found, b.Events), percent(b.FoundM/b.EventM), share(j.JumpsFound, j.Jumps),
				share(j.JumpsSaid, j.Jumps), share(rtk.JumpsFound, rtk.Jumps), share(all.True, all.Stretches),
				over(float64(q.QuietStretches), q.QuietM/1000, 3), over(q.QuietFlaggedM, q.QuietM/1000, 2))
		}
	}
	t.printf("\n### Likely displacement, where the map gives one\n\n")
	t.head("columns", "world", "side right, %", "median error, m", "90th percentile, m", "readings in the 95 % band, %",
		"displaced over 0.10 m, in the band, %", "estimated / true there, median")
	for k, set := range ColumnSets {
		for _, world := range worlds {
			s := sumBleed(of[world], k, func(f tracetest.Family) bool { return !isFooling(f) })
			t.row(set.Name, string(world), share(s.SidesRight, s.Sides), metres(quantile(s.shiftErr, 0.5)), metres(quantile(s.shiftErr, 0.9)),
				share(s.InBand, s.Banded), share(s.LargeIn, s.Large), metres(quantile(s.shiftRatio, 0.5)))
		}
	}
	writeReliability(t, rows)
	writeBleedFamilies(t, rows)
	writeZones(t, rows)
	if rows[0].Scores[0].Verdicts.total() > 0 {
		writeVerdicts(t, rows)
	}
	return t.err
}

func writeBleedFamilies(t *table, rows []BleedRow) {
	t.printf("\n### Families with coupled signal: dangerous stretches found, %% (of how many)\n\n")
	t.printf("Families called fools-… are those that no reading over the line can show; they are in no total above. 'Any grade' counts watch too.\n\n")
	head := []string{"world", "family"}
	for _, s := range ColumnSets {
		head = append(head, s.Name)
	}
	t.head(append(head, "any grade, "+ColumnSets[0].Name, "any grade, "+ColumnSets[len(ColumnSets)-1].Name)...)
	for _, r := range rows {
		if !r.Family.CarriesBleed {
			continue
		}
		cells := []string{string(r.World), r.Family.Name}
		for _, s := range r.Scores {
			cells = append(cells, share(s.Found+s.JumpsFound, s.Events+s.Jumps))
		}
		for _, s := range []*BleedScore{r.Scores[0], r.Scores[len(r.Scores)-1]} {
			cells = append(cells, share(s.Warned, s.Events+s.Jumps))
		}
		t.row(cells...)
	}
	t.printf("\n### Quiet families: false stretches / metres suspected per traced km\n\n")
	t.head(append(head, "traced km")...)
	for _, r := range rows {
		if r.Family.CarriesBleed {
			continue
		}
		cells := []string{string(r.World), r.Family.Name}
		for _, s := range r.Scores {
			cells = append(cells, over(float64(s.QuietStretches), s.QuietM/1000, 2)+" / "+over(s.QuietFlaggedM, s.QuietM/1000, 1))
		}
		t.row(append(cells, fmt.Sprintf("%.1f", r.Scores[0].QuietM/1000))...)
	}
}

// writeZones writes how much of the true line the zones hold, with all columns
// and with position and depth alone.
func writeZones(t *table, rows []BleedRow) {
	last := len(ColumnSets) - 1
	t.printf("\n### Zones: share of the true line inside, %%, and mean width, m\n\n")
	t.printf("Tolerance: 18 in from the edge, diameter not known. 'Not the line': places, not counted, where the map says that the trace has left the line. ")
	t.printf("Inside, or told of: share of the true line from its first to its last reading that lies in the caution zone, or in a gap that the map declares, or where an item under *Check before digging* or a stretch of suspicion tells of it.\n\n")
	t.head("world", "family", "caution, "+ColumnSets[0].Name, "mean width", "caution, "+ColumnSets[last].Name, "mean width", "tolerance", "mean width", "not the line, %",
		"inside, or told of, "+ColumnSets[0].Name, "inside, or told of, "+ColumnSets[last].Name)
	line := func(world World, name string, a, b *BleedScore) {
		t.row(string(world), name, percent(float64(a.InCaution)/float64(a.Places)), over(a.cautionM2, a.drawnM, 2),
			percent(float64(b.InCaution)/float64(b.Places)), over(b.cautionM2, b.drawnM, 2),
			percent(float64(a.InTol)/float64(a.Places)), over(a.tolM2, a.drawnM, 2),
			percent(float64(a.NotTheLine)/float64(a.Places+a.NotTheLine)),
			percent(1-a.Verdicts.UntoldM/a.Verdicts.ReadM), percent(1-b.Verdicts.UntoldM/b.Verdicts.ReadM))
	}
	for _, r := range rows {
		line(r.World, r.Family.Name, r.Scores[0], r.Scores[last])
	}
	worlds, of := bleedWorlds(rows)
	for _, g := range []struct {
		name string
		pick func(tracetest.Family) bool
	}{{"**quiet**", isQuiet}, {"**coupled**", isBleed}, {"**jumps**", isJump}, {"**fooling**", isFooling}} {
		for _, w := range worlds {
			if slices.ContainsFunc(of[w], func(r BleedRow) bool { return g.pick(r.Family) }) {
				line(w, g.name, sumBleed(of[w], 0, g.pick), sumBleed(of[w], last, g.pick))
			}
		}
	}
}

// WriteBleedCases lists what was missed and what was suspected wrongly.
func WriteBleedCases(w io.Writer, rows []BleedRow) error {
	t := &table{w: w}
	for _, what := range []string{"missed", "false", "wrong side", "outside", "silent"} {
		t.printf("\n## %s\n\n", what)
		t.head("world", "family", "seed", "columns", "from m", "to m", "what")
		for _, r := range rows {
			for _, c := range r.Cases {
				if c.What == what {
					t.row(string(c.World), c.Family, fmt.Sprint(c.Seed), c.Columns, fmt.Sprintf("%.0f", c.FromM), fmt.Sprintf("%.0f", c.ToM), c.Detail)
				}
			}
		}
	}
	return t.err
}
