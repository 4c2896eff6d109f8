// Package unheard finds stretches on which nothing shows that the line was heard ([Doubts]):
// rows that have a place and no value of the locator, or zeros, or the one value before
// again and again, where the others of the walk have values that change; and rows whose
// note says so, or that the place is one beside the line. Who has lost a signal mostly walks straight on, and so does a log that
// runs on to the vehicle.
package unheard
