// Package page writes the sheet as one HTML file for phone and desk that needs
// nothing else.
//
//	page.go                   [Write]
//	assets.go                 template, style, script and the policy that seals them
//	data.go                   what plan and profile draw, as JSON in metres
//	lines.go lists.go ink.go  what the file says without a script
//	both.go                   each sentence in both systems of units
//	tongue.go tongue.js       each sentence in the page's languages
//	tiles.go                  a background map, where one is named
//	*.js *.css *.tmpl         the page itself; leaflet is as published
package page
