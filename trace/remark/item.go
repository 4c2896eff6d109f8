package remark

import "loamline.example/trace"

// BleedItem: one place where another line's signal is suspected, with all that belongs
// to it: suspicions that overlap, jumps, and readings that were set aside there.
type BleedItem struct {
	Line      string
	Stretches []Stretch      // where it asks for care
	Grade     trace.Grade    // the gravest but for jumps; empty where there are jumps alone
	Graded    Stretch        // where that is, of an item that goes on beyond it; else nothing
	From      string         // the line whose signal it may be; empty where none is known
	Of        Neighbor       // what that line is
	Jumps     []Jump         // by station
	Likely    []Displaced    // where the line probably lies beside the mark
	LeavesM   float64        // where a trace that may have jumped leaves its line; Unknown where none did
	Blocks    []trace.Remark // on readings that were set aside where it jumped
	Also      []string       // lines whose signal is to be watched on the same stretch
	Reach     Reach
}

// Neighbor is what is known of a line on record beside a traced one.
type Neighbor struct {
	Record  bool          // it is on record, and was not traced here: nothing else is known without
	Utility trace.Utility // empty where it is not known
	Side    trace.Side    // of the marks on all of the stretch; empty where it is on both
	AsideM  float64       // how far off it mostly lies; Unknown where that is not known
}

// Stretch is a stretch of a line.
type Stretch struct{ FromM, ToM float64 }

// Jump is where a trace may follow another line instead of its own.
type Jump struct {
	Stretch
	Onto string // that line; empty where it is not known
	All  bool   // it is all of the item's stretch
	// Branch reports that as well a branch that is on no map may leave the line there.
	Branch bool
	// Either reports that as well the marks of that line may lie on this one.
	Either bool
}

// Displaced is where a line probably lies beside its mark on a stretch.
type Displaced struct {
	Stretch
	Side             trace.Side
	ShiftM, Shift95M float64
	All              bool // it is all of the item's stretch
}

// Reach is how far the caution zone reaches from the mark over a stretch, from where to
// where on each side. Of one that is not known Known is false.
type Reach struct {
	LeftM, RightM [2]float64
	Known         bool
	FartherAtM    []float64 // where it meets a wider one
	Open          []Stretch // where the line is in doubt besides, and nothing bounds it
}

// AlsoWithin: a remark on a stretch, and another on a part of it.
type AlsoWithin struct {
	First trace.Remark
	Part  Stretch // Unknown where it is the same stretch
	Why   trace.Remark
}

// AtPlaces: so many doubts of one sort on a line that they are one item, with what the worst
// of them says.
type AtPlaces struct {
	Line   string // empty where it is told with another doubt, in which they lie
	Places []Stretch
	Worst  trace.Remark
}

// InDoubt: a part of a line all of which is in doubt, so that no accuracy is stated.
type InDoubt struct{ FromM, ToM float64 }

func (BleedItem) Remark()  {}
func (AlsoWithin) Remark() {}
func (AtPlaces) Remark()   {}
func (InDoubt) Remark()    {}
