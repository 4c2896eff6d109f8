package receiver

// What is taken where nobody states it.
const (
	// UsualGapM is the distance of the two antennas (common practice, no source).
	UsualGapM = 0.4
	// From LeastGapM to MostGapM apart are the antennas of any receiver (common practice, no
	// source).
	LeastGapM, MostGapM = 0.2, 1.0
	// UsualDepthM is the depth of a line without one (common practice, no source).
	UsualDepthM = 1.1
	// DeepestM is past what receivers of the trade can read, to the conductor's
	// centre (common practice, no source; surveys use the method to about 5 m, bores
	// are traced to 10).
	DeepestM = 15.0
	// ShallowestM is less than any display shows of a depth, in centimetres or tenths of
	// inches (common practice, no source): what is less is written for none.
	ShallowestM = 0.001
	// UsualDiameterM is an unknown outer diameter where a zone is measured from the
	// edge (2 in; common practice, no source).
	UsualDiameterM = 0.050
	// PlainLineM is the error across of a line that was drawn, one sigma, where none is
	// stated with it. Judgement.
	PlainLineM = 0.05
	// PlainSignalRel is the random error of a signal, one sigma, where a trace is too short
	// to show it, and LeastSignalRel the least that it is taken to show; PlainNullM and
	// LeastNullM are those of a null over a line 1 m deep. Judgement, the first of each pair
	// as in the simulations by which the detector's method was chosen.
	PlainSignalRel, LeastSignalRel = 0.05, 0.008
	PlainNullM, LeastNullM         = 0.05, 0.02
	// NullBiasM is by how much all nulls of a receiver are off to one side, one sigma, and
	// NullDriftM by how much more along a line, which lasts over NullDriftLastsM. Judgement,
	// no source.
	NullBiasM, NullDriftM, NullDriftLastsM = 0.02, 0.01, 50
	// Of a walk whose usual stated accuracy is less than PreciseFixM positions are taken for
	// those by carrier phase, whose errors last over PreciseLastsM of the way where those of
	// others last over PlainLastsM. Judgement.
	PreciseFixM, PreciseLastsM, PlainLastsM = 0.06, 15, 60
	// Up to LowFreqHz a transmitter's frequency couples little into other lines, from
	// HighFreqHz on much (common practice, no source: the trade's low frequencies are 0.3 to
	// 1 kHz and its high ones 30 to 100 kHz). Below LowerFreqHz none is left that is worth a
	// try: transmitters have some below 1 kHz and the next about 8 kHz (common practice, no
	// source), and this lies between. Up to it more is reckoned with than up to LowFreqHz, but
	// a lower one is not advised.
	LowFreqHz, LowerFreqHz, HighFreqHz = 1000, 2000, 30000
	// LeadM is how far a transmitter's lead runs to its stake, and LeadAwayM how far beyond the
	// reading next to it it leaves the line. Judgement.
	LeadM, LeadAwayM = 15.0, 8.0
	// CommonShare is of the variance of a position by carrier phase or with
	// corrections what neighbouring readings have in common (judgement, see Errors).
	CommonShare = 0.6
	// HiddenTimes is the whole error of a position over the part of it that shows between
	// neighbours, where CommonShare of the variance is common to them: derived, 1/√0.4.
	HiddenTimes = 1.6
	// WholeShare is, over the variance of a position that its readings show, what
	// stays the same for a whole walk and so shows in none of them: the coordinates
	// of the base, a pole that always leans the same way, the arm between antenna and
	// receiver, slow reflections. Derived from what is shared and what is usual of a fixed
	// position (see Errors), (0.01/0.015)²; of other fixes it is more, of which a stated
	// accuracy has a part. With 0.2, which was judged, the bands of 400 walks of a simulator
	// made for it alone, whose offsets that stay were drawn without knowing of this, held
	// 92.3 % of the places, with this 94.1, a tenth wider.
	WholeShare = 0.44
	// FalseFix is the chance that a fix is not the kind that its receiver shows: of
	// 29,705 positions that were shown as fixed by carrier phase on six open runs
	// through two cities, 1.9 % were wrong (published:
	// github.com/rsasaki0109/gnssplusplus-library, pull request 50, 2026).
	FalseFix = 0.02
	// LeakPerM is how the ln of a current that nobody read falls along a line, one
	// sigma: 20 dB a kilometre, either way (judged; no source).
	LeakPerM = 20 / 8.686 / 1000
)

// AirDepths is the least multiple of the line's depth that is shown where a receiver hears a
// transmitter's own field (common practice, no source).
const AirDepths = 1.8

// TransmitterReachM is how far an induction transmitter's own field is to be
// reckoned with: about 10 m at low output, 15 to 25 m at high (common practice, no
// source).
func TransmitterReachM(powerW float64) float64 {
	switch {
	case powerW > 3:
		return 25
	case powerW > 1:
		return 15
	}
	return 10
}
