package trace

import "loamline.example/geo"

// Finding is something that the map says about a line beyond where it lies. It
// tells all that a list, a summary or a drawing must have to show a kind that it
// has no own form for, so that none is passed over.
//
// The set is closed: AllFindings has one of each kind, and every exporter is
// tested with all of them. Whoever tells kinds apart does so with [PerKind].
type Finding interface {
	// Role is the feature's role in every output format.
	Role() string
	// OnLine names the line.
	OnLine() string
	// Span is the stretch in stations on the line, twice the same station for
	// one place; Unknown where it is about places beside the line.
	Span() (fromM, toM float64)
	// Where is where it is drawn: a path, or one place.
	Where() []geo.XY
	// Beside are courses beside the drawn line that the line may take instead,
	// or where it may lie though none is drawn; the caution zone holds them.
	Beside() []CourseStrip
	// NeedsEyes reports whether a person must look at it before anybody digs by
	// the map or it is passed on.
	NeedsEyes() bool
	finding()
}

// Grade says how far bleed-over is suspected.
type Grade string

// The grades in rising order.
const (
	GradeWatch   Grade = "watch"
	GradeSuspect Grade = "suspect"
	GradeStrong  Grade = "strong"
)

// Side is a side of the line, seen in the direction of travel.
type Side string

// The sides.
const (
	Left  Side = "left"
	Right Side = "right"
)

// BleedOver is a stretch where the signal is suspected to come, in part or in
// whole, from another line.
type BleedOver struct {
	Line         string
	FromM, ToM   float64
	Path         []geo.XY
	Grade        Grade
	Score        float64 // 0 to 1: how likely signal couples here, see package bleed
	Neighbor     string  // UnknownNeighbor where no known line is near
	SeparationM  float64
	Evidence     []Remark
	LikelyShiftM float64 // how far the true line probably lies from the mark; Unknown where none is given
	Shift95M     float64 // half-width of its 95 % band
	LikelySide   Side    // where the true line lies, seen from the mark; empty where none is given
	WidenLeftM   float64 // by how much the caution zone grows on each side
	WidenRightM  float64
	LnDepth95    float64       // bounds by how much the ln of a depth may be falsified; Unknown where nothing tells
	Jump         bool          // the trace left its line and lies on the neighbour
	OwnCourse    []CourseStrip // of a jump: where the line itself may lie meanwhile
}

// CourseStrip is a path that a line may follow, with the half-widths of its
// 95 % band.
type CourseStrip struct {
	Path    []geo.XY
	Half95M []float64
}

// Gap is a stretch with too few usable readings to be called traced.
type Gap struct {
	Line       string
	FromM, ToM float64
	Path       []geo.XY
	Why        Remark
	// Courses are places where readings were taken though no line is drawn; the
	// caution zone holds them. FromM and ToM are Unknown then.
	Courses []CourseStrip
}

// Doubt is a stretch of a line, or places beside it, where the map must not be
// trusted as it stands: the finished line contradicts the readings, or they
// contradict each other.
type Doubt struct {
	Line       string
	FromM, ToM float64  // stations on the line; Unknown where it is about places off it
	Path       []geo.XY // the stretch, or the places
	ByExposure bool     // an exposed place contradicts the trace: to be told first
	// Courses are where the line may lie instead; the caution zone holds them.
	Courses []CourseStrip
	Why     Remark
}

// Crossing is a place where two lines cross or come closest: two traced ones, or
// a traced one and one that is known from a reference layer or an earlier job.
type Crossing struct {
	Line, Other      string
	Source           string // the file or archive that Other is known from; empty where it was traced too
	At               geo.XY
	StationM         float64 // on Line
	OtherStationM    float64 // on Other
	SeparationM      float64 // horizontal, 0 where they cross
	DepthDifferenceM float64 // Other's depth minus Line's; Unknown where one is
	OtherDepthM      float64 // of a known line, on record; Unknown where it is not
	DoubtM           float64 // how far off a known line may lie for its frame alone
	DoubtWhy         string  // why it may: "its frame is not stated"
}

// OnRecord reports whether the other line is known and was not traced.
func (f Crossing) OnRecord() bool { return f.Source != "" }

// seenFromOther is the same crossing as a finding of the other line.
func (f Crossing) seenFromOther() Crossing {
	f.Line, f.Other = f.Other, f.Line
	f.StationM, f.OtherStationM = f.OtherStationM, f.StationM
	f.DepthDifferenceM = -f.DepthDifferenceM
	return f
}

// FieldCheck is a check made in the field and how it came out: a raised
// reading, or signs of air coupling.
type FieldCheck struct {
	Line     string
	Kind     CheckKind
	At       geo.XY
	StationM float64
	Outcome  Outcome
	Remark   Remark
}

// Outcome is how a check made in the field came out.
type Outcome string

// The outcomes. One that is inconclusive could not have told trouble from none:
// it is no pass.
const (
	OutcomePassed       Outcome = "passed" // no sign of trouble; never proof that there is none
	OutcomeFailed       Outcome = "failed"
	OutcomeInconclusive Outcome = "inconclusive"
)

// Passed reports whether the check showed no sign of trouble and could have.
func (f FieldCheck) Passed() bool { return f.Outcome == OutcomePassed }

// ExposedCheck compares the traced line with a place where it was exposed and
// measured.
type ExposedCheck struct {
	Line             string
	Point            string
	At               geo.XY
	StationM         float64
	OffsetM          float64 // exposed point from the line as traced without it, positive to the right
	DepthDifferenceM float64 // traced depth minus measured depth; Unknown without both
	Remark           Remark
}

// RecordDifference is a stretch where a record (a reference layer) lies
// farther from the trace than both bands allow.
type RecordDifference struct {
	Line           string
	Record         string
	FromM, ToM     float64
	Path           []geo.XY
	MeanOffsetM    float64 // record from trace, positive to the right
	LargestOffsetM float64
	AllowedM       float64 // what both bands explain
}

// Role implements Finding.
func (BleedOver) Role() string        { return RoleBleedOver }
func (Gap) Role() string              { return RoleGap }
func (Doubt) Role() string            { return RoleDoubt }
func (Crossing) Role() string         { return RoleCrossing }
func (FieldCheck) Role() string       { return RoleFieldCheck }
func (ExposedCheck) Role() string     { return RoleExposedCheck }
func (RecordDifference) Role() string { return RoleRecordDifference }

// OnLine implements Finding.
func (f BleedOver) OnLine() string        { return f.Line }
func (f Gap) OnLine() string              { return f.Line }
func (f Doubt) OnLine() string            { return f.Line }
func (f Crossing) OnLine() string         { return f.Line }
func (f FieldCheck) OnLine() string       { return f.Line }
func (f ExposedCheck) OnLine() string     { return f.Line }
func (f RecordDifference) OnLine() string { return f.Line }

// Span implements Finding.
func (f BleedOver) Span() (fromM, toM float64)        { return f.FromM, f.ToM }
func (f Gap) Span() (fromM, toM float64)              { return f.FromM, f.ToM }
func (f Doubt) Span() (fromM, toM float64)            { return f.FromM, f.ToM }
func (f Crossing) Span() (fromM, toM float64)         { return f.StationM, f.StationM }
func (f FieldCheck) Span() (fromM, toM float64)       { return f.StationM, f.StationM }
func (f ExposedCheck) Span() (fromM, toM float64)     { return f.StationM, f.StationM }
func (f RecordDifference) Span() (fromM, toM float64) { return f.FromM, f.ToM }

// Where implements Finding.
func (f BleedOver) Where() []geo.XY        { return f.Path }
func (f Gap) Where() []geo.XY              { return f.Path }
func (f Doubt) Where() []geo.XY            { return f.Path }
func (f Crossing) Where() []geo.XY         { return []geo.XY{f.At} }
func (f FieldCheck) Where() []geo.XY       { return []geo.XY{f.At} }
func (f ExposedCheck) Where() []geo.XY     { return []geo.XY{f.At} }
func (f RecordDifference) Where() []geo.XY { return f.Path }

// Beside implements Finding.
func (f BleedOver) Beside() []CourseStrip      { return f.OwnCourse }
func (f Gap) Beside() []CourseStrip            { return f.Courses }
func (f Doubt) Beside() []CourseStrip          { return f.Courses }
func (Crossing) Beside() []CourseStrip         { return nil }
func (FieldCheck) Beside() []CourseStrip       { return nil }
func (ExposedCheck) Beside() []CourseStrip     { return nil }
func (RecordDifference) Beside() []CourseStrip { return nil }

// NeedsEyes implements Finding. An exposure that contradicts the trace is a
// Doubt as well; the comparison alone asks nothing. Nor does a field check that is
// inconclusive: it says nothing against the map, and nothing for it, and is told as
// what it is wherever checks are told.
func (BleedOver) NeedsEyes() bool        { return true }
func (Gap) NeedsEyes() bool              { return true }
func (Doubt) NeedsEyes() bool            { return true }
func (Crossing) NeedsEyes() bool         { return true }
func (f FieldCheck) NeedsEyes() bool     { return f.Outcome == OutcomeFailed }
func (ExposedCheck) NeedsEyes() bool     { return false }
func (RecordDifference) NeedsEyes() bool { return true }

func (BleedOver) finding()        {}
func (Gap) finding()              {}
func (Doubt) finding()            {}
func (Crossing) finding()         {}
func (FieldCheck) finding()       {}
func (ExposedCheck) finding()     {}
func (RecordDifference) finding() {}

// AllFindings returns one of each kind, for tests that no exporter forgets one.
func AllFindings() []Finding {
	path := []geo.XY{{X: 0, Y: 0}, {X: 10, Y: 0}}
	return []Finding{
		BleedOver{Line: "A", FromM: 0, ToM: 10, Path: path, Grade: GradeStrong, Score: 0.97, Neighbor: "B",
			SeparationM: 0.9, Evidence: []Remark{Verbatim("Null lies 0.14 m right of peak over 9 readings.")},
			LikelyShiftM: 0.08, Shift95M: 0.05, LikelySide: Left, WidenLeftM: 0.13, WidenRightM: 0},
		Gap{Line: "A", FromM: 0, ToM: 10, Path: path, Why: Verbatim("no usable reading over 10.0 m")},
		Doubt{Line: "A", FromM: 2, ToM: 6, Path: path, Why: Verbatim("Two passes lie 0.60 m apart.")},
		Crossing{Line: "A", Other: "B", At: path[1], StationM: 10, OtherStationM: 4, SeparationM: 0, DepthDifferenceM: 0.4},
		FieldCheck{Line: "A", Kind: CheckLift, At: path[0], StationM: 0, Outcome: OutcomePassed, Remark: Verbatim("Depth grew by 0.31 m over a lift of 0.30 m.")},
		ExposedCheck{Line: "A", Point: "P1", At: path[0], StationM: 0, OffsetM: 0.05, DepthDifferenceM: -0.1, Remark: Verbatim("Exposed 0.05 m right of the trace.")},
		RecordDifference{Line: "A", Record: "city-water", FromM: 0, ToM: 10, Path: path, MeanOffsetM: 1.2, LargestOffsetM: 1.4, AllowedM: 0.5},
	}
}
