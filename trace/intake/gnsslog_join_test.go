package intake

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

func textFile(name, text string) File {
	return File{Name: name, Open: func() (io.ReadCloser, error) { return io.NopCloser(strings.NewReader(text)), nil }}
}

// nmeaWalk is a log of an RTK receiver, one fix a second from 07:31:00, with a
// hole from 07:31:20 to 07:31:30.
func nmeaWalk() string {
	var b strings.Builder
	for i := range 60 {
		if i > 20 && i < 30 {
			continue
		}
		for _, body := range []string{
			fmt.Sprintf("GNGGA,0731%02d.00,4406.%05d,N,07130.%05d,W,4,17,0.6,212.1,M,-17.2,M,1.0,0123", i, 200+i, 10000-i),
			fmt.Sprintf("GNGST,0731%02d.00,1.0,,,,0.010,0.010,0.020", i),
			fmt.Sprintf("GNRMC,0731%02d.00,A,4406.%05d,N,07130.%05d,W,1.0,45.0,120526,,,R", i, 200+i, 10000-i),
		} {
			b.WriteString("$" + body + "*" + checksum(body) + "\r\n")
		}
	}
	return b.String()
}

func TestJoinByTime(t *testing.T) {
	table := "point,time,depth_m,lat,lon\n" +
		"1,2026-05-12T07:30:50Z,0.9,,\n" +
		"2,2026-05-12T07:31:00.5Z,0.9,,\n" +
		"3,2026-05-12T07:31:20Z,0.9,,\n" +
		"4,,0.9,,\n" +
		"5,2026-05-12T07:31:10Z,0.9,44.2,-71.2\n" +
		"6,2026-05-12T08:31:00Z,0.9,,\n"
	job := trace.DefaultJob()
	job.GNSSOffsetS = 5
	src, err := Load(context.Background(), LoadOptions{Job: job, Tables: []File{textFile("walk.csv", table)}, GNSSLogs: []File{textFile("walk.nmea", nmeaWalk())}})
	if err != nil {
		t.Fatal(err)
	}
	if len(src.Inputs) != 2 || src.Inputs[1].Name != "walk.nmea" || len(src.Inputs[1].SHA256) != 64 {
		t.Errorf("inputs %v", src.Inputs)
	}
	want := []string{"begins 5.0 s later", "", "gap of 10.0 s", "no time by which", "", "ended 59 min 6 s before"}
	for i, r := range src.Readings {
		if want[i] == "" {
			if r.Status != "" || !trace.Known(r.Geographic.LatDeg) {
				t.Errorf("reading %s: %+v", r.Point, r)
			}
			continue
		}
		if r.Status != trace.StatusSetAside || !strings.Contains(words.Remark(geo.Metric, r.Reason), want[i]) {
			t.Errorf("reading %s: %s %q", r.Point, r.Status, r.Reason)
		}
	}
	// 07:31:05.5: 4406.002055 N, 07130.099945 W.
	r := src.Readings[1]
	if g := r.Geographic; math.Abs(g.LatDeg-(44+6.002055/60)) > 1e-9 || math.Abs(g.LonDeg+(71+30.099945/60)) > 1e-9 {
		t.Errorf("placed at %+v", r.Geographic)
	}
	if r.Fix != trace.FixRTK || r.HDOP != 0.6 || r.HAccM < 0.01 || r.HAccM > 0.08 {
		t.Errorf("quality %+v", r)
	}
	if !r.ByClock {
		t.Error("a place by the clock does not say so")
	}
	if r := src.Readings[4]; r.ByClock || r.Geographic.LatDeg != 44.2 || r.Fix != trace.FixUnknown {
		t.Errorf("a position of its own was replaced: %+v", r)
	}
	last := src.Problems[len(src.Problems)-1]
	if !last.Warn || !strings.Contains(last.Cause, "1 readings have their position from the GNSS log by time, with a clock offset of 5 s; 4 could not be placed") {
		t.Errorf("%v", &last)
	}
}

func TestJoinRefused(t *testing.T) {
	timesOnly := "point,time\n1,2026-05-12T03:31:05Z\n2,2026-05-12T03:31:09Z\n"
	for name, tt := range map[string]struct {
		table, crs, want string
	}{
		"another hour": {timesOnly, "EPSG:4326", "has a position for none of the 2 readings, 2026-05-12 03:31:05 UTC to 2026-05-12 03:31:09 UTC; set gnss_offset_s"},
		"a grid":       {timesOnly, "EPSG:32618", "the job's crs is EPSG:32618, but a GNSS log has longitude and latitude"},
	} {
		job := trace.DefaultJob()
		job.CRS = tt.crs
		_, err := Load(context.Background(), LoadOptions{Job: job, Tables: []File{textFile("walk.csv", tt.table)}, GNSSLogs: []File{textFile("walk.nmea", nmeaWalk())}})
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Two receivers' logs are not mixed: the second one helps where the first has a
// hole.
func TestSecondLog(t *testing.T) {
	other := `<gpx><trk><trkseg>
<trkpt lat="44.5" lon="-71.5"><time>2026-05-12T07:31:24Z</time></trkpt>
<trkpt lat="44.5" lon="-71.5"><time>2026-05-12T07:31:26Z</time></trkpt></trkseg></trk></gpx>`
	table := "time\n2026-05-12T07:31:24.5Z\n2026-05-12T07:31:10Z\n"
	src, err := Load(context.Background(), LoadOptions{Job: trace.DefaultJob(), Tables: []File{textFile("a.csv", table)},
		GNSSLogs: []File{textFile("a.nmea", nmeaWalk()), textFile("b.gpx", other)}})
	if err != nil {
		t.Fatal(err)
	}
	if src.Readings[0].Geographic.LatDeg != 44.5 || src.Readings[1].Geographic.LatDeg > 44.2 {
		t.Errorf("%+v", src.Readings)
	}
	if src.Readings[1].Time.Sub(src.Readings[0].Time) > -10*time.Second {
		t.Error("the readings' own times were changed")
	}
}

// A log with a fix every five seconds covers the readings and places none of them:
// that is said, and no clock offset is advised.
func TestSparseLog(t *testing.T) {
	log := "<gpx><trk><trkseg>\n"
	table := "time\n"
	for i := range 12 {
		log += fmt.Sprintf("<trkpt lat=\"44.5\" lon=\"-71.5\"><time>2026-05-12T07:31:%02dZ</time></trkpt>\n", 5*i)
		table += fmt.Sprintf("2026-05-12T07:31:%02dZ\n", min(5*i+2, 54))
	}
	_, err := Load(context.Background(), LoadOptions{Job: trace.DefaultJob(), Tables: []File{textFile("a.csv", table)}, GNSSLogs: []File{textFile("a.gpx", log+"</trkseg></trk></gpx>")}})
	if err == nil || !strings.Contains(err.Error(), "too far apart") || strings.Contains(err.Error(), "gnss_offset_s") {
		t.Errorf("%v", err)
	}
}
