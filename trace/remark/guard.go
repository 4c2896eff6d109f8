package remark

import (
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// BesideItself: the line as drawn runs beside itself.
type BesideItself struct{ ApartM float64 }

// SingleReadings: readings by themselves that were set aside off the line.
type SingleReadings struct {
	N         int
	Row       int32      // line of the table, of the only one
	FarthestM float64    // across
	Side      trace.Side // of the line drawn, empty where they lie on both
	Fates     Fates
}

// Unsettled: neighbouring readings of which each was set aside for its position or lost
// its depth.
type Unsettled struct {
	N              int
	FromRow, ToRow int32 // lines of the table
	Aside          int   // of them for their position
}

// Block: neighbouring readings that the line does not stand for.
type Block struct {
	N              int
	FromRow, ToRow int32 // lines of the table
	Fates          Fates
	Undrawn        bool // no line is drawn through their places
}

// ManyUnused: more than a few of a line's readings were not used.
type ManyUnused struct {
	Unused, Readings int
	Fates            Fates
	// Most is that so many of them prove nothing for the others either.
	Most bool
}

// Fates are the reasons for which readings were set aside, one for each; nil stands for
// one that counts as used.
type Fates []trace.Remark

// StrideUndrawn: a stride of the walk that no line is drawn along.
type StrideUndrawn struct{ StrideM float64 }

// DepthsOffProfile: depths that were used and that the drawn profile does not explain.
type DepthsOffProfile struct {
	N         int
	FarthestM float64
}

// DepthsAgainstProfile: depths that were dropped, and agree with each other.
type DepthsAgainstProfile struct {
	N         int
	FarthestM float64
}

// DepthsDroppedInARow: depths that were dropped one after the other and do not agree.
type DepthsDroppedInARow struct {
	N         int
	FarthestM float64
}

// DepthBlock: depths that step to another level within a stride, and back as suddenly.
type DepthBlock struct {
	N              int
	OffM           float64
	Deeper         bool
	FromRow, ToRow int32 // lines of the table
}

// CornerCut: places inside a corner whose depths are not the line's.
type CornerCut struct {
	N     int
	Times float64 // what their depths are of those beside the corner; unknown where none was read
	OffM  float64 // that the corner lies off the line drawn
}

// DepthLevel: depths that step to another level within a stride and stay there.
type DepthLevel struct {
	OffM, WithinM float64
	Deeper        bool
	Row           int32 // line of the table where the other level begins
}

// ShallowAlone: a dropped depth that nothing seconds and nothing contradicts.
type ShallowAlone struct {
	DepthM, OffM float64
	Row          int32 // line of the table
}

// DepthPassesApart: passes whose depths differ by a factor where they meet.
type DepthPassesApart struct{ Times float64 }

// DepthsScattered: a good share of the depths lies off the profile.
type DepthsScattered struct {
	N, Of int
	OffM  float64
}

// TwoDepths: depths that lie together off the profile, as of a second line.
type TwoDepths struct {
	N         int
	FarthestM float64
}

// ProfileOutOfRange: the profile lies outside the depths that were read nearby.
type ProfileOutOfRange struct{ StationM, DrawnM, LeastM, MostM float64 }

// Excursion: the walk goes over to a course beside, and comes back.
type Excursion struct{ LateralM, WithinM, BackAtM float64 }

// LateralStep: the trace moves over to a parallel course.
type LateralStep struct {
	LateralM, WithinM float64
	BackAtM           float64 // where it steps back; Unknown where it does not
	Suspected         bool    // one side of it is suspected for its signal
	SameLine          bool    // depth and signal go on over it as they were
}

// FittingsOrOtherLine: what may make a lateral step.
type FittingsOrOtherLine struct{}

// StepOverGap: behind a gap the trace goes on beside the course before it.
type StepOverGap struct{ StationM, LateralM float64 }

// StrideOvershoots: one stride turns past the courses before and behind it.
type StrideOvershoots struct{ StationM, AsideM float64 }

// ExposedOffLine: the line was exposed outside the band of the trace.
type ExposedOffLine struct {
	StationM, OffM float64
	Side           trace.Side // of where it is drawn
}

// ExposedOffProfile: it was measured at a depth outside the band of the profile.
type ExposedOffProfile struct{ StationM, MeasuredM, DrawnM float64 }

// ExposedAcross: two exposed places lie beside each other, across the course.
type ExposedAcross struct{ StationM, ApartM float64 }

// PassesApart: passes over one stretch do not agree.
type PassesApart struct {
	ApartM float64
	InPart bool // they meet on a part of the stretch alone
}

// SeamApart: where the walk goes on in another session, the line does not go on as it came.
type SeamApart struct {
	StationM, AsideM float64
	// Resumed: it goes on from another place, to which it leaped, and meets there what was
	// read before.
	Resumed bool
}

// RingOpen: a walk comes back to where it began and does not meet it.
type RingOpen struct{ MissM float64 }

// Held is why a line is in doubt, where its band was widened until it holds what speaks
// against the line: how far off that may lie is known, and what is drawn within is not.
type Held interface {
	trace.Remark
	// BandHolds is there for nothing but to tell them from the others.
	BandHolds()
}

// BandHolds reports a doubt that the line's own band was widened to hold.
func BandHolds(f trace.Finding) bool {
	d, ok := f.(finding.Doubt)
	if !ok {
		return false
	}
	_, held := d.Why.(Held)
	return held
}

// ReadingsOffLine: readings that were used lie off the line.
type ReadingsOffLine struct {
	N         int
	FarthestM float64
}

// FewReadings: a part that hangs on two or three readings.
type FewReadings struct {
	N     int
	OverM float64
}

// WideSpacing: readings too far apart for a bend between them to show.
type WideSpacing struct{ ApartM float64 }

// RunsAside: the readings lie to one side of the line and then to the other, run by run,
// and scatter so many times what they are stated to err by.
type RunsAside struct{ FarthestM, TimesStated float64 }

// BendBetween: a bend somewhere between two readings.
type BendBetween struct{ OffM float64 }

// AgainstAntennas: depths that the profile follows, where their own antennas give another.
type AgainstAntennas struct {
	Readings          int
	DepthM, AntennasM float64 // where they differ most
}

// AsideOfTheWalk: a few readings lie to one side, and the walk goes on where it left off.
type AsideOfTheWalk struct {
	Readings int
	AsideM   float64
}

// AsideWithTheFix: from where the fix is poorer the line goes on beside its course.
type AsideWithTheFix struct{ StationM, AsideM float64 }

// Weaves: the line as drawn bows gently to one side and the other, so many times.
type Weaves struct {
	Bows int
	OffM float64 // of the widest, off its chord
}

// Sweep: the line follows a receiver that was swept across it.
type Sweep struct{ SideToSideM float64 }

func (ReadingsOffLine) BandHolds() {}
func (RunsAside) BandHolds()       {}

func (BesideItself) Remark()         {}
func (SingleReadings) Remark()       {}
func (Block) Remark()                {}
func (Unsettled) Remark()            {}
func (ManyUnused) Remark()           {}
func (StrideUndrawn) Remark()        {}
func (DepthsOffProfile) Remark()     {}
func (DepthsAgainstProfile) Remark() {}
func (DepthsDroppedInARow) Remark()  {}
func (DepthBlock) Remark()           {}
func (DepthLevel) Remark()           {}
func (CornerCut) Remark()            {}
func (DepthPassesApart) Remark()     {}
func (DepthsScattered) Remark()      {}
func (ShallowAlone) Remark()         {}
func (TwoDepths) Remark()            {}
func (ProfileOutOfRange) Remark()    {}
func (Excursion) Remark()            {}
func (LateralStep) Remark()          {}
func (FittingsOrOtherLine) Remark()  {}
func (StepOverGap) Remark()          {}
func (StrideOvershoots) Remark()     {}
func (ExposedAcross) Remark()        {}
func (ExposedOffLine) Remark()       {}
func (ExposedOffProfile) Remark()    {}
func (PassesApart) Remark()          {}
func (SeamApart) Remark()            {}
func (RingOpen) Remark()             {}
func (ReadingsOffLine) Remark()      {}
func (RunsAside) Remark()            {}
func (FewReadings) Remark()          {}
func (WideSpacing) Remark()          {}
func (BendBetween) Remark()          {}
func (Sweep) Remark()                {}
func (Weaves) Remark()               {}
func (AgainstAntennas) Remark()      {}
func (AsideOfTheWalk) Remark()       {}
func (AsideWithTheFix) Remark()      {}
