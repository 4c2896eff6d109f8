package bleed

// Account is what the first look at a window of readings makes of a coupling to a drawn
// neighbour, whether it is told of or not.
type Account struct {
	FromM, ToM float64
	LogOdds    float64 // of the models
	Coupled    float64 // the probability that grades go by
}

// Accounts are those of a line beside drawn neighbours, one for each window with a sign.
func Accounts(line Line, others *Index) []Account {
	line.rd = inStationOrder(line.Readings)
	c := newColumns(line)
	if len(c.rd) < 3 {
		return nil
	}
	near := others.neighbours(line, c)
	said, _ := likelyJumps(jumps(line, c, others, near))
	c = c.without(said)
	var out []Account
	for lo := 0; lo < len(c.rd); lo += pieceReadings - overlapReadings {
		hi := min(len(c.rd), lo+pieceReadings)
		if !screenKnown.sign(c, lo, hi) {
			continue
		}
		y := partialResidual{ds: append(append([]float64{}, c.lnD[lo:hi]...), c.lnS[lo:hi]...), null: c.null[lo:hi], pos: c.course.acrossM[lo:hi]}
		best := newUncoupled(c, lo, hi, y).bestOf(near, make([][]signature, len(near)), false)
		if best.c == nil || best.c.e.mayBeOwn {
			continue
		}
		if f, ok := newFinding(best, lo); ok {
			out = append(out, Account{c.rd[f.from].StationM, c.rd[f.to].StationM, best.logOdds, probability(best.calibrated(true))})
		}
	}
	return out
}

// Calibrated is the probability that such a coupling is there whose models say these log odds.
func Calibrated(logOdds float64) float64 {
	f := coupledFit{c: &coupler{e: neighbour{at: []neighbourAt{}}}, logOdds: logOdds}
	return probability(f.calibrated(true))
}
