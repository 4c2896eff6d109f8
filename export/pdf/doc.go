// Package pdf draws the sheet on paper, true to scale: an overview, strips with
// plan above and profile below, and notes; and upright pages for the glove box.
//
// [Write] asks a drafter for all pages. What is drawn is in drawnJob; which pages there
// are and what is on which, in sheetSet. Everything is measured and drawn with the pencil,
// which knows paper, layout and language but not the job; the marker is a pencil that notes
// the signs it draws, for the legend. Each area of a page is a type in a file of its own
// that embeds what it needs of these and knows no other area: it is given its room.
//
//	pdf.go sheet.go          [Write]; the drafter, and how a page of the set is shared out
//	job.go extent.go box.go number.go facts.go
//	                         drawnJob: lines, findings with their numbers, what several areas tell
//	set.go cut.go panel.go   sheetSet: the pages, and how a line is cut into strips
//	layout.go pencil.go blocks.go stop.go
//	                         pencil: paper, type, paragraphs, and when to end
//	sign.go pens.go marks.go marker: signs and how they are drawn
//
//	title.go legend*.go key.go checks.go sheet_index.go
//	                         the areas of the column
//	cautions.go              the band that every page has
//	overview*.go             the first sheet, with the table of lines
//	strip_rooms.go           where plan and profile of a strip stand
//	plan.go plan_*.go        planView and its layers, a type each, from zones to names
//	profile*.go              profileView, what a profile shows; profileDrawing draws it
//	notes*.go                the notes
//	upright.go stakeout.go   pages that stand; the points to stake out
//	crew.go crew_*.go        the sheet for the glove box in one language or two: drafts of it,
//	                         head, plan, lists and tables
//
// Drawing itself is in export/internal/paper, laying out in export/internal/plan.
package pdf
