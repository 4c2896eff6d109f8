package intake

import (
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
)

// A column that is not known, and is nearly one of ours that the file has not, is told
// with what the map does without it; one that is another thing is not.
func TestMisnamedColumns(t *testing.T) {
	for _, c := range []struct{ header, means, cost string }{
		{"depht_m", "depth_m", "no depths were read"},
		{"dept_m", "depth_m", "no depths were read"},
		{"depth", "depth_cm, depth_ft, depth_in, depth_m", "no depths were read"},
		{"Depth (ft)", "depth_ft", "no depths were read"},
		{"Depth [in]", "depth_in", "no depths were read"},
		{"Tiefe", "depth_cm, depth_ft, depth_in, depth_m", "no depths were read"},
		{"profundidad_m", "depth_m", "no depths were read"},
		{"cover_m", "depth_m", "no depths were read"},
		{"Depth of cover (ft)", "depth_ft", "no depths were read"},
		{"dpth", "depth_cm, depth_ft, depth_in, depth_m", "no depths were read"},
		{"deph", "depth_cm, depth_ft, depth_in, depth_m", "no depths were read"},
		{"Detph", "depth_cm, depth_ft, depth_in, depth_m", "no depths were read"},
		{"Deph (ft)", "depth_ft", "no depths were read"},
		{"profundiad", "depth_cm, depth_ft, depth_in, depth_m", "no depths were read"},
		{"Line name", "line", "taken as one line"},
		{"lift", "lift_ft, lift_in, lift_m", "points of the line"},
		{"expsoed", "exposed", "taken as traced ones"},
		{"Current (mA)", "current_ma", "the current could not be checked"},
		{"h_acc", "h_acc_cm, h_acc_ft, h_acc_m", "how good the positions are"},
		{"Fix quality", "fix", "how good the positions are"},
		{"null_ofset_m", "null_offset_m", "peak and null"},
	} {
		table := readText(t, "lat,lon,\""+c.header+"\"\n44.1,-71.5,1\n44.2,-71.5,\n", TableOptions{})
		if len(table.Problems) != 1 || table.Columns[2].Filled != 1 {
			t.Errorf("%s: %v, %d filled", c.header, table.Problems, table.Columns[2].Filled)
			continue
		}
		p := table.Problems[0]
		if !strings.Contains(words.Remark(geo.Metric, p.Check), "(did you mean "+c.means+"?)") || !strings.Contains(words.Remark(geo.Metric, p.Check), c.cost) || p.Row != 1 || p.Column != 10 {
			t.Errorf("%s: %+v", c.header, p)
		}
	}
	mm := readText(t, "lat,lon,depth_mm\n44.1,-71.5,900\n", TableOptions{}).Problems[0]
	if !strings.Contains(words.Remark(geo.Metric, mm.Check), "in a unit that is not read, so no depths were read") || !strings.Contains(mm.Hint, "convert the figures and name it depth_cm,") {
		t.Errorf("%+v", mm)
	}
	for header, text := range map[string]string{
		"depth error":     "lat,lon,depth error\n44.1,-71.5,1\n",
		"Dept":            "lat,lon,Dept\n44.1,-71.5,water\n",
		"depot":           "lat,lon,depot\n44.1,-71.5,3\n",
		"deph error":      "lat,lon,deph error\n44.1,-71.5,1\n",
		"line length":     "lat,lon,line length\n44.1,-71.5,1\n",
		"date":            "lat,lon,date\n44.1,-71.5,1\n",
		"elev":            "lat,lon,elev\n44.1,-71.5,1\n", // the line is the same without
		"depth, empty":    "lat,lon,depth\n44.1,-71.5,\n44.1,-71.5,\n",
		"depth beside it": "lat,lon,depth,depth_m\n44.1,-71.5,3,1\n",
		"signal strength": "lat,lon,signal_low,signal strength\n44.1,-71.5,3,1\n",
	} {
		for _, p := range readText(t, text, TableOptions{}).Problems {
			if p.Check != nil {
				t.Errorf("%s: %s", header, p.Check)
			}
		}
	}
}

// Values that cannot be read are an item to check where they are the whole column or a
// good part of it, and not where somebody wrote a mark for none.
func TestLostValues(t *testing.T) {
	head, row := "lat,lon,depth_m,note\n", "44.1,-71.5,"
	rows := func(n int, depth string) string { return strings.Repeat(row+depth+",\n", n) }
	for _, c := range []struct{ name, text, want string }{
		{"all", rows(4, "1.0m"), `not one value of the column "depth_m" could be read, so no depths were read`},
		{"the only one", rows(1, "x") + rows(9, ""), "not one value"},
		{"some", rows(40, "1.0") + rows(3, "1.o"), `3 of 43 values of the column "depth_m" could not be read`},
		{"few", rows(40, "1.0") + rows(2, "1.o"), ""},
		{"few of many", rows(100, "1.0") + rows(5, "1.o"), ""},
		{"marks", rows(4, "-") + rows(4, "N/A"), ""},
		{"all but marks", rows(4, "-") + rows(4, "1m"), "not one value"},
		{"too many to tell each", strings.Repeat(row+"1,\n", 3) + strings.Repeat("44.1,-71.5,m,\n", maxWarnings+9), "1009 of 1012 values"},
		{"none", rows(5, "1.0"), ""},
	} {
		var checks []string
		for _, p := range readText(t, head+c.text, TableOptions{}).Problems {
			if p.Check != nil {
				checks = append(checks, words.Remark(geo.Metric, p.Check))
			}
		}
		if c.want == "" && len(checks) != 0 || c.want != "" && (len(checks) != 1 || !strings.Contains(checks[0], c.want)) {
			t.Errorf("%s: %q", c.name, checks)
		}
	}
	// A column of which nothing can be told one by one, for another one took the room.
	text := "lat,lon,hdop,depth_m\n" + strings.Repeat("44.1,-71.5,x,1\n", maxWarnings) + strings.Repeat("44.1,-71.5,1,x\n", maxWarnings)
	told := 0
	for _, p := range readText(t, text, TableOptions{}).Problems {
		if p.Check != nil {
			told++
		}
	}
	if told != 2 {
		t.Errorf("%d columns are told", told)
	}
}

// A column that is likely meant for what is missing of the position is named.
func TestMisnamedPositions(t *testing.T) {
	for header, want := range map[string]string{
		"latt,lon":                 `there is no column lat; the file has "latt", "lon"; did you mean this one? Then rename it, or write in the job file, under [columns], lat = "latt"`,
		"Latitude,lon":             `lat = "Latitude"`,
		"lat,longitud e":           `lon = "longitud e"`,
		"lat,lonn":                 `lon = "lonn"`,
		"est_m,north_m":            `east_m = "est_m"`,
		"longitude,latitude":       `did you mean these? Then write in the job file, under [columns], lat = "latitude" and lon = "longitude"`,
		"latt,lonn":                `lat = "latt" and lon = "lonn"`,
		"place,lon":                "name the position columns in the job file",
		"alt,lon":                  "name the position columns in the job file",
		"latt,place":               "name the position columns in the job file",
		"depth_m,current_ma,point": "name the position columns in the job file",
	} {
		_, err := ReadTable(strings.NewReader(header+"\n1,2\n"), "a.csv", 0, TableOptions{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, not %s", header, err, want)
		}
	}
}
