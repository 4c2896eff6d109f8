package trace

import "fmt"

// toWGS84 brings every reading's position to WGS 84 degrees, and says in words
// what the frame was and what was done.
func (p *placer) toWGS84(job Job, rs []Reading) (string, error) {
	if job.CRS != "EPSG:4326" {
		return "", fmt.Errorf("crs %s is not supported yet", job.CRS)
	}
	return "Positions are taken as WGS 84; the datum was not stated.", nil
}
