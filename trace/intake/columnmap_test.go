package intake

import (
	"context"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
)

// A header in the column map that no table has is told at its place in the job file;
// one that another table of the job has is in order.
func TestColumnMapThatNoTableMeets(t *testing.T) {
	job := textFile("job.toml", "ticket = \"T\"\n[columns]\ndepth_m = \"Depth (m)\"\n")
	own, theirs := "lat,lon,depth_m\n44.1,-71.5,1\n", "lat,lon,Depth (m)\n44.1,-71.5,1\n"
	load := func(tables ...string) (trace.Source, error) {
		opt := LoadOptions{Job: trace.DefaultJob(), JobInput: &job}
		opt.Job.Columns = map[string]string{"depth_m": "Depth (m)"}
		for i, text := range tables {
			opt.Tables = append(opt.Tables, textFile(string(rune('a'+i))+".csv", text))
		}
		return Load(context.Background(), opt)
	}
	src, err := load(own)
	if err != nil || len(src.Problems) != 1 {
		t.Fatal(err, src.Problems)
	}
	if got := src.Problems[0].Error(); !strings.HasPrefix(got, "job.toml:3:1: columns.depth_m: no table has a column with this header") || src.Problems[0].Check != nil {
		t.Error(got)
	}
	if src, err = load(own, theirs); err != nil || len(src.Problems) != 0 {
		t.Error(err, src.Problems)
	}
	src, err = load("lat,lon,depth_m,Depth(m)\n44.1,-71.5,1,2\n")
	if err != nil || len(src.Problems) != 2 || !strings.Contains(src.Problems[0].Hint, `"Depth(m)"`) || !strings.Contains(words.Remark(geo.Metric, src.Problems[0].Check), `the column "Depth(m)" was not`) {
		t.Error(err, src.Problems)
	}
	_, err = load("lat,lon,Depth(m)\n44.1,-71.5,1\n")
	if err == nil || !strings.Contains(err.Error(), `the nearest header is "Depth(m)"; it is named at job.toml:3:1`) {
		t.Error(err)
	}
}
