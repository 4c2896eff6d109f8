package tongue

// spanishGroups is the Spanish catalogue: the trade's Spanish of Mexico and the
// United States, in words that a Spaniard follows too. Numbers and units stand as in
// English, with a decimal point.
var spanishGroups = [][]pair{
	spanishCautions, spanishDepths, spanishLines, spanishFindings, spanishChecks, spanishGuard, spanishBleed,
	spanishAdvice, spanishNotes, spanishReasons, spanishFrames, spanishPaper, spanishBalloons, spanishPage, spanishScript,
	spanishStakeOut, spanishProblems, spanishInput,
}
