package words

import (
	"slices"
	"testing"

	"loamline.example/trace"
)

// Whom to call heads the cautions, as far as the job states it.
func TestContactHeadsTheCautions(t *testing.T) {
	s := &trace.Sheet{Cautions: []string{"Call before you dig."}}
	if got := Cautions(s); !slices.Equal(got, s.Cautions) {
		t.Errorf("nobody is stated: %q", got)
	}
	s.Job.Contact = trace.Contact{Owner: "Tern Lane Water", OwnerPhone: "555-0134", Emergency: "555-0100"}
	want := []string{"Where a line is hit or gas is smelled, call 555-0100 from a safe place.",
		"Owner of the lines, to be called at once about any damage: Tern Lane Water, 555-0134.", "Call before you dig."}
	if got := Cautions(s); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	s.Job.Contact = trace.Contact{Owner: "Tern Lane Water"}
	if got := Contact(s); !slices.Equal(got, []string{"Owner of the lines, to be told at once of any damage: Tern Lane Water."}) {
		t.Errorf("%q", got)
	}
}
