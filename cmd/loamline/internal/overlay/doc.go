// Package overlay tells of two maps laid over each other, for people and for a GIS.
//
//	plan.go     both on one plan
//	words.go    what is said of each line, and of the frames
//	geojson.go  both and where they disagree, as GeoJSON
//	page.go     plan, words and cautions as one page that needs nothing else
//
// What is compared, and how, is [compare.OverlayPairs].
package overlay
