package trace

import "testing"

// Each status is counted once and in its own place, and a ledger that loses or
// gains a row by any of them does not balance.
func TestCountReadings(t *testing.T) {
	var rs []Reading
	for n, st := range []Status{StatusUsed, StatusSetAside, StatusCheck, StatusExposed} {
		for range n + 2 { // 2, 3, 4, 5
			r := NewReading()
			r.Status = st
			rs = append(rs, r)
		}
	}
	c := CountReadings(rs)
	if want := (Counts{Rows: 14, Used: 2, SetAside: 3, Check: 4, Exposed: 5}); c != want || !c.Balanced() {
		t.Errorf("got %+v, want %+v", c, want)
	}
	c.Rows, c.Unreadable = 20, 6
	if !c.Balanced() {
		t.Error("unreadable rows count")
	}
	for _, n := range []*int{&c.Rows, &c.Used, &c.SetAside, &c.Check, &c.Exposed, &c.Unreadable} {
		*n++
		if c.Balanced() {
			t.Errorf("one row too many balances: %+v", c)
		}
		*n--
	}
}
