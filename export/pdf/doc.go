// Package pdf draws the sheet on paper, true to scale: an overview, strips with
// plan above and profile below, and notes.
//
//	pdf.go                    [Write]
//	crew*.go                  the sheet for the glove box, in one language or two
//	layout.go set.go cut.go   paper, what is on it, and how a line is cut into strips
//	sheet.go title.go         the frame of a sheet and its title block
//	plan*.go                  the plan of a strip
//	profile*.go               the profile of a strip
//	overview*.go              the first sheet
//	notes*.go checks.go       the notes
//	legend*.go sign.go pens.go key.go  signs and what they mean
//
// Drawing itself is in export/internal/paper, laying out in export/internal/plan.
package pdf
