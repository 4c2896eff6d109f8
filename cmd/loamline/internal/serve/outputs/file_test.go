package outputs

import (
	"testing"

	"loamline.example/trace"
)

// A run lists every file that it can give, and says what each is.
func TestEveryOutputIsListedInWords(t *testing.T) {
	outs := All(&trace.Sheet{Name: "walk"}, t.TempDir())
	if len(outs) < 10 {
		t.Fatalf("%d outputs", len(outs))
	}
	for _, o := range outs {
		if o.File.Shows == "" {
			t.Errorf("nothing says what %s is", o.File.Name)
		}
	}
}
