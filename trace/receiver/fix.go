package receiver

import (
	"cmp"
	"math"
	"slices"
)

// The qualities of a fix as NMEA 0183 GGA writes them (published; from memory).
const (
	autonomous   = 1
	differential = 2
	pps          = 3
	rtkFixed     = 4
	rtkFloat     = 5
	deadReckoned = 6
	typedIn      = 7
	service      = 9 // written for positions by a satellite service by some receivers (common practice, no source)
)

// FixErrors is what a kind of fix can do. Sigmas are per axis, one sigma.
type FixErrors struct {
	// UsualM is the usual error where nothing but the fix and its HDOP is told.
	UsualM float64
	// BestM is what the fix can be at best: a stated accuracy below it is the
	// receiver's opinion of its own scatter, and is not believed.
	BestM float64
	// SeldomM is what the fix is seldom better than: a stated accuracy between BestM and it
	// is taken as it stands, and told; 0 where nothing is.
	SeldomM float64
	// SharedM is what all readings of a walk may be off together without it showing
	// in their scatter, one sigma, where no believable accuracy is stated.
	SharedM float64
	// Bounded tells that the kind of fix alone bounds the whole error, the shared
	// part included. Without it the error is that of an autonomous receiver.
	Bounded bool
}

// MakersFixedM is where the makers' figures of fixed positions begin (common practice, no
// source), and CoarsestM what positions that were reckoned on or typed in usually are good to
// (common practice, no source): the least and the most that positions are guessed to err by of
// which nothing is told. UnstatedM is the error of one of them among others that tell theirs.
// Judgement.
const (
	MakersFixedM = 0.008
	CoarsestM    = 3.0
	UnstatedM    = 0.5
)

// BestM is what any position can be at best: judgement (see Errors, of a fixed one).
const BestM = 0.003

// No receiver states an accuracy of less than FinestStatedM, and none of CoarseFixedM or
// more of an RTK fixed position, which is good to a hundredth of that and some (common
// practice, no source).
const (
	FinestStatedM = 0.001
	CoarseFixedM  = 0.5
)

// What neighbouring positions have in common is taken to last for UsualTauS seconds before
// anything is seen of it, whatever the fix, within TauSpread, one sigma of ln. Positions
// by code correlate over minutes (Sensors 2020, 20:6050), those by carrier phase over up
// to 20 minutes (J. Surveying Eng. 2003, from memory); the figures are judged, the former
// in a prototype study of the fit.
const (
	UsualTauS = 120.0
	TauSpread = 1.1
)

// How far an error may be from what stands for it, one sigma of ln of the factor: from what the
// fix usually has, from what the scatter shows, and from a stated figure. Half of the stated
// figures are taken to be right within StatedSpread, half too small by OptimismLn within
// OptimismSpread. Judged; no source. (A prototype study of the fit took 0.3 throughout, 0.6 where
// nothing is stated.)
const (
	FixSpread         = 0.45
	ScatterSpread     = 0.5
	StatedSpread      = 0.2
	OptimismLn        = 0.8
	OptimismSpread    = 0.45
	StatedToFixSpread = 0.6 // of what is found about what the fix usually has
)

// Errors returns the errors of a fix by its NMEA 0183 GGA quality (-1 where it
// is not told) and HDOP (NaN where not), false for a quality that is no
// measurement or is not told.
//
// An HDOP below 0.6 or above 5 is taken for that: judgement.
//
// Usual sigmas: common practice, no source (RTK 1 to 3 cm; float 0.2 to 1 m in a
// GIS developers' reference; differential 0.6 to 1.1 m at 95 % at reference
// stations in the FAA's WAAS performance report 10 of 2004, a locator's receiver
// is somewhat better than a handheld one). Best sigmas: RTK 8 mm and more are
// the makers' own figures, 3 mm leaves room for optimism; those of the others are
// common practice, no source.
//
// Seldom better: a differential one than the least that the same report has of its
// reference stations, unless a service of decimetres gives the corrections, which some
// receivers write as the same quality; an autonomous one than 0.75 m (common practice, no
// source).
//
// Shared errors: positions in the hand by a differential fix lie within 1 to 3 m at
// 95 % (common practice, no source: the middle is taken), those by a float fix
// within 0.2 to 1 m, by a fixed one within 1 to 3 cm (likewise).
func Errors(fix int, hdop float64) (FixErrors, bool) {
	g := usualHDOP
	if hdop > 0 {
		g = math.Max(0.6, math.Min(5, hdop))
	}
	switch fix {
	case rtkFixed:
		return FixErrors{UsualM: 0.015, BestM: BestM, SharedM: 0.01, Bounded: true}, true
	case rtkFloat:
		return FixErrors{UsualM: 0.2, BestM: 0.05, SharedM: radius95 * 0.6, Bounded: true}, true
	case differential, pps, service:
		return FixErrors{UsualM: 0.4 * g, BestM: 0.05, SeldomM: radius95 * waasRadius95M, SharedM: radius95 * 2 * g / usualHDOP, Bounded: true}, true
	case autonomous:
		return FixErrors{UsualM: 1.0 * g, BestM: 0.5, SeldomM: 0.75, SharedM: UnboundedM()}, true
	case deadReckoned, typedIn:
		return FixErrors{UsualM: CoarsestM, BestM: CoarsestM, SharedM: UnboundedM()}, true
	}
	return FixErrors{}, false
}

// UsualFixM is the usual error of a position by its fix and HDOP, one sigma per axis:
// that of an autonomous one where the fix is not told.
func UsualFixM(fix int, hdop float64) float64 {
	e, told := Errors(fix, hdop)
	if !told {
		e, _ = Errors(autonomous, hdop)
	}
	return e.UsualM
}

// kinds are those of fix, from the best to the worst.
var kinds = [...]int{rtkFixed, rtkFloat, differential, autonomous}

// KindsUsualM are the usual errors of positions by each kind of fix, at the usual HDOP.
var KindsUsualM = func() (m [len(kinds)]float64) {
	for i, fix := range kinds {
		m[i] = UsualFixM(fix, usualHDOP)
	}
	return m
}()

// OtherFixM is all that positions may be off, one sigma per axis, that err by ownM and so are
// not of the kind that is shown: with it what those of the kind that usually errs so may share.
func OtherFixM(ownM float64) float64 {
	nearest := slices.MinFunc(kinds[:], func(a, b int) int {
		from := func(fix int) float64 { return math.Abs(math.Log(ownM / UsualFixM(fix, usualHDOP))) }
		return cmp.Compare(from(a), from(b))
	})
	e, _ := Errors(nearest, usualHDOP)
	return math.Hypot(ownM, e.SharedM)
}

// usualHDOP is taken where none is told (common practice, no source).
const usualHDOP = 1.2

// radius95 is one sigma per axis of a 95 % radius of 1: that of two equal normal
// errors is 2.4477 sigma: derived, the square root of -2 ln 0.05.
var radius95 = 1 / math.Sqrt(-2*math.Log(0.05))

// waasRadius95M is the least horizontal error at 95 % that the FAA's WAAS performance
// analysis report 10 of 2004 has of a reference station (from memory).
const waasRadius95M = 0.6

// spsRadius95M is the horizontal error that 95 % of positions by the open
// service alone stay within as a global average: 8 m (US Department of Defense,
// GPS Standard Positioning Service Performance Standard, 5th edition, 2020; from
// memory; 9 m in the edition of 2008).
const spsRadius95M = 8.0

// Radius95M is the 95 % radius of an error of one sigma per axis.
func Radius95M(sigmaM float64) float64 { return sigmaM / radius95 }

// UnboundedM is the error, one sigma per axis, of a position by an autonomous
// receiver, and so of every position of which nothing told says that it is any
// better. Nearly all of it is common to the whole of a walk.
func UnboundedM() float64 { return radius95 * spsRadius95M }

// Believed reports whether a stated accuracy (one sigma per axis) can be true of
// a fix. One without a fix is taken as it stands.
func Believed(statedM float64, fix int, hdop float64) bool {
	if !(statedM > 0 && statedM < absurdM) {
		return false
	}
	e, told := Errors(fix, hdop)
	return !told || statedM >= e.BestM
}

// absurdM is where a stated accuracy is a receiver's filler for 'none'. Judgement.
const absurdM = 1e4

// HiddenM is the error, one sigma per axis, that all readings of a walk may have
// in common although nothing in the readings shows it: none where a believable
// accuracy is stated, else what the fix may share, else that of an autonomous
// receiver.
func HiddenM(statedM float64, fix int, hdop float64) float64 {
	if Believed(statedM, fix, hdop) {
		return 0
	}
	if e, told := Errors(fix, hdop); told {
		return e.SharedM
	}
	return UnboundedM()
}

// Bounded reports whether a believable accuracy or the fix says that a position's
// error is less than that of an autonomous receiver.
func Bounded(statedM float64, fix int, hdop float64) bool {
	e, told := Errors(fix, hdop)
	return Believed(statedM, fix, hdop) || told && e.Bounded
}

// OwnM is a position's own error, one sigma per axis: as stated, where its fix can do
// that; else what its fix usually does, and of one that nothing bounds all that it may be
// off, most of which its neighbours share; NaN where nothing tells.
func OwnM(statedM float64, fix int, hdop float64) float64 {
	e, told := Errors(fix, hdop)
	switch {
	case Believed(statedM, fix, hdop):
		return statedM
	case !told:
		return math.NaN()
	case !e.Bounded:
		return UnboundedM()
	}
	return e.UsualM
}

// WholeM is all that a single position may be off, one sigma per axis: its own error, and
// with it what it may share with others and nothing shows. Where nothing tells its own it
// is taken for that of a place that is measured with care: what is hidden then is that of
// an autonomous receiver, beside which no other figure would be seen.
func WholeM(statedM float64, fix int, hdop float64) float64 {
	own := ExposedM
	switch e, told := Errors(fix, hdop); {
	case Believed(statedM, fix, hdop):
		own = statedM
	case told:
		own = e.UsualM // of one that nothing bounds the rest is hidden: it is not counted twice
	}
	return math.Hypot(own, HiddenM(statedM, fix, hdop))
}
