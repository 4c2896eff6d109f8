package remark

// What to check where a problem of the input costs the map more than a row, and what
// columns say that no instrument gives.

// Cost is what a map does without a column that could not be read.
type Cost string

// What the columns cost a map.
const (
	CostDepth     Cost = "depth"
	CostLine      Cost = "line"
	CostLift      Cost = "lift"
	CostExposed   Cost = "exposed"
	CostCurrent   Cost = "current"
	CostSignal    Cost = "signal"
	CostAntennas  Cost = "antennas"
	CostNull      Cost = "null"
	CostDirection Cost = "direction"
	CostHookup    Cost = "hookup"
	CostAccuracy  Cost = "accuracy"
	CostTime      Cost = "time"
)

// ColumnUnknown: a column that is likely meant for one that is read.
type ColumnUnknown struct {
	Table, Header string
	Means         string // which
	Cost          Cost
}

// ColumnUnit: a column whose unit is not read.
type ColumnUnit struct {
	Table, Header string
	Name          string // of the column in a unit that is
	Cost          Cost
}

// ColumnLost: values of a column that could not be read.
type ColumnLost struct {
	Table, Header string
	N, Of         int
	Cost          Cost
}

// ColumnUnmet: a header in the column map that no table has.
type ColumnUnmet struct {
	Job, Header string
	Column      string // that it was to be read as, and that the table has itself
	Near        string // the header that is likely meant
}

// OutsideArea: positions outside the area that their system is made for.
type OutsideArea struct{ CRS, Area string }

// DatumUnbelieved: a stated datum that is used on another continent.
type DatumUnbelieved struct {
	Why   string
	MayBe Slip // by which the positions would lie where it is used; empty: none
}

// DateDiffers: the day that is stated is not that of the readings.
type DateDiffers struct{ Stated, Read string }

// EpochFar: the epoch stated is not when the readings were taken, and the map lies
// elsewhere by it.
type EpochFar struct {
	Epoch float64
	Taken string
	OffM  float64
}

// EpochUnheld: the epoch stated is what a datum is named for, or older than such locates,
// and nothing says that the readings were taken then; by today's the map lies elsewhere.
type EpochUnheld struct{ Epoch, OffM float64 }

// ClockFar: the readings' times may be those of a clock that is 1024 weeks off.
type ClockFar struct {
	Taken, MayBe string
	OffM         float64
}

// ZoneFar: the readings' clock is on the time of another part of the world.
type ZoneFar struct {
	Zone          string
	LonDeg        float64
	SignMayBeLost bool
}

// WebMercator: positions in the system of map tiles.
type WebMercator struct{}

// FootUnsaid: a column in feet of a grid in metres, where the two kinds of foot lie apart.
type FootUnsaid struct {
	Header, CRS string
	ApartM      float64
}

// HookupDiffers: the job file says another hookup of a line than its rows.
type HookupDiffers struct{ Line, Stated, Read string }

// FreqDiffers: the job file says another frequency of a line than its rows.
type FreqDiffers struct {
	Line             string
	StatedHz, ReadHz float64
}

// FreqOdd: a frequency which is not a locating frequency.
type FreqOdd struct {
	Line string
	Hz   float64
}

// ExposedAndHeard: rows of a line that say that it was exposed and hold what a receiver shows.
type ExposedAndHeard struct {
	Line  string
	N, Of int // of the line's rows
}

// RuleWider: the text of the tolerance rule names a wider zone than is drawn.
type RuleWider struct {
	Rule       string
	HalfWidthM float64
}

// CurrentsOdd: currents that are none of a traced line.
type CurrentsOdd struct{ AboutMA float64 }

// AccuraciesOfBetterFix: accuracies of positions that their fix seldom has.
type AccuraciesOfBetterFix struct {
	AboutM, SeldomM float64
	Fix             int     // as NMEA 0183 GGA has it
	Shared95M       float64 // what positions by the fix may be off together
}

// AccuraciesTooFine: accuracies of positions that no receiver states.
type AccuraciesTooFine struct{}

// AccuraciesOfNoFix: accuracies that RTK fixed positions do not have.
type AccuraciesOfNoFix struct{ AboutM float64 }

// NullsRestless: null offsets that change as over no line.
type NullsRestless struct{ ByM float64 }

// AntennasReversed: the top antenna hears more than the bottom one.
type AntennasReversed struct{ Times float64 }

// AntennasWithoutGap: both antennas were read, and no depth: how far apart they are is all
// that lacks for one.
type AntennasWithoutGap struct{}

// CurrentsNone: currents that are mostly zero or less.
type CurrentsNone struct{ Negative bool }

// NullFillers: null offsets that stand for none.
type NullFillers struct {
	N, Of  int
	ShownM float64
}

// DepthsTooShallow: depths that are less than any line lies deep.
type DepthsTooShallow struct{ AboutM float64 }

// DepthElsewhere: depths whose header says that they are to the top or to the invert of the
// line, read as depths to its centre.
type DepthElsewhere struct {
	Table, Header string
	Invert        bool
}

// DepthsNegative: depths below zero, which were left out.
type DepthsNegative struct{ N, Of int }

// LineUnread: a line that the job file describes and of which there is no reading.
type LineUnread struct{ Line string }

// NamesAlike: two lines whose names are nearly the same, and that may be one.
type NamesAlike struct{ Name, Other string }

// TablesAsOne: two tables without a line's name that were taken as one line by their own,
// and whose readings lie farther apart than a stride.
type TablesAsOne struct {
	First, Second, Line string
	ApartM              float64
}

// RowsUnread: rows of a table that could not be read, the first of them on a line of it, and
// where on which traced line that lies by the rows next to it; Line is empty where they tell none.
type RowsUnread struct {
	Table      string
	N, Of      int
	FirstLine  int
	Line       string
	FromM, ToM float64
}

// NumbersSplit: a column of whole numbers with others behind them, as decimal commas make.
type NumbersSplit struct{ Table, Header string }

// RowsHashed: lines of a table that begin with # as comments do, and hold readings.
type RowsHashed struct {
	Table     string
	N         int
	FirstLine int
}

// SimulatorData: readings that were never measured, and were set aside.
type SimulatorData struct {
	File string
	N    int
}

// SignTurned: a file in all of whose positions a sign was lost, and was put back.
type SignTurned struct{ File string }

// LayerFar: a layer of known lines none of which is near; N is how many it has.
type LayerFar struct {
	Source string
	N      int
	ReachM float64
}

// LayerIncomplete: features of a layer that could not be used.
type LayerIncomplete struct {
	Source string
	N      int
}

// PlacedByClock: readings that have their positions from a GNSS log, by time alone.
type PlacedByClock struct {
	Log string
	N   int
}

// OtherFoot: a column in another foot than its system's, because the column map says so.
type OtherFoot struct{ Header, CRS string }

func (EpochFar) Remark()              {}
func (EpochUnheld) Remark()           {}
func (ClockFar) Remark()              {}
func (ZoneFar) Remark()               {}
func (WebMercator) Remark()           {}
func (FootUnsaid) Remark()            {}
func (HookupDiffers) Remark()         {}
func (FreqDiffers) Remark()           {}
func (FreqOdd) Remark()               {}
func (ExposedAndHeard) Remark()       {}
func (RuleWider) Remark()             {}
func (LineUnread) Remark()            {}
func (NamesAlike) Remark()            {}
func (TablesAsOne) Remark()           {}
func (RowsUnread) Remark()            {}
func (NumbersSplit) Remark()          {}
func (RowsHashed) Remark()            {}
func (SimulatorData) Remark()         {}
func (SignTurned) Remark()            {}
func (LayerFar) Remark()              {}
func (LayerIncomplete) Remark()       {}
func (PlacedByClock) Remark()         {}
func (OtherFoot) Remark()             {}
func (ColumnUnknown) Remark()         {}
func (ColumnUnit) Remark()            {}
func (ColumnLost) Remark()            {}
func (ColumnUnmet) Remark()           {}
func (OutsideArea) Remark()           {}
func (DatumUnbelieved) Remark()       {}
func (DateDiffers) Remark()           {}
func (CurrentsOdd) Remark()           {}
func (AccuraciesTooFine) Remark()     {}
func (AccuraciesOfBetterFix) Remark() {}
func (AccuraciesOfNoFix) Remark()     {}
func (NullsRestless) Remark()         {}
func (AntennasReversed) Remark()      {}
func (AntennasWithoutGap) Remark()    {}
func (CurrentsNone) Remark()          {}
func (NullFillers) Remark()           {}
func (DepthsTooShallow) Remark()      {}
func (DepthElsewhere) Remark()        {}
func (DepthsNegative) Remark()        {}
