package stakeout

import (
	"strings"

	"loamline.example/geo"
	"loamline.example/trace"
)

// TieWords tells ties in one line, empty where there are none.
func TieWords(u geo.Units, ties []Tie) string {
	if len(ties) == 0 {
		return ""
	}
	var w []string
	for _, t := range ties {
		s := u.Short(t.DistanceM) + " from " + t.Feature
		if trace.Known(t.AlongM) {
			s = u.Short(t.DistanceM) + " square off " + t.Feature + ", " + u.Short(t.AlongM) + " from its start"
		}
		w = append(w, s)
	}
	out := strings.Join(w, "; ")
	if t := ties[0]; t.Side != "" {
		out += " (" + string(t.Side) + " of the way from " + t.Feature + " to " + t.To + ")"
	}
	if len(ties) == 1 {
		return out + " (one distance alone fixes no place)"
	}
	if ties[0].Weak {
		out += " (flat angle: fixes the place poorly)"
	}
	return out
}
