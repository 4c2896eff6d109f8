package plan

import "loamline.example/geo"

// bestSheets and mostSheets bound the number of sheets of one line: above the
// first the scale goes below the ones for digging, above the second coarser
// still (our own choice).
const (
	bestSheets = 6
	mostSheets = 24
)

// ChooseScale cuts a line into strips at the scale that people can dig by: as
// few sheets as the coarsest working scale would take, at the most detailed
// scale that takes no more. Where another line runs close alongside, more sheets
// are taken until the two can be told apart.
func ChooseScale(u geo.Units, line geo.Polyline, room Room) (Scale, []Strip) {
	dig, long := working(u)
	if s, strips := fewest(dig, line, room); len(strips) <= bestSheets {
		return apart(dig, s, strips, line, room)
	}
	for _, s := range long {
		if strips := Strips(line, s, room); len(strips) <= mostSheets {
			return s, strips
		}
	}
	s := long[len(long)-1]
	return s, Strips(line, s, room)
}

// apartMM is the distance on paper at which two lines can be told apart.
const apartMM = 1.6

// apart goes on to more detailed scales while lines alongside would touch.
func apart(scales []Scale, s Scale, strips []Strip, line geo.Polyline, room Room) (Scale, []Strip) {
	for i := len(scales) - 1; i >= 0 && room.ApartM > 0 && room.ApartM*s.MMPerM() < apartMM; i-- {
		if scales[i] >= s {
			continue
		}
		finer := Strips(line, scales[i], room)
		if len(finer) > bestSheets {
			break
		}
		s, strips = scales[i], finer
	}
	return s, strips
}

func fewest(scales []Scale, line geo.Polyline, room Room) (Scale, []Strip) {
	best := scales[len(scales)-1]
	strips := Strips(line, best, room)
	for i := len(scales) - 2; i >= 0; i-- {
		// A scale that must take more sheets is not worth cutting.
		if line.Length()*scales[i].MMPerM() > room.WidthMM*float64(len(strips)) {
			break
		}
		finer := Strips(line, scales[i], room)
		if len(finer) > len(strips) {
			break
		}
		best, strips = scales[i], finer
	}
	return best, strips
}
