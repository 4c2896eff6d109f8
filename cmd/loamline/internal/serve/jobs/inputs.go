package jobs

import (
	"loamline.example/export/member"
	"loamline.example/trace"
)

// inputs lists the files of a job by their sums.
func (j *Job) inputs() []member.Input {
	out := []member.Input{}
	for _, f := range j.Files {
		if f.Kind != KindJob { // its settings are a run's own
			out = append(out, member.Input{Name: f.Name, SHA256: f.SHA256})
		}
	}
	return out
}

// meanings lists what each column of a job's tables is taken for, by the name
// of the file and the header.
func (j *Job) meanings() map[string]map[string]string {
	out := map[string]map[string]string{}
	for _, f := range j.Files {
		if f.Table == nil {
			continue
		}
		m := map[string]string{}
		for _, c := range f.Table.Columns {
			if c.Name != "" {
				m[c.Header] = c.Name
			}
		}
		out[f.Name] = m
	}
	return out
}

// unaltered makes sure that the files that were read are those that were handed
// in.
func (j *Job) unaltered(read []trace.Input) error {
	sums := map[string]string{}
	for _, in := range read {
		sums[in.Name] = in.SHA256
	}
	for _, f := range j.Files {
		if got := sums[f.Name]; got != "" && f.Kind != KindJob && got != f.SHA256 {
			return &trace.Problem{File: f.Name, Cause: "the stored file is not the one that was handed in: it was altered or truncated on the disk",
				Hint: "upload the original again, and have whoever runs this server look at its disk"}
		}
	}
	return nil
}
