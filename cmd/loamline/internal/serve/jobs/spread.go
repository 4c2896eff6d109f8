package jobs

import (
	"math"

	"loamline.example/cmd/loamline/internal/serve/whereabouts"
)

// Spread is how the jobs that match a query lie in a box: what a map of all jobs
// draws. It is bounded by its cells, however many jobs there are.
type Spread struct {
	Box       *whereabouts.Box // about all of them, nil where no place is known
	Cells     []SpreadCell
	Placed    int // jobs within the view
	Placeless int // jobs that match and whose place nobody knows
}

// SpreadCell is a part of the view in which jobs lie.
type SpreadCell struct {
	Count int
	Box   whereabouts.Box // about the middles of its jobs
	Job   Job             // the only one, or the newest
}

// Spread sorts the jobs that match into columns and rows of a view; without one
// the view is what holds all of them. Jobs are where the middle of their box is.
func (s *Store) Spread(q Query, view *whereabouts.Box, columns, rows int) (Spread, whereabouts.Box) {
	var out Spread
	type at struct {
		x, y float64
		job  *Job
	}
	var all []at
	s.index.walk(q, func(d *indexed, j *Job) {
		if d.box == nil {
			out.Placeless++
			return
		}
		p := at{(d.box.West + d.box.East) / 2, (d.box.South + d.box.North) / 2, j}
		all = append(all, p)
		if out.Box == nil {
			out.Box = &whereabouts.Box{West: p.x, South: p.y, East: p.x, North: p.y}
		}
		out.Box.West, out.Box.East = min(out.Box.West, p.x), max(out.Box.East, p.x)
		out.Box.South, out.Box.North = min(out.Box.South, p.y), max(out.Box.North, p.y)
	})
	if out.Box == nil {
		return out, whereabouts.Box{}
	}
	if view == nil {
		view = out.Box
	}
	seen := view.Shaped(float64(columns) / float64(rows))
	cells := map[int]*SpreadCell{}
	for _, p := range all {
		c := int(math.Floor((p.x - seen.West) / (seen.East - seen.West) * float64(columns)))
		r := int(math.Floor((seen.North - p.y) / (seen.North - seen.South) * float64(rows)))
		if c < 0 || c >= columns || r < 0 || r >= rows {
			continue
		}
		out.Placed++
		cell := cells[r*columns+c]
		if cell == nil {
			cell = &SpreadCell{Job: *p.job, Box: whereabouts.Box{West: p.x, South: p.y, East: p.x, North: p.y}}
			cells[r*columns+c] = cell
		}
		cell.Count++
		cell.Box.West, cell.Box.East = min(cell.Box.West, p.x), max(cell.Box.East, p.x)
		cell.Box.South, cell.Box.North = min(cell.Box.South, p.y), max(cell.Box.North, p.y)
	}
	for i := range columns * rows {
		if cells[i] != nil {
			out.Cells = append(out.Cells, *cells[i])
		}
	}
	return out, seen
}
