package tongue

// spanishProblems are the problems of the input that a map carries: what is wrong and
// what to do. Where it is stays as the message has it.
var spanishProblems = []pair{}
