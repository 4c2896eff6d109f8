package trace

// Trace is one line's readings. They stand in input order until the fit has
// given them stations; travel order is rising time where all have one, else
// the order of the files.
type Trace struct {
	Name     string
	Readings []Reading
}
