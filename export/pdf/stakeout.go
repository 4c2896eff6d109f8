package pdf

import (
	"strconv"
	"strings"

	"loamline.example/export/internal/paper"
	"loamline.example/export/internal/plan"
	"loamline.example/export/place"
	"loamline.example/export/stakeout"
	"loamline.example/export/tongue"
	"loamline.example/geo"
)

// stakeTable is the table of points to stake out: rows of wrapped cells.
type stakeTable struct {
	uprightPage
	cautions *cautionBand
	heads    []string
	widths   []float64
	rows     []stakeRow
	font     paper.Font
	room     plan.Rect
	pages    [][]stakeRow
}

// stakePages deals the points out to pages before anything is drawn, so that every
// page knows how many there are. A sheet in two languages has a table in each: one
// table in both would have each row twice, and the figures with them.
func (d *drafter) stakePages() []*stakeTable {
	languages := []*tongue.Speaker{d.tongue}
	if d.tongue.Both() {
		languages = []*tongue.Speaker{d.tongue.Alone(), nil}
	}
	var out []*stakeTable
	for _, by := range languages {
		on := d.uprightPage(d.pencil, by)
		on.inItsLanguage(func() { out = append(out, newStakeTable(on)) })
		d.before.stake += len(out[len(out)-1].pages)
	}
	return out
}

func newStakeTable(on uprightPage) *stakeTable {
	t := &stakeTable{uprightPage: on, cautions: newCautionBand(on.pencil, on.s), font: on.font(paper.Regular, 0.96)}
	f := t.lay.frame
	t.room = plan.Rect{X: f.X, Y: f.Y + crewAgainMM, W: f.W, H: f.H - crewAgainMM - crewFootMM - t.cautions.heightMM(f.W)}.Inset(1.6)
	if t.fill(); len(t.rows) > 0 {
		t.pages = t.paged(t.room.H)
	}
	return t
}

type stakeRow struct {
	line  int
	cells [][]string
}

// stakeOut prints the points to put back on the ground: where lines start, bend,
// end and cross and where flagged stretches begin and end, with coordinates, depth
// and what to tape them from.
func (d *drafter) stakeOut(tables []*stakeTable, first int) {
	otherSide := make([]string, len(tables))
	if len(tables) > 1 {
		otherSide[0], otherSide[1] = otherSides(d.tongue, first, first+len(tables[0].pages))
	}
	for i, t := range tables {
		t.inItsLanguage(func() { t.print(first, otherSide[i]) })
		first += len(t.pages)
	}
}

// print draws the pages of a table, the first of which has the number first.
func (t *stakeTable) print(first int, otherSide string) {
	f, band := t.lay.frame, t.cautions.heightMM(t.lay.frame.W)
	for no, rows := range t.pages {
		t.goOn()
		name := "Stake-out table"
		if no > 0 {
			name += ", page " + strconv.Itoa(no+1)
		}
		t.page(name)
		t.headAgain(plan.Rect{X: f.X, Y: f.Y, W: f.W, H: crewAgainMM}, "STAKE-OUT TABLE", otherSide)
		t.draw(t.room, rows)
		t.cautions.draw(plan.Rect{X: f.X, Y: t.room.Bottom() + 1.6, W: f.W, H: band})
		t.foot(f, "Stake-out table", first+no)
	}
}

// fill sets the columns and wraps every cell into its own.
func (t *stakeTable) fill() {
	grid, projected := stakeout.GridOf(t.s)
	width := t.lay.frame.W - 3.2
	t.heads, t.widths = []string{"Point", "Where", t.degreesHead()}, []float64{0.09, 0.27, 0.15}
	if projected {
		t.heads, t.widths = append(t.heads, "North, east ("+grid.ID()+", "+grid.Unit()+")"), append(t.widths, 0.14)
	}
	t.heads = append(t.heads, "Depth to centre, across")
	t.widths = append(t.widths, 0.2)
	if len(t.s.Features) > 0 {
		t.heads, t.widths = append(t.heads, "Tape the place from"), append(t.widths, 0.29)
	}
	sum := 0.0
	for _, w := range t.widths {
		sum += w
	}
	for i := range t.widths {
		t.widths[i] *= width / sum
	}
	degrees := place.NewDegrees(t.s.Plane)
	for _, p := range stakeout.Points(t.s, t.everyM()) {
		t.goOn()
		at := degrees.XY(p.Vertex.Pos)
		cells := [][]string{{p.ID}, {pointWhere(t.u, p)},
			{place.ShortDegreesText(at.Lat), place.ShortDegreesText(degrees.Home(at.Lon))}}
		if projected {
			north, east := grid.NorthEast(t.s.Plane.LonLat(p.Vertex.Pos))
			cells = append(cells, []string{north + " N", east + " E"})
		}
		figures := t.lines[p.Line].figures(t.u, p.Vertex.StationM)
		if depth, doubtful := strings.CutSuffix(figures[1], doubtMark); doubtful {
			figures[1] = "doubtful: " + depth
		}
		across := "across " + acrossWords(figures[2])
		if figure, doubtful := strings.CutSuffix(across, doubtMark); doubtful {
			across = "doubtful: " + figure
		}
		cells = append(cells, []string{figures[1], across})
		if len(t.s.Features) > 0 {
			ties := stakeout.TieWords(t.u, p.Ties)
			if ties == "" {
				ties = "no fixed feature within the reach of a tape"
			}
			cells = append(cells, strings.Split(strings.ReplaceAll(ties, "; ", ";\n"), "\n"))
		}
		t.rows = append(t.rows, stakeRow{p.Line, t.wrapped(cells)})
	}
}

// everyM is the distance between the round stations of the table: no more rows
// than a page or two hold; the table of points among the files has them every few metres.
func (t *stakeTable) everyM() float64 {
	total := 0.0
	for i := range t.lines {
		total += t.lines[i].path.Length()
	}
	every := t.stationStepM(0)
	most := 30.0
	if len(t.s.Features) > 0 {
		most = 15 // with what to tape from a row is three times as high
	}
	for total > most*every {
		every *= 2
	}
	return every
}

// degreesHead says in which frame the degrees are, and where nobody stated it.
func (t *stakeTable) degreesHead() string {
	if t.noDatum() {
		return "Latitude, longitude (datum not stated)"
	}
	return "Latitude, longitude (WGS 84)"
}

func pointWhere(u geo.Units, p stakeout.Point) string {
	if p.Title() == "" {
		return u.Long(p.Vertex.StationM)
	}
	return u.Long(p.Vertex.StationM) + ": " + p.Title()
}

// wrapped breaks the lines of every cell to its column.
func (t *stakeTable) wrapped(cells [][]string) [][]string {
	out := make([][]string, len(cells))
	for i, lines := range cells {
		for _, l := range lines {
			out[i] = append(out[i], t.c.Wrap(l, t.font, t.widths[i]-2)...)
		}
	}
	return out
}

func (t *stakeTable) height(cells [][]string) float64 {
	return float64(tallest(cells))*t.font.LineMM() + 1.2
}

// paged deals the rows out to pages; a row is never cut.
func (t *stakeTable) paged(roomMM float64) [][]stakeRow {
	roomMM -= t.headMM() + t.noteMM()
	var pages [][]stakeRow
	y := roomMM + 1
	for _, r := range t.rows {
		if y+t.height(r.cells) > roomMM {
			pages, y = append(pages, nil), 0
		}
		pages[len(pages)-1] = append(pages[len(pages)-1], r)
		y += t.height(r.cells)
	}
	return pages
}

func (t *stakeTable) headCells() [][]string {
	bold := t.font
	bold.Face = paper.Bold
	out := make([][]string, len(t.heads))
	for i, h := range t.heads {
		out[i] = t.c.Wrap(h, bold, t.widths[i]-2)
	}
	return out
}

func (t *stakeTable) headMM() float64 { return t.height(t.headCells()) }

// note says what the table's figures are and are not.
func (t *stakeTable) note() string {
	s := "Places are those of the drawn line, which was not moved; where a stretch is flagged the line itself may lie elsewhere. Stations run along the line in the direction of travel."
	if len(t.s.Features) == 0 {
		return s + " The job names no fixed feature, such as a hydrant or a corner of a kerb, to tape these places from: use the paint on the ground; where it is gone, have the line located again before digging."
	}
	return s + " A tie is as good as the stated place of its feature; two arcs meet twice, and the third distance or the side tells where."
}

func (t *stakeTable) noteMM() float64 {
	return float64(len(t.c.Wrap(t.note(), t.font, t.lay.frame.W-4)))*t.font.LineMM() + 1.5
}

func (t *stakeTable) draw(r plan.Rect, rows []stakeRow) {
	y := t.c.Lines(r.X, r.Y, t.c.Wrap(t.note(), t.font, t.lay.frame.W-4), t.font) + 1.5
	bold := t.font
	bold.Face = paper.Bold
	y = t.row(r, y, t.headCells(), bold)
	for i, row := range rows {
		pen := paper.Pen{WidthMM: 0.1, Color: paper.Gray(150)}
		if i == 0 || rows[i-1].line != row.line {
			pen = heavyPen
		}
		t.c.Line(plan.Pt{X: r.X, Y: y}, plan.Pt{X: r.Right(), Y: y}, pen)
		y = t.row(r, y, row.cells, t.font)
	}
	t.c.Line(plan.Pt{X: r.X, Y: y}, plan.Pt{X: r.Right(), Y: y}, thinPen)
}

func (t *stakeTable) row(r plan.Rect, y float64, cells [][]string, f paper.Font) float64 {
	x := r.X
	for i, lines := range cells {
		t.c.Lines(x+0.8, y+0.5, lines, f)
		x += t.widths[i]
	}
	return y + t.height(cells)
}
