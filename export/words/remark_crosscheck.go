package words

import (
	"fmt"
	"strconv"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// crossChecked says what to find out where a job says otherwise than its readings.
func crossChecked(u geo.Units, r trace.Remark) string {
	switch r := r.(type) {
	case remark.EpochFar:
		return fmt.Sprintf("The epoch stated is %s, and the readings were taken on %s: between the two the frame of the positions moves, and the whole map lies %s off if the epoch is wrong. The epoch is when the positions were taken, not the datum's reference epoch: correct it or leave it out, and measure from the paint.", year(r.Epoch), r.Taken, u.Short(r.OffM))
	case remark.EpochUnheld:
		return fmt.Sprintf("The epoch stated is %s, which is a datum's reference epoch or older than such locates, and nothing says that the readings were taken then: if they were taken today, the whole map lies %s off. State the date on which they were taken, and measure from the paint.", year(r.Epoch), u.Short(r.OffM))
	case remark.ClockFar:
		return fmt.Sprintf("The readings say that they were taken on %s. If the receiver's clock is 1024 weeks off, as after a change of its week number, it was %s, and the whole map lies %s off. State the date on which they were taken, and measure from the paint.", r.Taken, r.MayBe, u.Short(r.OffM))
	case remark.ZoneFar:
		s := fmt.Sprintf("The readings' times are in the zone %s, and the map lies at longitude %.1f, where that zone is not used. ", r.Zone, r.LonDeg)
		if r.SignMayBeLost {
			s += "The sign of the longitude may be lost, and the map would lie on another continent. "
		}
		return s + "Check that the map lies where the readings were taken before anybody digs by it."
	case remark.WebMercator:
		return "The positions are stated to be in EPSG:3857 (Web Mercator), which is made for web maps: coordinates of any other grid can pass for it, and software that writes it often mixes up datums by 1 to 2 m. Check that the map lies where the readings were taken, and measure from the paint."
	case remark.FootUnsaid:
		return fmt.Sprintf("The column %q is in feet, and %s is in metres: if the positions were converted to the other kind of foot (international or US survey feet), the whole map lies %s off. Get them in metres, or measure a known point, and measure from the paint.", trace.Shorten(r.Header), r.CRS, u.ShortUp(r.ApartM))
	case remark.HookupDiffers:
		return fmt.Sprintf("%s: the job file says that the signal was put on by %s, and the table says %s, which was taken. The checks depend on it: find out which is right.", trace.Shorten(r.Line), r.Stated, r.Read)
	case remark.FreqDiffers:
		return fmt.Sprintf("%s: the job file says %s Hz, and the table says %s Hz, which was taken. The checks depend on it: find out which is right.", trace.Shorten(r.Line), hertz(r.StatedHz), hertz(r.ReadHz))
	case remark.FreqOdd:
		return fmt.Sprintf("%s: the frequencies are mostly %s Hz, which is not a locating frequency. Correct the unit of the column: the checks depend on it.", trace.Shorten(r.Line), hertz(r.Hz))
	case remark.ExposedAndHeard:
		return fmt.Sprintf("%s: %d of its %d rows say that the line was exposed there, and hold what a receiver shows over a buried one. What was exposed is taken for measured: where it was traced, the line may lie far outside its bands. Leave exposed empty there, and make the map again.", trace.Shorten(r.Line), r.N, r.Of)
	case remark.RuleWider:
		return fmt.Sprintf("The tolerance rule that is printed, '%s', names a wider zone than the one drawn, %s to each side. Keep to the wider one; set half_width and measured_from as the rule has them, and make the map again.", trace.Shorten(r.Rule), HalfWidth(u, r.HalfWidthM))
	}
	return ""
}

func year(epoch float64) string { return strconv.FormatFloat(epoch, 'f', 2, 64) }

func hertz(hz float64) string { return strconv.FormatFloat(hz, 'f', -1, 64) }
