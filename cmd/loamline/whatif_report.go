package main

import (
	"fmt"
	"io"
	"math"
	"math/cmplx"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/receiver"
)

// whatIfCaution says what the figures are worth. It stands on the plot too.
const whatIfCaution = "Computed for long, straight, parallel lines in even soil; nothing was measured."

// report tells in words and a table what would be seen.
func (w whatIf) report(out io.Writer) {
	s := w.section.Survey(0, w.gapM)
	line := w.section.Lines[0]
	fmt.Fprintf(out, "Line %s deep, %s; antennas %s apart.\n", w.units.Short(line.DepthM), milliamps(cmplx.Abs(line.CurrentA)), w.units.Short(w.gapM))
	for _, n := range w.section.Lines[1:] {
		fmt.Fprintf(out, "Neighbour %s, %s deep, %s.\n", aside(w.units, n.XM), w.units.Short(n.DepthM), share(n.CurrentA/line.CurrentA))
	}
	w.table(out, s.PeakM)
	fmt.Fprintf(out, "\nPeak (the paint) %s\n", aside(w.units, s.PeakM))
	fmt.Fprintf(out, "Null             %s; null minus peak %s\n", aside(w.units, s.NullM), signed(w.units, s.NullOffsetM))
	fmt.Fprintf(out, "Null floor       %.1f %% of the peak is left at the null; over one line alone 0 %%\n", 100*s.NullFloor)
	fmt.Fprintf(out, "Depth shown      %s, true %s%s\n", shownDepth(w.units, s.DepthM), w.units.Short(line.DepthM), off(s.DepthM/line.DepthM))
	fmt.Fprintf(out, "Current shown    %s, true %s%s\n", milliamps(s.CurrentA), milliamps(cmplx.Abs(line.CurrentA)), off(s.CurrentA/cmplx.Abs(line.CurrentA)))
	l, r := w.section.WidthsM(s.PeakM, 0.8)
	fmt.Fprintf(out, "Width at 80 %%    %s left, %s right of the peak (right/left %.2f)\n", w.units.Short(l), w.units.Short(r), r/l)
	lift := w.section.Lift(s.PeakM, w.gapM, w.liftM)
	fmt.Fprintf(out, "Lift by %-8s depth grows by %s, signal falls to %.0f %%\n", w.units.Short(w.liftM), w.units.Short(lift.GrowthM), 100*lift.SignalRatio)
	fmt.Fprintln(out)
	for _, v := range w.verdict(s, lift) {
		fmt.Fprintln(out, v)
	}
	fmt.Fprintf(out, "\n%s\n%s\n", whatIfCaution, trace.ShortCaution)
}

// table prints the field across the line in parts of the value at the peak.
func (w whatIf) table(out io.Writer, peakM float64) {
	top := cmplx.Abs(w.section.Bh(peakM, 0))
	fmt.Fprintf(out, "\n%12s  %10s  %8s   (%% of the peak, which is %.1f nT)\n", "from line", "horizontal", "vertical", top*1e9)
	from, to := w.span()
	const rows = 13
	for i := range rows {
		x := from + (to-from)*float64(i)/(rows-1)
		fmt.Fprintf(out, "%12s  %10.0f  %8.0f\n", signed(w.units, x),
			100*cmplx.Abs(w.section.Bh(x, 0))/top, 100*cmplx.Abs(w.section.Bv(x, 0))/top)
	}
}

// span is what is shown across: two depths beyond all lines.
func (w whatIf) span() (fromM, toM float64) {
	deepest := 0.0
	for _, c := range w.section.Lines {
		fromM, toM, deepest = math.Min(fromM, c.XM), math.Max(toM, c.XM), math.Max(deepest, c.DepthM)
	}
	return fromM - 2*deepest, toM + 2*deepest
}

// verdict says which of the usual checks would notice.
func (w whatIf) verdict(s receiver.Shown, lift receiver.Lifted) []string {
	wrong := math.Abs(s.PeakM) > 0.10 || !(math.Abs(s.DepthM/w.section.Lines[0].DepthM-1) <= 0.10)
	var caught []string
	if math.Abs(s.NullOffsetM) > 0.10 || math.Abs(s.NullOffsetM) > 0.1*s.DepthM {
		caught = append(caught, "peak and null lie apart")
	}
	if s.NullFloor > 0.05 {
		caught = append(caught, "the null is blurred")
	}
	if !(math.Abs(lift.GrowthM/w.liftM-1) <= 0.15) {
		caught = append(caught, "the lift test fails")
	}
	l, r := w.section.WidthsM(s.PeakM, 0.8)
	if q := r / l; !(q >= 0.91 && q <= 1.15) {
		caught = append(caught, "the peak is lopsided")
	}
	switch {
	case len(caught) == 0 && wrong:
		return []string{"No check at this one place would notice, and yet the paint mark or its depth is wrong.",
			"Only the trend along the line, another hookup or frequency, a record or a pothole shows it."}
	case len(caught) == 0:
		return []string{"Nothing is there to notice: the paint mark is right to " + w.units.Short(0.1) + " and the depth to 10 %."}
	}
	out := "A locator who checks would notice: " + caught[0]
	for _, c := range caught[1:] {
		out += "; " + c
	}
	return []string{out + "."}
}

func aside(u geo.Units, m float64) string {
	switch {
	case math.IsNaN(m):
		return "nowhere"
	case math.Abs(m) < 0.0005:
		return "over the line"
	case m < 0:
		return u.Short(-m) + " left of the line"
	}
	return u.Short(m) + " right of the line"
}

func signed(u geo.Units, m float64) string {
	if m > 0 {
		return "+" + u.Short(m)
	}
	return u.Short(m)
}

func milliamps(a float64) string { return fmt.Sprintf("%.0f mA", 1000*a) }

func share(q complex128) string {
	if math.Abs(imag(q)) < 1e-9 {
		return fmt.Sprintf("carries %+.2f of its current", real(q))
	}
	return fmt.Sprintf("carries %.2f of its current, %.0f° out of phase", cmplx.Abs(q), cmplx.Phase(q)*180/math.Pi)
}

func shownDepth(u geo.Units, m float64) string {
	if math.IsInf(m, 0) {
		return "none"
	}
	return u.Short(m)
}

func off(ratio float64) string {
	if math.IsInf(ratio, 0) || math.IsNaN(ratio) {
		return ""
	}
	return fmt.Sprintf(" (%+.0f %%)", math.Round(100*(ratio-1))+0) // no minus zero
}
