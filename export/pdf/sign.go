package pdf

import (
	"loamline.example/export/style"
	"loamline.example/trace"
)

// sign is a drawing convention. Whatever a sheet draws, its legend explains.
type sign int

// The signs in the order of the legend. The lines of the utilities come first,
// one sign each.
const (
	signLine      sign = iota // plus the index of the style
	signTolerance sign = iota + 20
	signCaution
	signBleedStrong
	signBleedSuspect
	signBleedWatch
	signDoubt
	signSide
	signGap
	signCrossing
	signExposed
	signUsed
	signSetAside
	signCheck
	signFailed
	signRecord
	signBackdrop
	signUnderlay
	signDiffers
	signTransmitter
	signFixed
	signStation
	signMatch
	signSheet
	signJoint
	signTravel
	signGrid
	signNumber
	signGround
	signBand
	signUnheld
	signDepthGap
	signDepthReading
	signOtherLine
	signEnd
)

// lineSign is the sign of a utility's line.
func lineSign(u trace.Utility) sign {
	for i, s := range style.All() {
		if s.Utility == u {
			return signLine + sign(i)
		}
	}
	return signLine + sign(len(style.All())-1)
}

// signWords explains the signs beside the lines.
var signWords = map[sign]string{
	signTolerance:    "tolerance zone: dig by hand or vacuum",
	signCaution:      "caution zone: dig by hand or vacuum here too; the tolerance zone widened by what the readings leave open (95 %) and by suspected shift",
	signBleedStrong:  "bleed-over strongly suspected: do not trust position or depth",
	signBleedSuspect: "bleed-over suspected",
	signBleedWatch:   "possible bleed-over: depth and place doubtful",
	signDoubt:        "in doubt: the readings contradict the line as drawn, or each other",
	signSide:         "side on which the true line probably lies (not to scale)",
	signGap:          "not traced: the line may run anywhere between the ends",
	signCrossing:     "lines cross or come closest, with read depths",
	signExposed:      "exposed and measured",
	signUsed:         "reading used (not every one where dense)",
	signSetAside:     "reading set aside, not used",
	signCheck:        "check reading (lifted)",
	signFailed:       "field check failed or inconclusive",
	signRecord:       "line from records, not traced",
	signBackdrop:     "background from layers (kerbs, buildings), as given",
	signUnderlay:     "site plan: only as well placed as its own geo-referencing",
	signDiffers:      "record lies elsewhere than the trace",
	signTransmitter:  "transmitter",
	signFixed:        "fixed feature to tape from",
	signStation:      "station from the start of the line",
	signMatch:        "match line: continues on the sheet named",
	signSheet:        "sheet that shows this stretch larger",
	signJoint:        "where one sheet ends and the next begins",
	signTravel:       "direction of travel; left and right are seen this way",
	signGrid:         "latitude and longitude, WGS 84, degrees",
	signNumber:       "number of a finding; see notes",
	signGround:       "ground",
	signBand:         "read depth to centre with its 95 % band",
	signUnheld:       "depth as read where the line is in doubt: do not trust it",
	signDepthGap:     "depth not read, or not traced",
	signDepthReading: "depth of a reading; × not used",
	signOtherLine:    "another line, at its read depth",
}
