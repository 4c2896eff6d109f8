// Package measure holds the estimators against truth: it makes jobs with
// [loamline.example/trace/tracetest] and with [loamline.example/trace/tracetest/otherworld], its
// two [Worlds], lets the program work on what a locate would have
// handed in, and compares.
//
// [Fit] measures centerlines, depth profiles, their 95 % bands and the readings
// set aside, beside what is commonly scripted (connect the dots, a moving
// average, LOWESS, a smoothing spline by cross-validation) and beside an oracle
// that knows the model. [Bleed] measures suspected bleed-over, by columns
// available, and whether caution zones hold the true line. [All] does both, and
// its [Report] is written as Markdown.
//
// Seeds from [UnseenSeed] on are for measuring alone: nothing in this program
// is tuned on them. Development looks at small seeds.
package measure

// UnseenSeed is the first of the seeds that nothing is tuned on.
const UnseenSeed = 1_000_000
