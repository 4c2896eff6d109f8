package bleed

import "loamline.example/trace/receiver"

// response is what coupling does to one reading, as this receiver marks it.
type response struct {
	shiftM  float64 // mark minus true line
	nullM   float64 // null minus the mark of a receiver across
	lnDepth float64 // log of depth shown over true
	lnField float64 // log of the lower antenna's field over that of the line alone
}

// marked is the response of a coupling.
func (c *columns) marked(r receiver.Coupled, ok bool) (response, bool) {
	if c.wholeField {
		r.ShiftM = receiver.WholePeakM(r.ShiftM, r.NullM)
	}
	return response{r.ShiftM, r.NullM, r.LnDepth, r.LnField}, ok
}
