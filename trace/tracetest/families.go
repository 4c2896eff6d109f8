package tracetest

import "slices"

// Family is a kind of job.
type Family struct {
	Name         string
	Shows        string // what it is for, in a few words
	CarriesBleed bool   // signal of the line flows on another conductor
	cook         func(*recipe)
}

// Families lists every kind of job, in a fixed order.
func Families() []Family {
	return slices.Concat(shapeFamilies, walkFamilies, fixFamilies, faultFamilies, errorFamilies, quietFamilies, bleedFamilies, jumpFamilies, foolingFamilies)
}
