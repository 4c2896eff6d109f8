package cases_test

// knownSilent are the cases that are drawn wrongly and silently today. The list
// may only shrink: one that is mended fails the table until it is taken off.
var knownSilent = []string{
	"no-accuracy/fix-2-1.2m-off",
	"stated-too-well/fix-2-1cm",
}
