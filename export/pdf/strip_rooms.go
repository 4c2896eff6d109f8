package pdf

import "loamline.example/export/internal/plan"

// stripRooms is where plan and profile of every strip stand on its page, beside the cautions.
type stripRooms struct {
	*sheetSet
	cautions *cautionBand
}

// profileRect is the room of a strip's profile.
func (rooms *stripRooms) profileRect(sh *drawnSheet) plan.Rect {
	_, r := rooms.cautions.lay.panelOf(sh.panel, rooms.cautions.heightMM(rooms.cautions.lay.drawing.W), sh.spareMM)
	return r
}

// viewOf is how a strip lies in its window.
func (rooms *stripRooms) viewOf(sh *drawnSheet) plan.View {
	win, _ := rooms.cautions.lay.panelOf(sh.panel, rooms.cautions.heightMM(rooms.cautions.lay.drawing.W), sh.spareMM)
	return plan.View{Window: win, Scale: sh.scale, Center: sh.strip.Center, AngleRad: sh.strip.AngleRad}
}

// profileOf is the profile of a strip in its room, before anything is drawn.
func (rooms *stripRooms) profileOf(r plan.Rect, view plan.View, sh *drawnSheet) *profileView {
	p := &profileView{sheetSet: rooms.sheetSet, line: &rooms.lines[sh.line], sh: sh, mmPerM: sh.scale.MMPerM()}
	headMM, _, tableMM := profileRows(rooms.cautions.lay)
	half := (sh.strip.ToM - sh.strip.FromM) / 2 * p.mmPerM
	mid := view.Window.Center().X
	p.plot = plan.Rect{X: mid - half, Y: r.Y + headMM + 1.5, W: 2 * half, H: r.H - headMM - tableMM - 3}
	a, b := view.Paper(p.line.path.At(sh.strip.FromM)), view.Paper(p.line.path.At(sh.strip.ToM))
	p.flip = b.X < a.X
	p.collect()
	return p
}

// heightsOf is the scale of heights of all profiles of a sheet's line: that of
// the strip that needs the coarsest, so that one depth looks alike on all sheets.
func (rooms *stripRooms) heightsOf(sh *drawnSheet) plan.Scale {
	l := &rooms.lines[sh.line]
	if l.heights > 0 {
		return l.heights
	}
	var all []*profileView
	for i := range rooms.sheets {
		other := &rooms.sheets[i]
		if other.kind == stripSheet && other.line == sh.line {
			p := rooms.profileOf(rooms.profileRect(other), rooms.viewOf(other), other)
			l.heights = max(l.heights, p.finestHeights())
			all = append(all, p)
		}
	}
	for _, p := range all {
		if p.sh.panel == wholePage {
			p.sh.spareMM = p.spareAt(l.heights)
		}
	}
	return l.heights
}
