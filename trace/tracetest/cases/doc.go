// Package cases is a table of small locates with known truth, each of one
// mechanism by which a map can be wrong and look sure, and the judge of the map
// that is made of them.
//
// [All] gives the cases: a readings table, a job file, and the [Truth]. [Judge]
// takes the GeoJSON that was written and the truth, and says [Drawn] (the truth
// lies within band and zone), [Told] (it does not, and the map says so there),
// or [Silent]: wrong and looking sure, the one verdict that no map may get.
//
// The judge sees what a reader of the map sees and no more: the file's roles and
// the list of what to check before digging. It shares nothing with the
// estimators; this package imports [loamline.example/geo] alone.
//
// The cases are plain on purpose. A receiver over a line shows the depth d of
// its centre, and at two antennas, the lower on the ground and the upper a gap g
// above it, the field of a long straight current: I/d and I/(d+g). An induction
// transmitter adds the field of its coil, which falls with the cube of the
// distance. Positions have white noise. Truths that need real physics (soil,
// finite conductors, coupling) belong to package tracetest.
//
// Cases show mechanisms, not limits; [Draw] makes as many more as wanted, from a
// seed.
package cases
