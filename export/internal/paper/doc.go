// Package paper puts ink on the pages of a PDF: lines, areas with holes, and
// text in embedded fonts, in millimetres from the top left corner.
//
// It knows nothing of maps. The same calls give the same bytes: dates are given,
// never taken from a clock. Coordinates that are not finite are left out rather
// than written, and letters that the fonts lack are shown as a box. In another
// language every text is worded as it comes in ([Canvas.Speak]), before it is
// measured or broken.
package paper
