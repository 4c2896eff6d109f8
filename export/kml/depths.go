package kml

import (
	"math"
	"slices"

	"github.com/twpayne/go-kml/v3"

	"loamline.example/export/station"
	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// mostDepths is how many depths of a line are written on the ground: few, since their
// labels must not cover the line.
const mostDepths = 10

// depthFolder puts name and depth on the ground at round stations, for two lines of one
// utility differ in their names alone.
func (k *writer) depthFolder(l *trace.Line) {
	if l.Centerline == nil {
		return
	}
	u, st := k.s.Job.Units, style.Of(l.Setup.Utility)
	k.folder("Depths along the line", true, false, func() {
		along := words.NewAlong(l)
		for _, v := range k.depthPlaces(l) {
			t := along.At(v)
			w := []string{words.Capital(t.Depth(u, k.date)), words.Capital(t.Position(u))}
			if b := t.Doubt; b != nil {
				w = append(words.Finding(u, b.Finding), w...)
			}
			k.put(kml.Placemark(kml.Name(l.Setup.Name+" "+u.Long(v.StationM)+": "+k.by.Say(t.DepthLabel(u))),
				kml.Snippet("").WithMaxLines(0), kml.Description(k.list("", w)), kml.StyleURL("#depth-"+st.Code),
				k.pointGeometry(k.XY(v.Pos))))
		}
	})
}

// depthPlaces are the places of those labels, by station: ends and round stations, and
// beside another line's labels the round ones between, for two labels in one place are
// read as neither. A part that would be left without any keeps its own.
func (k *writer) depthPlaces(l *trace.Line) (out []trace.Vertex) {
	u := k.s.Job.Units
	step := station.StepM(u, l.Centerline.TracedM(), mostDepths)
	var closer []float64 // the two next round steps
	for _, s := range slices.Backward(station.RoundSteps(u)) {
		if s < step && len(closer) < 2 {
			closer = append(closer, s)
		}
	}
	for _, p := range l.Centerline.Parts {
		if len(p.Vertices) == 0 {
			continue
		}
		var chosen []trace.Vertex
		take := func(stations []float64, apartM, clearM float64) {
			for _, s := range stations {
				mine := func(o trace.Vertex) bool { return math.Abs(o.StationM-s) < apartM }
				if v := station.At(p, s); !slices.ContainsFunc(chosen, mine) && !k.labels.within(v.Pos, clearM) {
					chosen = append(chosen, v)
				}
			}
		}
		round := station.Round(p, step)
		take([]float64{p.FromM(), p.ToM()}, 0, 0.45*step)
		take(round, 0.45*step, 0.45*step)
		for i, sub := range closer {
			if i == 0 || 2*len(chosen) < len(round) { // the closest where half of them would be missing
				take(station.Round(p, sub), 0.9*step, math.Min(0.45*step, 0.9*sub))
			}
		}
		if len(chosen) == 0 {
			for _, s := range round {
				chosen = append(chosen, station.At(p, s))
			}
		}
		out = append(out, chosen...)
	}
	slices.SortFunc(out, func(a, b trace.Vertex) int { return int(math.Copysign(1, a.StationM-b.StationM)) })
	for _, v := range out {
		k.labels.add(v.Pos)
	}
	return out
}

// labelCellM is the side of a cell of labelled, and how far off another label matters at
// most.
const labelCellM = 25.0

// labelled is where the depths of earlier lines are written.
type labelled map[[2]int][]geo.XY

func labelCell(at geo.XY) [2]int {
	return [2]int{int(math.Floor(at.X / labelCellM)), int(math.Floor(at.Y / labelCellM))}
}

func (m labelled) add(at geo.XY) { m[labelCell(at)] = append(m[labelCell(at)], at) }

func (m labelled) within(at geo.XY, nearM float64) bool {
	nearM = math.Min(nearM, labelCellM)
	c := labelCell(at)
	for x := c[0] - 1; x <= c[0]+1; x++ {
		for y := c[1] - 1; y <= c[1]+1; y++ {
			for _, o := range m[[2]int{x, y}] {
				if o.Dist(at) < nearM {
					return true
				}
			}
		}
	}
	return false
}
