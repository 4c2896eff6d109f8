package serve

import (
	"fmt"
	"math"
	"net/http"

	"loamline.example/cmd/loamline/internal/serve/jobs"
	"loamline.example/cmd/loamline/internal/serve/whereabouts"
	"loamline.example/geo"
)

// The plan of all jobs has so many columns and rows; jobs closer together than
// one of them are one mark, which leads closer. A finger finds a mark of the
// size on a phone.
const (
	planColumns = 7
	planRows    = 7
	planSize    = 1000 // of the drawing
)

type planView struct {
	Find findView
	jobList
	Trouble   string
	Marks     []planMark
	Placeless int
	Out       string // the view one step farther away
	Whole     string // the view of everything
	Bar       float64
	BarWords  string
	Grid      []float64
}

// planMark is a job in the drawing, or several that lie close together.
type planMark struct {
	X, Y, R float64
	Words   string // for who does not see it
	Label   string
	To      string
	Many    bool
}

// pagePlan draws where all jobs are, without any map beneath: nothing is asked
// of another server, and nobody learns where one digs.
func (s *Server) pagePlan(w http.ResponseWriter, r *http.Request) {
	v := planView{Find: findOf(r, "/plan")}
	q, err := s.queryOf(r)
	if err != nil {
		s.failError(w, r, err)
		return
	}
	view := q.Box
	q.Box = nil
	spread, seen := s.store.Spread(q, view, planColumns, planRows)
	v.Placeless = spread.Placeless
	for i := 1; i < planColumns; i++ {
		v.Grid = append(v.Grid, planSize*float64(i)/planColumns)
	}
	if spread.Box != nil {
		for _, c := range spread.Cells {
			v.Marks = append(v.Marks, v.mark(c, seen))
		}
		v.scale(seen, geo.Metric)
		if view != nil {
			v.Whole = v.Find.link("/plan", "bbox", "")
			v.Out = v.Find.link("/plan", "bbox", boxText(wider(seen)))
		}
		q.Box = &seen
		v.jobList = s.listed(r, q, v.Find)
	}
	s.show(w, r, http.StatusOK, "plan", "Where the jobs are", v)
}

// mark draws a cell: a single job leads to it, several lead closer, and where
// nothing closer tells them apart, to their list.
func (v *planView) mark(c jobs.SpreadCell, seen whereabouts.Box) planMark {
	x, y := (c.Box.West+c.Box.East)/2, (c.Box.South+c.Box.North)/2
	m := planMark{X: math.Round((x - seen.West) / (seen.East - seen.West) * planSize), Y: math.Round((seen.North - y) / (seen.North - seen.South) * planSize), R: 36,
		Label: "1", Words: titleOf(c.Job) + ", " + c.Job.Day(), To: "/jobs/" + c.Job.ID}
	if c.Count == 1 {
		m.Label = ""
		return m
	}
	m.Many, m.R = true, 44
	m.Label, m.Words = fmt.Sprint(c.Count), fmt.Sprintf("%d jobs here, the newest %s", c.Count, titleOf(c.Job))
	const same = 1e-4 // degrees, about ten metres
	if c.Box.East-c.Box.West < same && c.Box.North-c.Box.South < same {
		m.To = v.Find.link("/", "bbox", boxText(whereabouts.Box{West: c.Box.West - same, South: c.Box.South - same, East: c.Box.East + same, North: c.Box.North + same}))
		return m
	}
	m.To = v.Find.link("/plan", "bbox", boxText(c.Box))
	return m
}

// scale draws a bar of a round length.
func (v *planView) scale(seen whereabouts.Box, u geo.Units) {
	wideM := (seen.East - seen.West) * 111_195 * math.Max(0.05, math.Cos((seen.South+seen.North)/2*math.Pi/180))
	length := math.Pow(10, math.Floor(math.Log10(wideM/3)))
	for _, k := range []float64{5, 2} {
		if length*k <= wideM/3 {
			length *= k
			break
		}
	}
	v.Bar, v.BarWords = math.Round(length/wideM*planSize), u.Long(length)
	if length >= 1000 {
		v.BarWords = fmt.Sprintf("%.0f km", length/1000)
	}
}

func wider(b whereabouts.Box) whereabouts.Box {
	dx, dy := (b.East-b.West)/2, (b.North-b.South)/2
	return whereabouts.Box{West: b.West - dx, South: b.South - dy, East: b.East + dx, North: b.North + dy}
}

func boxText(b whereabouts.Box) string {
	return fmt.Sprintf("%.7f,%.7f,%.7f,%.7f", b.West, b.South, b.East, b.North)
}
