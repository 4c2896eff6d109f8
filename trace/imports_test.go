package trace_test

import (
	"errors"
	"go/build"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// mayImport says which of the product's other packages a package may import, its
// tests aside. One without a row is bound by the row of the nearest folder above
// it, in export by what formats may. A name with /... stands for a folder and all
// below it.
var mayImport = map[string][]string{
	"geo":                      {},
	"trace":                    {"geo"},
	"trace/finding":            {"geo", "trace"},
	"trace/advice":             {"trace", "trace/finding"},
	"trace/closelines":         {"geo", "trace", "trace/finding"},
	"trace/framedoubt":         {"geo", "trace", "trace/remark"},
	"trace/setting":            {"geo", "trace"},
	"trace/walkorder":          {"geo", "trace"},
	"trace/branch":             {"geo", "trace"},
	"trace/receiver":           {"geo"},
	"trace/remark":             {"geo", "trace", "trace/finding"},
	"trace/leastsquares":       {"geo"},
	"trace/ranked":             {},
	"trace/guard/passdepth":    {},
	"trace/setups":             {"trace"},
	"trace/stretches":          {"trace/remark"},
	"trace/guard/depthlevel":   {"trace/ranked"},
	"trace/guard/claims":       {"geo", "trace", "trace/finding"},
	"trace/guard/cutcorner":    {"geo", "trace/ranked"},
	"trace/guard/weave":        {"geo"},
	"trace/guard/inarow":       {},
	"trace/guard/outandback":   {"geo", "trace/guard/sidestep"},
	"trace/guard/paststride":   {"geo"},
	"trace/bleed/besidejump":   {"trace", "trace/ranked", "trace/bleed", "trace/finding", "trace/remark"},
	"trace/guard/sidestep":     {"geo", "trace/leastsquares"},
	"trace/guard/sameline":     {"trace/ranked"},
	"trace/guard/session":      {"geo", "trace", "trace/ranked", "trace/guard/sidestep"},
	"trace/fit":                {"geo", "trace", "trace/ranked", "trace/receiver", "trace/remark", "trace/walkorder"},
	"trace/bleed":              {"geo", "trace", "trace/ranked", "trace/setups", "trace/walkorder", "trace/receiver", "trace/remark", "trace/leastsquares"},
	"trace/siteplan":           {"geo", "trace", "trace/siteplan/..."},
	"trace/siteplan/pdfobject": {},
	"trace/siteplan/pdfpage":   {},
	"trace/intake":             {"geo", "trace", "trace/setting", "trace/remark", "trace/siteplan", "trace/spelling"},
	"trace/guard":              {"geo", "trace", "trace/ranked", "trace/branch", "trace/finding", "trace/guard/claims", "trace/guard/passdepth", "trace/setups", "trace/walkorder", "trace/receiver", "trace/remark", "trace/guard/session", "trace/guard/sameline", "trace/guard/sidestep", "trace/guard/depthlevel", "trace/guard/cutcorner", "trace/guard/inarow", "trace/guard/outandback", "trace/guard/paststride", "trace/guard/weave"},
	"trace/traverse":           {"geo", "trace", "trace/ranked", "trace/walkorder"},
	"trace/pinned":             {"geo", "trace"},
	"trace/rounding":           {"geo", "trace", "trace/receiver"},
	"trace/doubt/unheard":      {"geo", "trace", "trace/ranked", "trace/doubt", "trace/clean", "trace/finding", "trace/remark", "trace/walkorder"},
	"trace/doubt/namechange":   {"geo", "trace", "trace/ranked", "trace/doubt", "trace/finding", "trace/remark"},
	"trace/doubt/swapped":      {"geo", "trace", "trace/ranked", "trace/finding", "trace/remark"},
	"trace/doubt/setupchange":  {"geo", "trace", "trace/finding", "trace/leastsquares", "trace/remark", "trace/setups"},
	"trace/returnleg":          {"geo", "trace", "trace/ranked", "trace/receiver"},
	"trace/transmitter":        {"geo", "trace", "trace/ranked", "trace/receiver", "trace/remark"},
	"trace/doubt/onlead":       {"geo", "trace", "trace/ranked", "trace/finding", "trace/remark"},
	"trace/doubt":              {"trace", "trace/finding"},
	"trace/doubt/antennapair":  {"trace", "trace/ranked", "trace/receiver", "trace/remark"},
	"trace/doubt/leapaside":    {"geo", "trace", "trace/finding", "trace/remark", "trace/guard/sidestep", "trace/walkorder"},
	"trace/doubt/filled":       {"geo", "trace", "trace/ranked", "trace/doubt", "trace/finding", "trace/remark", "trace/rounding"},
	"trace/doubt/evenly":       {"geo", "trace", "trace/ranked", "trace/doubt", "trace/finding", "trace/remark", "trace/rounding", "trace/walkorder"},
	"trace/doubt/linename":     {"geo", "trace", "trace/remark", "trace/spelling"},
	"trace/spelling":           {},
	"trace/doubt/crosscheck":   {"geo", "trace", "trace/remark", "trace/setting", "trace/setups"},
	"trace/clean":              {"geo", "trace", "trace/ranked", "trace/walkorder", "trace/receiver", "trace/bleed", "trace/remark"},
	"trace/placing":            {"geo", "trace", "trace/clean", "trace/ranked", "trace/remark"},
	"trace/records":            {"geo", "trace", "trace/ranked", "trace/finding", "trace/remark"},
	"trace/zones":              {"geo", "trace", "trace/finding", "trace/receiver", "trace/remark"},
	"trace/compare":            {"geo", "trace"},
	"trace/locate": {"geo", "trace", "trace/finding", "trace/framedoubt", "trace/stretches", "trace/advice", "trace/branch", "trace/setting", "trace/walkorder", "trace/receiver", "trace/rounding", "trace/doubt/filled", "trace/doubt/evenly", "trace/doubt/namechange", "trace/doubt/unheard", "trace/doubt/setupchange", "trace/doubt/swapped", "trace/doubt/leapaside", "trace/doubt/antennapair", "trace/doubt/onlead", "trace/doubt/crosscheck", "trace/transmitter", "trace/clean", "trace/pinned", "trace/ranked", "trace/placing", "trace/records", "trace/zones", "trace/fit", "trace/bleed",
		"trace/guard", "trace/traverse", "trace/siteplan", "trace/remark", "trace/doubt/linename", "trace/bleed/besidejump", "trace/returnleg"},
	"trace/tracetest":            {"geo"}, // the judge shares no formula with the judged
	"trace/tracetest/cases":      {"geo"},
	"trace/tracetest/spent":      {},
	"trace/tracetest/fixture":    {"geo", "trace", "trace/finding"},
	"trace/tracetest/study":      {},
	"trace/tracetest/otherworld": {"geo", "trace/tracetest"},
	"trace/tracetest/measure":    {"geo", "trace", "trace/finding", "trace/intake", "trace/locate", "trace/tracetest", "trace/tracetest/cases", "trace/tracetest/otherworld"},
	"export":                     {"geo", "trace", "export/..."},
	"export/schema":              {},
	"export/literal":             {"trace"},
	"export/style":               {"trace"},
	"export/tongue":              {"geo", "trace", "trace/finding"},
	"export/words":               {"geo", "trace", "trace/advice", "trace/closelines", "trace/finding", "trace/remark", "export/literal", "export/style", "export/words/limit", "export/words/nofigure"},
	"export/words/beneath":       {"geo", "trace"},
	"export/words/limit":         {"geo"},
	"export/words/nofigure":      {},
	"export/station":             {"geo", "trace"},
	"export/stakeout":            {"geo", "trace", "trace/finding", "trace/setting", "export/station", "export/words"},
	"export/place":               {"geo", "trace", "trace/setting", "export/literal", "export/station"},
	"export/layer":               {"geo", "trace", "trace/finding", "export/literal", "export/words", "export/station", "export/place"},
	"export/member":              {"geo", "trace", "trace/advice", "export/schema", "export/literal", "export/style", "export/words", "export/layer"},
	"export/featuretable":        {"geo", "trace", "export/place", "export/layer"},
	"export/archive":             {"geo", "trace", "trace/ranked", "export/literal", "export/style", "export/words", "export/place", "export/member", "export/geojson"},
	"export/gpkg":                append([]string{"export/internal/unfinished"}, formatsMay...),
	"export/table":               append([]string{"trace/intake"}, formatsMay...), // what it writes, intake reads
	"export/pdf":                 append([]string{"export/internal/..."}, formatsMay...),
	"export/internal":            {"geo", "trace", "trace/finding", "trace/remark", "export/place", "export/internal/..."},
	"export/webtest":             {},
	"cmd": {"geo", "trace", "trace/finding", "trace/advice", "trace/setting", "trace/intake", "trace/spelling", "trace/locate", "trace/compare", "trace/receiver", "trace/tracetest", "trace/tracetest/otherworld", "trace/tracetest/measure",
		"export/...", "export", "cmd/..."},
	"cmd/loamline/internal/summary": {"geo", "trace", "trace/finding", "trace/advice", "trace/remark", "trace/setting", "export/style", "export/words"},
	serveRoom + "door":              {},
	serveRoom + "audit":             {},
	serveRoom + "certificate":       {},
	serveRoom + "settingsform":      {serveRoom + "jobfile", serveRoom + "problem"},
	serveRoom + "disk":              {"trace/intake"},
	serveRoom + "problem":           {"trace", serveRoom + "disk"},
	serveRoom + "whereabouts":       {"geo"},
	serveRoom + "tables":            {"geo", "trace", "trace/intake", serveRoom + "disk", serveRoom + "problem", serveRoom + "whereabouts"},
	serveRoom + "jobfile":           {"geo", "trace", "trace/intake", serveRoom + "problem", serveRoom + "tables"},
	serveRoom + "outputs":           {"trace", "trace/intake", "export", "export/geojson"},
	serveRoom + "report": {"geo", "trace", "trace/finding", "trace/compare", "export/...", "cmd/loamline/internal/overlay",
		serveRoom + "problem", serveRoom + "whereabouts", serveRoom + "jobfile", serveRoom + "outputs"},
	serveRoom + "jobs": {"geo", "trace", "trace/intake", "trace/locate", "export", "export/...",
		serveRoom + "disk", serveRoom + "problem", serveRoom + "whereabouts", serveRoom + "tables", serveRoom + "jobfile", serveRoom + "outputs", serveRoom + "report"},
	"examples":    {"geo", "trace/tracetest"},
	".ci/figures": {"trace/tracetest"}, // measures the program from outside
}

// serveRoom is where the rooms of the server are; none of them imports the server.
const serveRoom = "cmd/loamline/internal/serve/"

// formatsMay is what the formats share; none imports another.
var formatsMay = []string{"geo", "trace", "trace/finding", "trace/advice", "trace/closelines", "trace/setting", "export/schema", "export/literal", "export/style", "export/words", "export/words/beneath", "export/tongue", "export/station",
	"export/stakeout", "export/place", "export/layer", "export/member", "export/featuretable", "export/archive"}

func TestWhoImportsWhom(t *testing.T) {
	everyFile := build.Default
	everyFile.UseAllFiles = true
	found := map[string]bool{}
	err := filepath.WalkDir("..", func(dir string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if d.Name() == "testdata" || d.Name() == ".git" {
			return fs.SkipDir
		}
		p, err := everyFile.ImportDir(dir, 0)
		var none *build.NoGoError
		if errors.As(err, &none) {
			return nil
		} else if err != nil {
			return err
		}
		from := strings.TrimPrefix(filepath.ToSlash(dir), "../")
		row := from
		for mayImport[row] == nil && strings.Contains(row, "/") {
			row = row[:strings.LastIndexByte(row, '/')]
		}
		found[row] = true
		may := mayImport[row]
		if row == "export" && row != from {
			row, may = "of formats", formatsMay
		}
		for _, path := range p.Imports {
			if to, ours := strings.CutPrefix(path, "loamline.example/"); ours && !slices.ContainsFunc(may, func(name string) bool {
				folder, below := strings.CutSuffix(name, "/...")
				return to == folder || below && strings.HasPrefix(to, folder+"/")
			}) {
				t.Errorf("%s imports %s, which the row %q of mayImport does not allow", from, to, row)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for row := range mayImport {
		if !found[row] {
			t.Errorf("mayImport has a row for %s, where there is no package", row)
		}
	}
}
