package plan

import "testing"

// What lies in a filled area is written over; what lies in its hole or beside it is not.
func TestBoardFill(t *testing.T) {
	square := func(x, half float64) []Pt {
		return []Pt{{x - half, 50 - half}, {x + half, 50 - half}, {x + half, 50 + half}, {x - half, 50 + half}}
	}
	b := NewBoard(Rect{W: 100, H: 100})
	b.Fill([][]Pt{square(40, 30), square(40, 10)}, 1)
	for name, c := range map[string]struct {
		at   Pt
		over bool
	}{"in the area": {Pt{20, 50}, true}, "in the hole": {Pt{40, 50}, false}, "beside it": {Pt{80, 50}, false}, "above it": {Pt{40, 10}, false}, "below the hole": {Pt{40, 70}, true}} {
		if cost, free := b.Cost(Rect{c.at.X - 3, c.at.Y - 3, 6, 6}); !free || (cost > 0) != c.over {
			t.Errorf("%s: %v", name, cost)
		}
	}
	if _, cost := b.Corner(20, 20, 1); cost > 0 {
		t.Errorf("there is a free corner: %v", cost)
	}
	if _, cost := b.Corner(95, 17, 1); cost > 0 {
		t.Errorf("there is room above: %v", cost)
	}
	if _, cost := b.Corner(95, 60, 1); cost == 0 {
		t.Error("there is no room for that")
	}
}
