package summary

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"
	"unicode"

	"loamline.example/export/style"
	"loamline.example/export/words"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/setting"
)

// maxLines is how many lines the terminal lists; the files carry them all.
const maxLines = 60

// Short prints what a person needs before opening the map, in a screen:
// one line a traced line, the ledger, what to check before digging, the files.
func Short(w io.Writer, s *trace.Sheet, written []string) {
	k := inkFor(w)
	list, again := advice.MostImportantFirst(s), advice.ToRepeat(s)
	kinds, items := checkKinds(s, list), len(list)+len(again)
	if len(again) > 0 {
		kinds = append(kinds, toRepeat(s, again))
	}
	// Problems are told in as many kinds as leave the whole check list in full, else one;
	// none where it would take the room of what says where not to dig.
	for problems := maxProblems; ; problems-- {
		plain := body(false, s, problems)
		var end strings.Builder
		ending(&end, false, checkHead(nil, items, false), nil, false, written)
		rows := screenHeight + max(0, min(maxLines, len(s.Lines))-tableRows) - screenRows(plain) - screenRows(end.String())
		checks, whole, kept := fitChecks(kinds, rows)
		if fits := listRows(checks) <= rows; whole && fits || problems == 1 && kept && fits || problems == 0 {
			text := body(k, s, problems)
			end.Reset()
			ending(&end, k, checkHead(checks, items, whole), checks, false, written)
			Write(w, text+end.String())
			return
		}
	}
}

// body is the short summary down to the check list, with so many kinds of problems.
func body(k ink, s *trace.Sheet, problems int) string {
	var w strings.Builder
	headline(&w, s)
	if s.MovedM > 0 {
		fmt.Fprintf(&w, "  %s\n", s.Frame.In(s.Job.Units))
	}
	lineTable(&w, k, s)
	depthLine(&w, s)
	zoneLine(&w, s)
	if n := notChecked(s); n != "" {
		fmt.Fprintln(&w, n)
	}
	ledgerLine(&w, s)
	tellProblems(&w, k, s, problems)
	return w.String()
}

func headline(w io.Writer, s *trace.Sheet) {
	var tracedM float64
	drawn := 0
	for _, l := range s.Lines {
		if l.Centerline != nil {
			tracedM += l.Centerline.TracedM()
			drawn++
		}
	}
	fmt.Fprintf(w, "%s: %s drawn of %d, %s traced\n", s.Name, Plural(drawn, "line"), len(s.Lines), s.Job.Units.Long(tracedM))
	placeLine(w, s)
}

// placeLine says where on earth the map lies and in which system its positions were
// read, so that a wrong zone and axes that changed places are seen by whoever looks: where
// both figures may be either, nothing in the table shows it.
func placeLine(w io.Writer, s *trace.Sheet) {
	for i := range s.Lines {
		c := s.Lines[i].Centerline
		if c == nil || len(c.Parts) == 0 || len(c.Parts[0].Vertices) == 0 {
			continue
		}
		at := s.Plane.LonLat(c.Parts[0].Vertices[0].Pos)
		system := s.Job.CRS
		if f, err := setting.Frame(s.Job); err == nil && f.CRS.Name != "" && !f.CRS.Geographic() {
			system += ", " + f.CRS.Name
		}
		fmt.Fprintf(w, "%s starts at latitude %.5f, longitude %.5f (positions: %s): check on a map that this is your street\n", OnOneLine(s.Lines[i].Setup.Name), at.LatDeg, at.LonDeg, system)
		return
	}
}

// zoneLine says in which zones to dig by hand, and how far the wider one reaches from
// the paint on the ground at its widest place; from the map the frame's doubt comes on top.
func zoneLine(w io.Writer, s *trace.Sheet) {
	u := s.Job.Units
	var halfM, farM float64
	frame := s.Doubted()
	for i := range s.Lines {
		l := &s.Lines[i]
		halfM = max(halfM, l.Tolerance.HalfWidthM)
		for _, r := range l.Reach {
			farM = max(farM, r.LeftM, r.RightM)
		}
	}
	if halfM == 0 {
		return
	}
	fmt.Fprintf(w, "Dig by hand: tolerance zone %s from the paint, caution zone up to %s", u.ShortUp(halfM), u.ShortUp(farM))
	switch {
	case frame.DoubtOpen():
		fmt.Fprint(w, "; do not measure from this map")
	case frame.DoubtM > 0:
		fmt.Fprintf(w, "; by this map up to %s", words.FromMap(u, frame, farM))
	}
	fmt.Fprintln(w, ".")
}

// depthLine says how deep each line was read, with the widest band of its depths.
func depthLine(w io.Writer, s *trace.Sheet) {
	u := s.Job.Units
	var told []string
	more, read, leftOut := 0, false, ""
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Centerline == nil {
			continue
		}
		if len(told) == maxNamed {
			more++
			continue
		}
		figures, out := words.DepthFigures(u, l)
		if out {
			leftOut = ", outside stretches not to be trusted"
		}
		read = read || figures != "not read"
		told = append(told, OnOneLine(l.Setup.Name)+" "+figures)
	}
	switch {
	case len(told) == 0:
	case !read && more == 0:
		fmt.Fprintln(w, "No depth was read: expose to find it.")
	default:
		if more > 0 {
			told = append(told, fmt.Sprintf("%d more with --verbose", more))
		}
		fmt.Fprintf(w, "Read depth to centre (95 %%)%s: %s; expose to verify.\n", leftOut, strings.Join(told, "; "))
	}
}

// lineTable is one line a traced line. It shows the worst band of a line and
// never the best, for that is what the line is worth to whoever digs.
func lineTable(w io.Writer, k ink, s *trace.Sheet) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "  line\tkind\tlength\tat worst (95 %), how sure")
	for i := range s.Lines[:min(maxLines, len(s.Lines))] {
		l := &s.Lines[i]
		sure := howSure(l, s)
		// The last cell is not part of a column, so colour does not disturb it.
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t"+Hang+"%s\n", OnOneLine(l.Setup.Name), style.Of(l.Setup.Utility).Code, lengthCell(s, l), bandCell(s, l), k.in(sure.ink, sure.words))
	}
	t.Flush()
	if more := len(s.Lines) - maxLines; more > 0 {
		fmt.Fprintf(w, "  … and %d more lines; --verbose and the GeoJSON have them all\n", more)
	}
}

func utilityOf(l *trace.Line) trace.Utility {
	if l.Setup.Utility == "" {
		return trace.UnknownKind
	}
	return l.Setup.Utility
}

func lengthCell(s *trace.Sheet, l *trace.Line) string {
	if l.Centerline == nil {
		return "–"
	}
	return s.Job.Units.Long(l.Centerline.TracedM())
}

// bandCell is the widest band across the line that may be told, as page and sheets
// have it: rounded up since it is a promise, and told by its parts where the datum has
// one.
func bandCell(s *trace.Sheet, l *trace.Line) string {
	if l.Centerline == nil {
		return "–"
	}
	widest, bare := words.Widest(l)
	cell := widest.AcrossBriefly(s.Job.Units)
	if bare && cell != "not known" {
		cell += " or not known"
	}
	return cell
}

func ledgerLine(w io.Writer, s *trace.Sheet) {
	c := s.Counts
	fmt.Fprintf(w, "Rows read: %d = %d used + %d set aside + %d check + %d exposed + %d unreadable\n",
		c.Rows, c.Used, c.SetAside, c.Check, c.Exposed, c.Unreadable)
}

// checkHead is what the check list begins with: how many items there are and where they
// stand in full, where the list is shorter, and whose right and left are meant.
func checkHead(checks []string, items int, whole bool) string {
	if items == 0 {
		return ""
	}
	sides := slices.ContainsFunc(checks, func(text string) bool { return strings.Contains(text, " right") })
	switch {
	case whole && sides:
		return "Check before digging (sides as walked):"
	case whole:
		return "Check before digging:"
	case sides: // on one row of the screen
		return "Check before digging (" + Plural(items, "item") + ", all in full with --verbose; sides as walked):"
	}
	return "Check before digging (" + Plural(items, "item") + ", all in full with --verbose):"
}

// ending is what both summaries end with: what to check, the files, and
// what holds for every map.
func ending(w io.Writer, k ink, head string, checks []string, numbered bool, written []string) {
	if head != "" {
		fmt.Fprintf(w, "\n%s\n", k.in(inkBold, head))
		for i, text := range checks {
			mark := checkIndent
			if numbered { // as on sheet and page
				mark = fmt.Sprintf("  %d. ", i+1)
			}
			fmt.Fprintln(w, mark+OnOneLine(text))
		}
	}
	fmt.Fprintf(w, "\n%s\n", trace.ShortCaution)
	tellWritten(w, written)
}

// tellWritten names the files: all of one job lie in one folder, and share a line, so
// that what to check stays in sight.
func tellWritten(w io.Writer, written []string) {
	if len(written) <= 1 {
		for _, f := range written {
			fmt.Fprintf(w, "wrote %s\n", f)
		}
		return
	}
	folder, names := filepath.Dir(written[0]), []string{}
	for _, f := range written {
		if filepath.Dir(f) != folder {
			folder = ""
			break
		}
		names = append(names, filepath.Base(f))
	}
	if folder == "" {
		names = written
	} else {
		folder = " in " + folder
		names = afterFirst(names)
	}
	fmt.Fprintf(w, "wrote %d files%s: %s\n", len(written), folder, strings.Join(names, ", "))
}

// afterFirst names files that begin alike by the first of them and the ends of the
// others: a.geojson, .kml, -lines.csv.
func afterFirst(names []string) []string {
	stem := strings.TrimSuffix(names[0], filepath.Ext(names[0]))
	out := slices.Clone(names)
	for i, n := range names[1:] {
		rest, alike := strings.CutPrefix(n, stem)
		if !alike || rest == "" {
			return names
		}
		out[i+1] = rest
	}
	return out
}

// OnOneLine takes out what would break a line or steer the terminal: names and
// notes come from files.
func OnOneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return ' '
	}, s)
}

func Plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
