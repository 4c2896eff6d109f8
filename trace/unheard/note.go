package unheard

import "regexp"

// saysSo are notes of a locator, in English and in Spanish, that say that the line was not
// heard at a place or that the place was guessed (common practice, no source).
var saysSo = regexp.MustCompile(`(?i)\b(no|lost|losing)\s+(the\s+)?(signal|tone|trace)\b|\b(signal|tone|trace)\s+(was\s+)?(lost|gone|dropped)\b|` +
	`\b(assumed|guess(ed)?|guesswork|interpolated|extrapolated|not\s+(traced|located|heard)|could\s+not\s+(trace|locate))\b|` +
	`\b(sin|se\s+pierde\s+la|perdida\s+la)\s+señal\b|\bseñal\s+perdida\b|\b(supuest[oa]|interpolad[oa]|extrapolad[oa]|no\s+(localizad|rastread)[oa])\b`)
