package words

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// withFigures is one of each kind of remark that has figures.
var withFigures = []trace.Remark{
	remark.AccuraciesOfNoFix{}, remark.AccuraciesTooFine{}, remark.AccuraciesOfBetterFix{}, remark.AccuracyOptimistic{}, remark.AgainstDirection{}, remark.AgainstSignal{},
	remark.AirBeyond{}, remark.AirCoupled{}, remark.AirDepth{}, remark.AirRatio{}, remark.AllDeep{}, remark.AlsoWithin{}, remark.AtPlaces{}, remark.AntennasDiffer{},
	remark.AntennasImplied{}, remark.AntennasReversed{}, remark.AntennasWithoutGap{}, remark.CurrentsNone{}, remark.NullFillers{}, remark.Bands{}, remark.BandsOnly{}, remark.BendBetween{}, remark.BesideItself{},
	remark.BleedItem{}, remark.Block{}, remark.Checked{}, remark.CloseRun{}, remark.ColumnLost{}, remark.ColumnUnit{}, remark.ColumnUnknown{},
	remark.ColumnUnmet{}, remark.ComparedWith{}, remark.Contradicted{}, remark.CoupledUnseen{}, remark.CurrentIn{}, remark.CurrentFalls{}, remark.CurrentLevel{}, remark.CurrentRises{},
	remark.CurrentUnmapped{}, remark.CurrentWhere{}, remark.CurrentsOdd{}, remark.DateDiffers{}, remark.DatumUnbelieved{}, remark.DepthAndCurrent{}, remark.DepthInstead{},
	remark.DepthSpike{}, remark.DepthBlock{}, remark.StrideUndrawn{}, remark.CornerCut{}, remark.DepthLevel{}, remark.DepthsDroppedInARow{}, remark.DepthsBlank{}, remark.DepthsAgainstAntennasInPart{}, remark.DepthPassesApart{}, remark.DepthsScattered{}, remark.DepthsFrozen{}, remark.DepthsSeries{}, remark.DepthsPasted{}, remark.DepthsAllAlike{}, remark.ShallowAlone{}, remark.DepthsAgainstAntennas{}, remark.DepthsAgainstProfile{}, remark.DepthsComputed{}, remark.DepthElsewhere{}, remark.DepthsNegative{},
	remark.DepthsOfATenth{}, remark.DepthsOffProfile{}, remark.DepthsOutside{}, remark.DepthsSet{}, remark.DepthsAsOn{}, remark.DepthsToTop{}, remark.DepthsAsRead{}, remark.HeardBesideJump{}, remark.TurnsAway{}, remark.ExposedToTop{}, remark.ExposedOtherGround{}, remark.DepthsWrongOn{}, remark.DepthsTenfold{}, remark.DepthsTooDeep{},
	remark.DepthsRounded{}, remark.DepthsTooShallow{}, remark.DisplayAtEnd{}, remark.DrawnOutside{}, remark.ElevationsLeap{}, remark.ElevationsOff{}, remark.ElevationsStep{}, remark.ErrorOfDigits{},
	remark.ErrorOfFix{}, remark.ErrorUnbounded{}, remark.Excursion{}, remark.ExposedBeside{}, remark.ExposedBeyond{}, remark.ExposedOneWay{}, remark.ExposedDeeper{},
	remark.ExposedAcross{}, remark.ExposedFound{}, remark.ExposedOffLine{}, remark.ExposedOffProfile{}, remark.FarOff{}, remark.FarTransmitter{}, remark.FewReadings{},
	remark.FillerDepth{}, remark.FittingsOrOtherLine{}, remark.FrameDoubt{}, remark.FrequencyFavours{}, remark.FullScale{}, remark.HookupFavours{},
	remark.Impossible{}, remark.InDoubt{}, remark.Joined{}, remark.JoinedNote{}, remark.LateralStep{}, remark.LayerFar{}, remark.LayerIncomplete{},
	remark.LayerUncertain{}, remark.LevelsTogether{}, remark.Lift{}, remark.LineUnread{}, remark.LongitudeOver{}, remark.LookAt{}, remark.ManyUnused{},
	remark.MarksLeave{}, remark.MixedUp{}, remark.NamesAlike{}, remark.TablesAsOne{}, remark.NumbersSplit{}, remark.NearTransmitter{}, remark.NegativeDepth{}, remark.NoFix{}, remark.NoGrid{}, remark.NoLine{},
	remark.NotChecked{}, remark.NotDrawn{}, remark.NotInLog{}, remark.NotProjected{}, remark.NotTraced{}, remark.NullLevel{}, remark.NullOffset{}, remark.NullsApart{},
	remark.NullsRestless{}, remark.OnLine{}, remark.OrItLeaves{}, remark.OrNeighborHere{}, remark.OtherFoot{}, remark.Outlier{}, remark.OutsideArea{},
	remark.OutsideCRS{}, remark.OwnCourse{}, remark.OwnLeg{}, remark.InsideOfBends{}, remark.PassesApart{}, remark.SeamApart{}, remark.RingOpen{}, remark.PlacedByClock{}, remark.PointsLost{}, remark.PositionsComputed{}, remark.PlacesFilled{}, remark.NameChanged{}, remark.Unheard{}, remark.SetupChanged{}, remark.OnLead{}, remark.OtherThanAntennas{},
	remark.PositionsRounded{}, remark.PositionsUnbounded{}, remark.PositionsOfOtherFix{}, remark.ProfileOutOfRange{}, remark.ReadingsOffLine{}, remark.RunsAside{}, remark.RecordAnywhere{},
	remark.RecordUncertain{}, remark.Repeated{}, remark.RowsUnplaced{}, remark.RowsUnread{}, remark.RowsHashed{}, remark.RowsWithTwoPositions{}, remark.SharedError{},
	remark.ShiftUnknown{}, remark.SignTurned{}, remark.SimulatorData{}, remark.SingleReadings{}, remark.Slipped{}, remark.StepOverGap{}, remark.StrideOvershoots{},
	remark.StepToUnmapped{}, remark.Swapped{}, remark.Sweep{}, remark.TenfoldDepth{}, remark.TooDeep{}, remark.TooShallow{}, remark.TraceAgainFrom{}, remark.Weaves{}, remark.AgainstAntennas{}, remark.AsideOfTheWalk{}, remark.AsideWithTheFix{},
	remark.TwoDepths{}, remark.TwoPositions{}, remark.UnitChanged{}, remark.Unplaced{}, remark.Unsettled{}, remark.WatchedCrossing{},
	remark.WideSpacing{}, remark.EpochFar{}, remark.EpochUnheld{}, remark.ClockFar{}, remark.ZoneFar{}, remark.WebMercator{}, remark.FootUnsaid{}, remark.HookupDiffers{}, remark.FreqDiffers{}, remark.FreqOdd{}, remark.ExposedAndHeard{}, remark.RuleWider{},
}

// noNumber is a figure that is none, as formatting writes it.
var noNumber = regexp.MustCompile(`NaN|Inf\b`)

// A figure that is not known is never printed: the words leave it out, or say that it
// is not known. Each field of each kind of remark is tried, one by one.
func TestNoFigureThatIsNotKnown(t *testing.T) {
	listed := map[string]bool{}
	for _, r := range withFigures {
		kind := reflect.TypeOf(r)
		listed[kind.Name()] = true
		for n := 0; ; n++ {
			tried := 0
			for _, odd := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
				v := reflect.New(kind).Elem()
				left := n
				where := fillIn(v, kind.Name(), &left, odd)
				if left >= 0 {
					break
				}
				tried++
				for _, u := range []geo.Units{geo.Metric, geo.US} {
					if s := Remark(u, v.Interface().(trace.Remark)); noNumber.MatchString(s) || s == "" {
						t.Errorf("%s = %v, %s: %q", where, odd, u, s)
					}
				}
			}
			if tried == 0 {
				break
			}
		}
	}
	kinds, values := remarkTypes(t)
	for kind := range kinds {
		if !listed[kind] && len(values[kind]) == 0 {
			t.Errorf("remark.%s is not tried: add it to withFigures", kind)
		}
	}
}

// fillIn gives every field of a remark a value, and the figure numbered left the odd
// one; it returns which that is, and left is below zero once it was given.
func fillIn(v reflect.Value, path string, left *int, odd float64) (where string) {
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat(1)
		if *left == 0 {
			v.SetFloat(odd)
			where = path
		}
		*left--
	case reflect.Int, reflect.Int32, reflect.Int64:
		v.SetInt(3)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.String:
		v.SetString(aValue(v.Type().Name()))
	case reflect.Interface:
		if v.Type() == reflect.TypeFor[trace.Finding]() {
			v.Set(reflect.ValueOf(finding.Gap{Line: "A", FromM: 1, ToM: 2, Why: trace.Verbatim("No reading.")}))
			return ""
		}
		if v.Type() == reflect.TypeFor[error]() {
			v.Set(reflect.ValueOf(errors.New("it is so")))
			return ""
		}
		v.Set(reflect.ValueOf(trace.Verbatim("It is so.")))
	case reflect.Slice:
		if v.Type() == reflect.TypeFor[[]trace.Reading]() {
			return ""
		}
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		return fillIn(v.Index(0), path+"[]", left, odd)
	case reflect.Array, reflect.Struct:
		n := v.NumField
		if v.Kind() == reflect.Array {
			n = v.Len
		}
		for i := range n() {
			f, name := reflect.Value{}, ""
			if v.Kind() == reflect.Array {
				f, name = v.Index(i), fmt.Sprint(i)
			} else {
				f, name = v.Field(i), v.Type().Field(i).Name
			}
			if w := fillIn(f, path+"."+name, left, odd); w != "" {
				where = w
			}
		}
	}
	return where
}

// aValue is a text for a field; of a type that has named values, one of them.
func aValue(kind string) string {
	switch kind {
	case "Side":
		return string(trace.Left)
	case "Grade":
		return string(trace.GradeSuspect)
	}
	return "x"
}

// The same of what is said of findings; and a line whose name reads like a figure keeps
// it.
func TestNoFigureOfAFindingThatIsNotKnown(t *testing.T) {
	for _, f := range finding.All() {
		for n := 0; ; n++ {
			v := reflect.New(reflect.TypeOf(f)).Elem()
			v.Set(reflect.ValueOf(f))
			floats := 0
			for i := range v.NumField() {
				if v.Field(i).Kind() != reflect.Float64 {
					continue
				}
				if floats == n {
					v.Field(i).SetFloat(math.NaN())
				}
				floats++
			}
			if n >= floats {
				break
			}
			odd := v.Interface().(trace.Finding)
			for _, s := range append(Finding(geo.US, odd), FindingTitle(geo.US, odd)) {
				if noNumber.MatchString(s) {
					t.Errorf("%T, figure %d: %q", f, n, s)
				}
			}
		}
	}
	jump := remark.MarksLeave{FromM: 3, BackAtM: trace.Unknown, Neighbor: "NaN Inf", N: 4}
	if s := Remark(geo.Metric, jump); s != "The paint marks may leave the line at 3.0 m, lie on 'NaN Inf' for 4 readings and do not come back." {
		t.Error(s)
	}
	in := remark.CurrentIn{Share: remark.Share{Times: 0.5, Least: 0, Most: 1}, Neighbor: "nb-1", AsideM: trace.Unknown, Side: trace.Right}
	if s := Remark(geo.US, in); s != "Fits a current of +0.5 (90 %: +0.0 to +1.0) times the line's own in 'nb-1'; how far away it lies is not known." {
		t.Error(s)
	}
}
