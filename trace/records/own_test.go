package records

import "testing"

// A trace that lies on a record of its kind for most of the way and leaves it at
// an end may have jumped: the record stays a neighbour.
func TestRecordThatTheTraceLeavesIsNoneOfItsOwn(t *testing.T) {
	offs := make([]offsetAt, 40)
	for i := range offs {
		offs[i] = offsetAt{offsetM: 0.1, allowedM: 0.6}
	}
	if !mostWithin(offs, 0.9) {
		t.Error("a record that the trace never leaves is a neighbour")
	}
	for i := 37; i < 40; i++ {
		offs[i].offsetM = 2
	}
	if mostWithin(offs, 0.9) {
		t.Error("a record that the trace leaves by 2 m at an end is its own")
	}
}
