package serve

import (
	"net/http"
	"net/url"
	"slices"
	"testing"
)

// Where the transmitter stood can be said on the page, kept as typed where it is
// wrong, and taken back.
func TestTransmitterOnThePage(t *testing.T) {
	s := newSite(t, nil)
	path := "/jobs/" + s.upload(lanternRow(t), "").ID
	ask := func(revision, x, y string, status int) string {
		t.Helper()
		_, text := s.post(path+"/runs", url.Values{"revision": {revision}, "line.0.transmitter.x": {x}, "line.0.transmitter.y": {y}}, status)
		return text
	}
	contains(t, ask("1", "-30.5006", "", http.StatusUnprocessableEntity), "one of longitude and latitude is missing", `value="-30.5006"`)
	contains(t, ask("1", "-30.5006", "north", http.StatusUnprocessableEntity), "W-1, latitude of the transmitter", `value="north"`)
	contains(t, ask("1", "-300", "44.1", http.StatusUnprocessableEntity), "not a longitude and latitude")
	ask("1", "-30.5006", "44.1000", http.StatusSeeOther)
	id := path[len("/jobs/"):]
	if job, err := s.srv.store.Job(id); err != nil || !slices.Equal(job.Settings.Lines[0].Transmitter, []float64{-30.5006, 44.1}) {
		t.Errorf("%+v, %v", job.Settings.Lines[0], err)
	}
	s.wait(id, 1)
	contains(t, s.get(path+"/settings", 200), `name="line.0.transmitter.x" value="-30.5006"`, `name="line.0.transmitter.y" value="44.1"`)
	ask("2", "0", "51.5", http.StatusSeeOther) // on the prime meridian
	s.wait(id, 2)
	contains(t, s.get(path+"/settings", 200), `name="line.0.transmitter.x" value="0"`)
	ask("3", "", "", http.StatusSeeOther)
	if job, _ := s.srv.store.Job(id); job.Settings.Lines[0].Transmitter != nil {
		t.Errorf("%+v", job.Settings.Lines[0])
	}
}
