package measure

import (
	"fmt"
	"io"
	"math"
	"sort"
)

// totals adds all families of each world up.
func totals(rows []FitRow) []FitRow {
	var out []FitRow
	for _, w := range worldsOf(rows, func(r FitRow) World { return r.World }) {
		all := FitRow{World: w, Scores: newScores()}
		all.Family.Name = "**all**"
		for _, r := range rows {
			for m, s := range r.Scores {
				if r.World == w {
					all.Scores[m].add(s)
				}
			}
		}
		out = append(out, all)
	}
	return out
}

// cells begins a row of a table.
func (r FitRow) cells() []string { return []string{string(r.World), r.Family.Name} }

// WriteFit writes the tables of fit accuracy.
func WriteFit(w io.Writer, rows []FitRow) error {
	t := &table{w: w}
	rows = append(append([]FitRow(nil), rows...), totals(rows)...)
	last := len(Methods) - 1
	t.printf("### Across the line: RMSE of the drawn line against the true one, m\n\n")
	t.head(append(append([]string{"world", "family"}, Methods...), "/ oracle", "/ best scripted", "at elbows", "oracle there", "best scripted there")...)
	for _, r := range rows {
		cells := r.cells()
		best, bestCorner := math.Inf(1), math.Inf(1)
		for m, s := range r.Scores {
			cells = append(cells, metres(s.RMSE()))
			if m > 0 && m < last {
				best, bestCorner = math.Min(best, s.RMSE()), math.Min(bestCorner, s.CornerRMSE())
			}
		}
		own := r.Scores[0]
		if math.IsInf(bestCorner, 1) {
			bestCorner = math.NaN()
		}
		t.row(append(cells, over(own.RMSE(), r.Scores[last].RMSE(), 2), over(own.RMSE(), best, 2),
			metres(own.CornerRMSE()), metres(r.Scores[last].CornerRMSE()), metres(bestCorner))...)
	}
	writeTails(t, rows)
	writeBands(t, rows)
	writeDepth(t, rows)
	writeAside(t, rows)
	return t.err
}

func writeTails(t *table, rows []FitRow) {
	t.printf("\n### 95th percentile and worst error, m: drawn to true / true to drawn\n\n")
	t.head(append([]string{"world", "family"}, Methods...)...)
	for _, r := range rows {
		cells := r.cells()
		for _, s := range r.Scores {
			a, b := s.Percentile95()
			c, d := s.Worst()
			cells = append(cells, fmt.Sprintf("%.2f / %.2f, %.2f / %.2f", a, b, c, d))
		}
		t.row(cells...)
	}
}

func writeBands(t *table, rows []FitRow) {
	t.printf("\n### 95 %% bands: share of places inside, and median half-width, m\n\n")
	t.head("world", "family", "across", "oracle", "at elbows", "width", "oracle", "ratio", "depth", "oracle", "width", "oracle", "ratio")
	for _, r := range rows {
		own, best := r.Scores[0], r.Scores[len(r.Scores)-1]
		h, d := own.Coverage()
		oh, od := best.Coverage()
		wh, wd := own.Width()
		owh, owd := best.Width()
		t.row(string(r.World), r.Family.Name, percent(h), percent(oh), percent(own.CornerCoverage()), metres(wh), metres(owh), over(wh, owh, 2),
			percent(d), percent(od), metres(wd), metres(owd), over(wd, owd, 2))
	}
}

func writeDepth(t *table, rows []FitRow) {
	t.printf("\n### Depth: RMSE, m\n\n")
	t.head(append(append([]string{"world", "family"}, Methods...), "/ oracle")...)
	for _, r := range rows {
		cells := r.cells()
		for _, s := range r.Scores {
			cells = append(cells, metres(s.DepthRMSE()))
		}
		t.row(append(cells, over(r.Scores[0].DepthRMSE(), r.Scores[len(r.Scores)-1].DepthRMSE(), 2))...)
	}
}

func writeAside(t *table, rows []FitRow) {
	t.printf("\n### Readings set aside, %% (of how many)\n\n")
	t.head("world", "family", "leaps found", "of every size", "good set aside", "depth spikes found", "good depths dropped", "lines without a fit")
	for _, r := range rows {
		s := r.Scores[0]
		t.row(string(r.World), r.Family.Name, share(s.LeapsFound, s.Leaps), share(s.AllFound, s.AllLeaps), share(s.GoodLost, s.Good),
			share(s.SpikesFound, s.Spikes), share(s.DepthLost, s.Good), share(s.Empty, s.Traces))
	}
}

// WriteWorst lists the jobs that came out worst against the oracle, for whoever
// mends the fit.
func WriteWorst(w io.Writer, rows []FitRow) error {
	t := &table{w: w}
	var cases []Case
	for _, r := range rows {
		cases = append(cases, r.Worst...)
	}
	list := func(title string, worse func(a, b Case) bool) {
		t.printf("\n## %s\n\n", title)
		t.head("world", "family", "seed", "readings", "RMSE m", "oracle m", "worst m", "inside %", "depth inside %")
		sort.SliceStable(cases, func(i, j int) bool { return worse(cases[i], cases[j]) })
		for _, c := range cases[:min(25, len(cases))] {
			t.row(string(c.World), c.Family, fmt.Sprint(c.Seed), fmt.Sprint(c.Readings), metres(c.RMSE), metres(c.OracleRMSE), metres(c.WorstM),
				percent(c.Covered), percent(c.DepthCovered))
		}
	}
	list("Largest error", func(a, b Case) bool { return a.RMSE > b.RMSE })
	list("Against the oracle", func(a, b Case) bool { return a.RMSE/a.OracleRMSE > b.RMSE/b.OracleRMSE })
	list("Band across misses the line", func(a, b Case) bool { return a.Covered < b.Covered })
	list("Depth band misses the depth", func(a, b Case) bool { return a.DepthCovered < b.DepthCovered })
	return t.err
}
