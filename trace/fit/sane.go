package fit

import (
	"math"

	"loamline.example/geo"
)

// The most that a smooth run may turn, which could wind through scatter, and an arc,
// which by three parameters cannot: nearly a ring, whose ends no reading can lie
// between. The former is that of a prototype study of the method, the latter judgement.
const mostTurned, mostTurnedArc = 225 * math.Pi / 180, 330 * math.Pi / 180

// mostLonger is by how much a run may be longer than the ground walked: a smooth run that
// winds through scatter is. Judgement: the figure of the same study.
const mostLonger = 1.3

// sane refuses a curve much longer than the ground walked, or one that winds.
func (r *run) sane() bool {
	ground := r.part[len(r.part)-1].stationM - r.part[0].stationM
	line := geo.NewPolyline(r.nodes)
	if line.Length() > mostLonger*ground+2*r.hM {
		return false
	}
	turn, least, most := 0.0, 0.0, 0.0
	for k := 1; k+1 < len(r.nodes); k++ {
		a, c := r.nodes[k].Sub(r.nodes[k-1]), r.nodes[k+1].Sub(r.nodes[k])
		turn += math.Atan2(a.Cross(c), a.Dot(c))
		least, most = math.Min(least, turn), math.Max(most, turn)
	}
	if r.arc {
		return most-least < mostTurnedArc
	}
	return most-least < mostTurned
}

// An elbow that no smooth run can hold: the least turn, and the readings on both
// sides that make it sure. Judgement: at less turn a sweep between sparse readings shows as
// two straights.
const (
	plainElbow    = 25 * math.Pi / 180
	plainReadings = 6
)

// elbowInside reports whether two straight parts in a row meet at a plain elbow.
func elbowInside(parts []run) bool {
	for i := 0; i+1 < len(parts); i++ {
		a, b := &parts[i], &parts[i+1]
		if !a.straight || !b.straight || len(a.part) < plainReadings || len(b.part) < plainReadings {
			continue
		}
		if turnBetween(a.nodes[1].Sub(a.nodes[0]), b.nodes[1].Sub(b.nodes[0])) > plainElbow {
			return true
		}
	}
	return false
}
