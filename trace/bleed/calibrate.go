package bleed

import "math"

// The evidence for coupling to a known neighbour is Gaussian and its priors
// are judgement, so its log odds are not those of the world: told by them alone,
// lines with a sign of coupling are coupled more often than that. A logistic
// curve turns them into the share of such lines that are (Platt, 1999, in
// Advances in Large Margin Classifiers; two numbers only). It was fitted to
// 1,088 accounts of 440 simulated lines beside a known neighbour, the four sets
// of columns that accuracy is measured with apart: slopes 0.38, 0.53, 0.45 and
// 0.42, levels 2.4, 2.7, 2.4 and 2.6. One curve serves them all, so that a grade
// means the same whatever the columns. Its level is lowered to a neighbour that
// is as often coupled as not; how often that is so in a street nobody knows.
const (
	knownLevel = 2.0
	knownSlope = 0.45
)

// leastCoupled is the probability of coupling below which nothing is reported, and
// SuspectCoupled and strongCoupled those from which a stretch may be graded so.
// Judgement: at even odds a stretch is worth a word, and four in five, and nineteen in
// twenty, are what the two words promise.
const (
	leastCoupled   = 0.5
	SuspectCoupled = 0.8
	strongCoupled  = 0.95
)

// A score tells how often mark or depth is displaced where as much was found. The
// log odds of coupling and the displacement that the fit makes of it say that only
// in part: no model holds every habit of streets and receivers. Logistic curves
// were fitted to 366 stretches found on lines of two simulators, quiet families as
// many as coupled ones, on seeds that are in no table. Odds beyond what was seen in
// number tell no more than that. Judgement, for the study that fitted them is not kept;
// `loamline accuracy --only bleed` shows beside each score how often mark or depth were
// displaced.
const (
	scoreKnown, scoreKnownOdds, scoreKnownDisplaced = 0.1, 0.1, 3.0
	scoreUnknown, scoreUnknownOdds                  = -0.55, 0.037
	typicallyDisplaced                              = 0.6
	leastOdds, mostOdds                             = -6, 20
)

// score is the probability that mark or depth is displaced on a stretch.
func (f finding) score() float64 {
	odds := math.Max(leastOdds, math.Min(mostOdds, f.logOdds))
	if f.c.e.at == nil {
		return probability(scoreUnknown + scoreUnknownOdds*odds)
	}
	return probability(scoreKnown + scoreKnownOdds*odds + scoreKnownDisplaced*(f.displaced()-typicallyDisplaced))
}

// calibrated returns log odds that can be read as a probability. Those of a
// neighbour that nobody drew, of a record that may be the line's own, and of what is
// left once a coupling is taken out, stand as they are: there were too few to fit a
// curve to.
func (f coupledFit) calibrated(first bool) float64 {
	if f.c == nil || f.c.e.at == nil || f.c.e.mayBeOwn || !first {
		return f.logOdds
	}
	return knownLevel + knownSlope*f.logOdds
}

func probability(logOdds float64) float64 { return 1 / (1 + math.Exp(-logOdds)) }
