package intake

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
)

// csvRows reads a table of check values, without its header.
func csvRows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatal(name, err)
	}
	return rows[1:]
}

// rmcNoon dates the sentences that have no date of their own.
func rmcNoon(hhmmss string) string {
	body := "GPRMC," + hhmmss + ",A,0000.000,N,00000.000,E,0.0,0.0,120526,,,A"
	return "$" + body + "*" + checksum(body) + "\n"
}

// checksum is NMEA 0183's: the exclusive or of the characters.
func checksum(body string) string {
	sum := byte(0)
	for i := range len(body) {
		sum ^= body[i]
	}
	return fmt.Sprintf("%02X", sum)
}

// Sentences as published, with their sources in testdata/nmea/nmea_sentences.csv:
// positions to 1e-9 degrees, qualities and statuses as printed.
func TestPublishedSentences(t *testing.T) {
	seen := map[string]int{}
	for _, row := range csvRows(t, "../../testdata/nmea/nmea_sentences.csv") {
		sentence, kind, lat, lon, fix := row[0], row[1], row[5], row[6], row[7]
		if _, err := nmeaFields(sentence[1:]); err != nil {
			t.Errorf("%s: %v", sentence, err)
		}
		if kind != "GGA" && kind != "RMC" {
			continue
		}
		seen[kind]++
		text := sentence + "\n"
		if kind == "GGA" {
			text += rmcNoon(strings.Split(sentence, ",")[1])
		}
		log, problems, err := ReadGNSSLog(strings.NewReader(text), "log.nmea")
		if len(problems) > 0 {
			t.Errorf("%s: %v", sentence, &problems[0])
		}
		if fix == "0" || fix == "V" {
			if err == nil {
				t.Errorf("%s: a void fix became %+v", sentence, log.Fixes)
			}
			continue
		}
		if err != nil || len(log.Fixes) != 1 {
			t.Errorf("%s: %v", sentence, err)
			continue
		}
		got := log.Fixes[0]
		wantLat, _ := strconv.ParseFloat(lat, 64)
		wantLon, _ := strconv.ParseFloat(lon, 64)
		if math.Abs(got.Pos.LatDeg-wantLat) > 1e-9 || math.Abs(got.Pos.LonDeg-wantLon) > 1e-9 {
			t.Errorf("%s: %v", sentence, got.Pos)
		}
		if kind == "GGA" && strconv.Itoa(int(got.Fix)) != fix {
			t.Errorf("%s: quality %d", sentence, got.Fix)
		}
	}
	if seen["GGA"] < 6 || seen["RMC"] < 5 {
		t.Errorf("checked %v", seen)
	}
}

// The dates and times of day of published RMC sentences.
func TestSentenceTimes(t *testing.T) {
	for sentence, want := range map[string]string{
		"$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A":        "1994-03-23T12:35:19Z",
		"$GNRMC,001031.00,A,4404.13993,N,12118.86023,W,0.146,,100117,,,A*7B":          "2017-01-10T00:10:31Z",
		"$GPRMC,142754.0,A,4302.539570,N,07920.379823,W,0.0,,070617,0.0,E,A*3F":       "2017-06-07T14:27:54Z",
		"$GNRMC,102014.00,A,5550.6082,N,03732.2488,E,000.00000,092.9,300518,,,A,V*3B": "2018-05-30T10:20:14Z",
	} {
		log, _, err := ReadGNSSLog(strings.NewReader(sentence), "log.nmea")
		if err != nil || log.Fixes[0].Time.Format(time.RFC3339) != want {
			t.Errorf("%s: %v, %v", sentence, log.Fixes, err)
		}
	}
}

// Damaged and impossible sentences, each with why (testdata/nmea/nmea_negative.csv).
func TestBadSentences(t *testing.T) {
	good := "$GPRMC,123518,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*"
	good += checksum(good[1:len(good)-1]) + "\n"
	for _, row := range csvRows(t, "../../testdata/nmea/nmea_negative.csv") {
		log, problems, err := ReadGNSSLog(strings.NewReader(good+row[0]+"\n"), "log.nmea")
		if err != nil || len(log.Fixes) != 1 {
			t.Errorf("%s (%s): %d fixes, %v", row[0], row[1], len(log.Fixes), err)
		}
		if len(problems) != 1 || problems[0].Row != 2 || !problems[0].Warn || problems[0].Hint == "" {
			t.Errorf("%s (%s): problems %v", row[0], row[1], problems)
		}
	}
}

// GST gives standard deviations of latitude and longitude in metres: one sigma
// per axis is their root mean square.
func TestAccuracyFromGST(t *testing.T) {
	gst := "$GPGST,182141.000,15.5,15.3,7.2,21.8,0.9,0.5,0.8*54\n"
	gga := "GPGGA,182141.000,4404.14036,N,12118.85961,W,4,12,0.98,1113.0,M,-21.3,M,,"
	gga = "$" + gga + "*" + checksum(gga) + "\n"
	for _, text := range []string{gst + gga, gga + gst} {
		log, _, err := ReadGNSSLog(strings.NewReader(text+rmcNoon("182141.000")), "log.nmea")
		if err != nil || len(log.Fixes) != 1 {
			t.Fatal(err, log.Fixes)
		}
		if f := log.Fixes[0]; math.Abs(f.HAccM-math.Sqrt((0.81+0.25)/2)) > 1e-12 || f.Fix != trace.FixRTK || f.HDOP != 0.98 {
			t.Errorf("%+v", f)
		}
	}
}

// GGA has a time of day only: the day comes from RMC, before or after, also
// across midnight.
func TestMidnight(t *testing.T) {
	gga := func(hhmmss string) string {
		body := "GNGGA," + hhmmss + ",4404.14036,N,12118.85961,W,4,12,0.98,1113.0,M,-21.3,M,,"
		return "$" + body + "*" + checksum(body) + "\r\n"
	}
	rmc := func(hhmmss, date string) string {
		body := "GNRMC," + hhmmss + ",A,4404.14036,N,12118.85961,W,0.1,," + date + ",,,A"
		return "$" + body + "*" + checksum(body) + "\r\n"
	}
	text := gga("235958") + gga("235959") + gga("000000") + rmc("000000", "010326") + gga("000001") + gga("115959") + gga("235959") + gga("000000.50")
	log, problems, err := ReadGNSSLog(strings.NewReader(text), "log.nmea")
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	want := []string{"2026-02-28T23:59:58Z", "2026-02-28T23:59:59Z", "2026-03-01T00:00:00Z", "2026-03-01T00:00:01Z",
		"2026-03-01T11:59:59Z", "2026-03-01T23:59:59Z", "2026-03-02T00:00:00.5Z"}
	var got []string
	for _, f := range log.Fixes {
		got = append(got, f.Time.Format(time.RFC3339Nano))
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("got %v\nwant %v", got, want)
	}
}

// Binary messages and a recorder's stamps between sentences do no harm.
func TestSentencesAmongOtherBytes(t *testing.T) {
	s := "$GNRMC,102014.00,A,5550.6082,N,03732.2488,E,000.00000,092.9,300518,,,A,V*3B"
	text := "\xb5\x62\x01\x07\x5c\x00\x00$\n[10:20:14.031] " + s + "\r\n" + strings.Repeat("\xb5", 200_000) + "\n$PUBX,00*33\n$GPGSV,bad\n"
	log, problems, err := ReadGNSSLog(strings.NewReader(text), "log.nmea")
	if err != nil || len(log.Fixes) != 1 || len(problems) != 0 {
		t.Errorf("%v, %v, %v", log.Fixes, problems, err)
	}
}

const track = `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="hand" xmlns="http://www.topografix.com/GPX/1/1">
<wpt lat="1" lon="2"><time>2026-05-12T07:00:00Z</time></wpt>
<trk><trkseg>
<trkpt lat="44.10340" lon="-71.50230"><ele>212.4</ele><time>2026-05-12T07:31:08Z</time><fix>dgps</fix><hdop>0.9</hdop></trkpt>
<trkpt lat="44.10342" lon="-71.50226"><time>2026-05-12T07:31:09Z</time></trkpt>
<trkpt lat="44.10343" lon="-71.50225"/>
<trkpt lat="144.1" lon="-71.50225"><time>2026-05-12T07:31:09Z</time></trkpt>
<trkpt lat="44.1" lon="-71.50225"><time>2026-05-12T07:31:09Z</time><fix>none</fix></trkpt>
</trkseg><trkseg>
<trkpt lat="44.10345" lon="-71.50221"><time>2026-05-12T07:31:10Z</time><fix>3d</fix></trkpt>
</trkseg></trk></gpx>
`

func TestGPX(t *testing.T) {
	log, problems, err := ReadGNSSLog(strings.NewReader("\n"+track), "walk.gpx")
	if err != nil || len(log.Fixes) != 3 {
		t.Fatal(err, log.Fixes)
	}
	if f := log.Fixes[0]; f.Pos != (geo.LonLat{LonDeg: -71.5023, LatDeg: 44.1034}) || f.Fix != trace.FixDifferential || f.HDOP != 0.9 || trace.Known(f.HAccM) {
		t.Errorf("%+v", f)
	}
	if len(problems) != 2 || problems[0].Row != 8 || problems[1].Row != 9 {
		t.Errorf("%+v", problems)
	}
	// A new segment is an interruption, however short.
	if _, why := log.At(log.Fixes[1].Time.Add(500 * time.Millisecond)); !strings.Contains(why, "gap of 1.0 s") {
		t.Errorf("%q", why)
	}
}

func TestNoGNSSLog(t *testing.T) {
	gga := "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n"
	for name, tt := range map[string]struct{ text, want string }{
		"empty":        {" \n", "is empty"},
		"a table":      {"lat,lon\n1,2\n", "neither NMEA 0183 sentences nor GPX"},
		"no date":      {gga, "no valid RMC sentence"},
		"other XML":    {"<kml><Placemark/></kml>", "neither NMEA 0183 sentences nor GPX"},
		"no times":     {`<gpx><trk><trkseg><trkpt lat="1" lon="2"/></trkseg></trk></gpx>`, "no position with a time"},
		"damaged":      {"\n" + strings.Replace(gga, "*47", "*00", 1), "the first that was left out: the checksum is wrong"},
		"cut off":      {track[:600], "cannot be read"},
		"endless text": {"<gpx>" + strings.Repeat("x", 3<<20), "too much text without markup"},
	} {
		_, _, err := ReadGNSSLog(strings.NewReader(tt.text), "log")
		var p *trace.Problem
		if !errors.As(err, &p) || !strings.Contains(p.Cause, tt.want) || p.Hint == "" || p.File != "log" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// logOf is a log of fixes a second apart, walking north-east, with one left out.
func logOf(n, without int) GNSSLog {
	log := GNSSLog{Name: "walk.nmea"}
	start := time.Date(2026, 5, 12, 7, 31, 0, 0, time.UTC)
	for i := range n {
		if i == without || i == without+1 || i == without+2 {
			continue
		}
		log.Fixes = append(log.Fixes, GNSSFix{Time: start.Add(time.Duration(i) * time.Second), Fix: trace.FixRTK, HDOP: 0.8, HAccM: 0.01,
			Pos: geo.LonLat{LonDeg: -71.5 + float64(i)*1e-5, LatDeg: 44 + float64(i)*1e-5}})
	}
	return log
}

func TestInterpolation(t *testing.T) {
	log := logOf(30, 20)
	at := func(s float64) time.Time { return log.Fixes[0].Time.Add(time.Duration(s * 1e9)) }
	f, why := log.At(at(3.25))
	if why != "" || math.Abs(f.Pos.LatDeg-44.0000325) > 1e-12 || math.Abs(f.Pos.LonDeg+71.4999675) > 1e-12 || f.Fix != trace.FixRTK || f.HDOP != 0.8 {
		t.Errorf("%+v %q", f, why)
	}
	// Half of 0.5 m/s² times 0.25 s times 0.75 s, and the stated centimetre.
	if want := math.Hypot(0.01, 0.25*0.25*0.75); math.Abs(f.HAccM-want) > 1e-12 {
		t.Errorf("accuracy %g, want %g", f.HAccM, want)
	}
	if f, why = log.At(at(7)); why != "" || f != log.Fixes[7] {
		t.Errorf("at a fix: %+v %q", f, why)
	}
	for s, want := range map[float64]string{
		20.5:      "has a gap of 4.0 s, from 2026-05-12 07:31:19 UTC to 2026-05-12 07:31:23 UTC",
		-90:       "begins 1 min 30 s later, at 2026-05-12 07:31:00 UTC",
		7229:      "ended 2 h 0 min before, at 2026-05-12 07:31:29 UTC",
		86400 * 9: "ended 8 days before",
	} {
		if _, why := log.At(at(s)); !strings.Contains(why, want) {
			t.Errorf("at %g s: %q", s, why)
		}
	}
	// The worse quality of both fixes holds, and an unknown accuracy stays so.
	log.Fixes[4].Fix, log.Fixes[4].HAccM = trace.FixFloat, trace.Unknown
	if f, _ := log.At(at(3.5)); f.Fix != trace.FixFloat || trace.Known(f.HAccM) {
		t.Errorf("%+v", f)
	}
	log.Fixes[4].Fix = trace.FixDeadReckoning
	if f, _ := log.At(at(4.5)); f.Fix != trace.FixDeadReckoning {
		t.Errorf("%+v", f)
	}
	// A standing antenna is as good between its fixes as at them.
	log.Fixes[11].Pos = log.Fixes[10].Pos
	if f, _ := log.At(at(10.5)); f.HAccM != 0.01 {
		t.Errorf("standing: %g", f.HAccM)
	}
	// Across the antimeridian.
	log.Fixes[15].Pos.LonDeg, log.Fixes[16].Pos.LonDeg = 179.999995, -179.999995
	if f, _ := log.At(at(15.75)); math.Abs(f.Pos.LonDeg+179.9999975) > 1e-9 {
		t.Errorf("antimeridian: %.9f", f.Pos.LonDeg)
	}
}

func FuzzReadGNSSLog(f *testing.F) {
	text, err := os.ReadFile("../../testdata/nmea/nmea_sentences.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(text))
	f.Add(track)
	f.Fuzz(func(t *testing.T, text string) {
		log, problems, err := ReadGNSSLog(strings.NewReader(text), "log")
		for _, p := range problems {
			if !p.Warn || p.Cause == "" || p.Hint == "" {
				t.Fatalf("%+v", p)
			}
		}
		if err != nil {
			var p *trace.Problem
			if !errors.As(err, &p) || p.Hint == "" {
				t.Fatal(err)
			}
			return
		}
		for i, fix := range log.Fixes {
			if !fix.Pos.Valid() || fix.Fix == trace.FixNone || fix.Time.IsZero() || i > 0 && fix.Time.Before(log.Fixes[i-1].Time) {
				t.Fatalf("fix %d: %+v", i, fix)
			}
			if got, why := log.At(fix.Time); why != "" || !got.Time.Equal(fix.Time) {
				t.Fatalf("at its own time: %+v %s", got, why)
			}
		}
	})
}
