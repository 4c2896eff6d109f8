package kml

import (
	"image/color"
	"strconv"
	"strings"

	"github.com/twpayne/go-kml/v3"

	"loamline.example/export/style"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// kmlColor is a colour with an opacity. KML wants it not premultiplied, which
// color.RGBA passes on untouched.
func kmlColor(hex string, alpha uint8) *kml.ColorElement {
	v, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil {
		panic("export: colour " + hex)
	}
	return kml.Color(color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), alpha})
}

// balloon shows name and description alone: without it some viewers add links.
// It is no wider than a phone held upright, in letters that are read at arm's
// length, and breaks long words: a balloon cannot be dragged sideways with a
// thumb.
func balloon() kml.Element {
	return kml.BalloonStyle(kml.Text(`<div style="max-width:300px;font:16px/1.4 sans-serif;overflow-wrap:break-word"><h3 style="margin:0 0 8px">$[name]</h3>$[description]</div>`))
}

// hiddenIcon is no icon, in two ways: a reader that is told of none takes its own, which
// some fetch from the network even for a line, and one that knows no empty icon knows a
// size of nothing.
func hiddenIcon() kml.Element { return kml.IconStyle(kml.Scale(0), kml.Icon()) }

// hiddenLabel is no label, in two ways: there are readers that take a scale of nothing
// for none stated, and then write every reading's name over the line.
func hiddenLabel() kml.Element { return kml.LabelStyle(kmlColor("#FFFFFF", 0), kml.Scale(0.01)) }

// styles are the shared styles: a line and two zones a utility, the
// findings, the readings by their fate.
func (k *writer) styles() []kml.Element {
	pin := func(icon, hex string, scale float64) kml.Element {
		if icon == "warning" && k.files {
			hex = "#FFFFFF" // its own black edge and mark would drown in black
		}
		parts := []kml.Element{kmlColor(hex, 255), kml.Scale(scale)}
		if k.files {
			parts = append(parts, kml.Icon(kml.Href(iconFolder+icon+".png")), kml.HotSpot(kml.Vec2{X: 0.5, Y: 0.5, XUnits: kml.UnitsFraction, YUnits: kml.UnitsFraction}))
		}
		return kml.IconStyle(parts...)
	}
	var out []kml.Element
	for _, s := range style.All() {
		out = append(out,
			kml.SharedStyle("line-"+s.Code, hiddenIcon(), kml.LineStyle(kmlColor(s.Hex, 255), kml.Width(4)), balloon()),
			kml.SharedStyle("depth-"+s.Code, hiddenIcon(), kml.LabelStyle(kmlColor("#FFFFFF", 255), kml.Scale(0.8)), balloon()),
			kml.SharedStyle("tolerance_zone-"+s.Code, hiddenIcon(), kml.LineStyle(kmlColor(s.Hex, 230), kml.Width(1.5)),
				kml.PolyStyle(kmlColor(s.Hex, 64)), balloon()),
			kml.SharedStyle("caution_zone-"+s.Code, hiddenIcon(), kml.LineStyle(kmlColor(s.Hex, 160), kml.Width(1)),
				kml.PolyStyle(kmlColor(s.Hex, 36)), balloon()),
		)
	}
	for _, g := range []trace.Grade{trace.GradeWatch, trace.GradeSuspect, trace.GradeStrong} {
		out = append(out, kml.SharedStyle("bleed_over-"+string(g), pin("warning", style.WarningHex, 1),
			hiddenLabel(),
			kml.LineStyle(kmlColor(style.WarningHex, style.GradeAlpha(g)), kml.Width(4*style.GradeWidth(g))), balloon()))
	}
	// What is to be checked before digging has its name written there, in its own folder:
	// findings, which lie at the same places, write none over it.
	point := func(id, icon, hex string, scale float64) kml.Element {
		return kml.SharedStyle(id, pin(icon, hex, scale), hiddenLabel(), balloon())
	}
	named := func(id, icon, hex string, scale float64) kml.Element {
		return kml.SharedStyle(id, pin(icon, hex, scale), kml.LabelStyle(kmlColor("#FFFFFF", 255), kml.Scale(0.7)), balloon())
	}
	out = append(out,
		kml.SharedStyle(finding.RoleGap, hiddenIcon(), hiddenLabel(),
			kml.LineStyle(kmlColor("#FFFFFF", 200), kml.Width(3)), balloon()),
		kml.SharedStyle(finding.RoleDoubt, hiddenIcon(), hiddenLabel(),
			kml.LineStyle(kmlColor(style.WarningHex, 150), kml.Width(8)), balloon()),
		kml.SharedStyle(finding.RoleRecordDifference, hiddenIcon(), hiddenLabel(),
			kml.LineStyle(kmlColor("#FFFFFF", 128), kml.Width(8)), balloon()),
		kml.SharedStyle("record", hiddenIcon(), kml.LineStyle(kmlColor("#BBBBBB", 255), kml.Width(1.5)), balloon()),
		point(finding.RoleCrossing, "ring", "#FFFFFF", 0.8), point("check-failed", "triangle", style.WarningHex, 0.9), point("check-inconclusive", "triangle", style.WarningHex, 0.7),
		point("check-passed", "triangle", "#FFFFFF", 0.6), point(finding.RoleExposedCheck, "square", "#FFFFFF", 0.8),
		named("advice", "warning", style.WarningHex, 1.2), named("stakeout", "stake", "#FFFFFF", 0.7),
	)
	for _, st := range []trace.Status{trace.StatusUsed, trace.StatusSetAside, trace.StatusCheck, trace.StatusExposed} {
		icon, hex, scale := "dot", "#FFFFFF", 0.4
		switch st {
		case trace.StatusSetAside:
			icon, hex = "cross", style.WarningHex
		case trace.StatusCheck:
			icon = "triangle"
		case trace.StatusExposed:
			icon, scale = "square", 0.7
		}
		out = append(out, kml.SharedStyle("reading-"+string(st), pin(icon, hex, scale),
			hiddenLabel(), balloon()))
	}
	return out
}

// findingStyle is the id of the style of a finding; a kind without a style of
// its own is drawn as a doubt.
var findingStyle = finding.PerKind[string]{
	BleedOver: func(f finding.BleedOver) string { return "bleed_over-" + string(f.Grade) },
	FieldCheck: func(f finding.FieldCheck) string {
		switch f.Outcome {
		case trace.OutcomePassed:
			return "check-passed"
		case trace.OutcomeInconclusive:
			return "check-inconclusive"
		}
		return "check-failed"
	},
	Gap:              func(f finding.Gap) string { return f.Role() },
	Crossing:         func(f finding.Crossing) string { return f.Role() },
	ExposedCheck:     func(f finding.ExposedCheck) string { return f.Role() },
	RecordDifference: func(f finding.RecordDifference) string { return f.Role() },
	Else:             func(trace.Finding) string { return finding.Doubt{}.Role() },
}
