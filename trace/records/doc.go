// Package records lays the lines that are known beside those that were traced: it brings
// the records near a job into its plane ([Plane]), finds them by place ([Index]), compares
// each traced line with its own record ([Compare], [IsOf]) and tells where lines cross or
// come near each other, traced ones ([Crossings]) and known ones ([KnownCrossings]).
// Whether a record's signal may have been heard is the detector's question, package bleed.
package records
