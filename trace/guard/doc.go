// Package guard holds a finished line against the raw readings, so that nothing
// is claimed which the readings themselves contradict.
//
// What goes in is a [trace.Line] as it would leave in the map, with its readings
// and their fates; what comes out of [Check] are [Breach]es, in metres and
// stations of the line's own. [Apply] widens the bands until they hold what was
// breached, and adds a [finding.Doubt] or a [finding.Gap] for every breach, so that
// it stands under what to check before digging.
//
// It sees no model and no intermediate result of an estimator: only where the
// line lies, how sure it claims to be, and where the readings were taken. This is
// asked (n is the readings' number; z a reading's offset over its own
// error and the line's band, one sigma each, taken together):
//
//   - every used reading lies within 4.5 sigma, any five neighbours within 3 sigma
//     (root mean square; aside.go holds runs to what is not common to the whole walk,
//     runsaside.go to their stated accuracy), and no more of them beyond the 95 % band than chance
//     allows (residual.go);
//   - the same for depths (depth.go). Two kinds of depth at one place are held both
//     (depth_kinds.go), and so are two levels that depths step between at once
//     (depth_block.go), those of two passes (depth_passes.go), and depths that scatter
//     over more than one (depth_scatter.go), and a deep one that no other is near to; told are
//     a single shallow one (depth_alone.go), one that its own antennas contradict
//     (depth_antennas.go) and depths that were dropped one after the other (depth_row.go);
//   - no exposed place lies outside the bands (exposed.go), nor beside another, across
//     the course (exposedacross.go);
//   - every place where readings were taken is in the line's zone, or in a gap, or
//     in a doubt; readings set aside in a block are told (covered.go), single ones too
//     (single.go), and usual strides of the walk that no line is drawn along (stride.go);
//   - the walk does not sweep across the line (zigzag.go), nor step sideways onto a
//     parallel course (step.go, behind a gap gapstep.go, out and back on a winding line,
//     or by leaps, excursion.go; package sidestep tells one), nor past the course behind it
//     or farther aside than a step (overshoot.go), nor cut a corner (corner_cut.go); its
//     passes agree (passes.go), and so do its sessions, and a ring closes (session.go); and
//     the line does not run beside itself (beside.go);
//   - where readings are too far apart, or too loose, to tell where a bend lies, or the
//     line drawn weaves as a receiver does that is not held over the peak, the band holds
//     the alternatives (sparse.go, corner.go, loose.go, weave.go), and so it does where
//     the line goes aside just where the fix becomes poorer (fixstep.go);
//   - no few readings lie aside of a walk that goes on where it left off (spur.go,
//     islet.go, besidecourse.go).
//
// Where a walk's own error is common to all its readings, nothing here can see it:
// that part of a band is the receiver's (package receiver) and must be in the band
// already.
package guard
