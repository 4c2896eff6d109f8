"""Verdicts as tables in Markdown.

Written by somebody who had read neither the simulators in Go nor the estimators. Seeds
from 1000 on are for measuring: their jobs are never looked at one by one.
"""
from collections import Counter
from collections.abc import Callable

import numpy as np

from judge import Verdict

COLUMNS = ("jobs", "across, %", "within 1.3 bands, %", "band, m", "depth, %",
           "depth not wrong, %", "depth band, m", "in the zone, %", "in a gap, %", "neither, %",
           "dangers", "flagged", "or in a gap", "or advised", "false alarms, /km",
           "wrong and silent", "without map", "problems", "exit status")
LEGEND = """\
Across and depth: shares of drawn metres whose truth lies within the band of 95 %, then \
within 1.3 of it or 0.15 m (of depth), and the median band. Zone, gap, neither: shares of \
the true line that was walked. Dangers: stretches of more than 3 m on which another line \
moves the mark by more than 0.10 m or the depth by more than 25 %; flagged as suspected \
bleed-over, or else drawn as a gap or advised on. False alarms: flagged metres where \
nothing is moved. Wrong and silent: jobs with a stretch off by more than 1.3 bands and \
0.15 m, or outside the zone, with no advice there."""


def _share(part, whole) -> str:
    return f"{100 * part / whole:.1f}" if whole else "–"


def _median(lists, decimals) -> str:
    values = [x for one in lists for x in one]
    return f"{np.median(values):.{decimals}f}" if values else "–"


def _row(name: str, verdicts: list[Verdict]) -> str:
    mapped = [v for v in verdicts if v.mapped]

    def total(of: Callable[[Verdict], float]) -> float:
        return sum(of(v) for v in mapped)

    points, depths = total(lambda v: len(v.bands_m)), total(lambda v: len(v.depth_bands_m))
    near = total(lambda v: sum(s <= 1.3 for s in v.across_shares))
    truth_m, clean = total(lambda v: v.truth_m), total(lambda v: v.clean_points)
    found = [d for v in mapped for d in v.dangers]
    missed = [d for d in found if not d.flagged]
    status = Counter(v.exit_status for v in verdicts)
    cells = (
        len(verdicts), _share(total(lambda v: v.across_held), points), _share(near, points),
        _median((v.bands_m for v in mapped), 2),
        _share(total(lambda v: v.depths_held), depths),
        _share(depths - total(lambda v: v.depths_wrong), depths),
        _median((v.depth_bands_m for v in mapped), 3),
        _share(total(lambda v: v.in_zone_m), truth_m),
        _share(total(lambda v: v.in_gap_m), truth_m),
        _share(total(lambda v: v.undeclared_m), truth_m),
        len(found), len(found) - len(missed), sum(d.gap for d in missed),
        sum(d.advised for d in missed),
        f"{1000 * total(lambda v: v.false_points) / clean:.0f}" if clean else "–",
        sum(bool(v.silent) for v in mapped), len(verdicts) - len(mapped),
        sum(v.problems for v in mapped),
        ", ".join(f"{n} × {s}" for s, n in sorted(status.items())))
    return "| " + " | ".join([name, *map(str, cells)]) + " |"


def table(verdicts: list[Verdict], by: str, key: Callable[[Verdict], str]) -> str:
    """A row of each group, in the order in which groups come, and one of all."""
    groups: dict[str, list[Verdict]] = {}
    for v in verdicts:
        groups.setdefault(key(v), []).append(v)
    lines = ["| " + " | ".join([by, *COLUMNS]) + " |",
             "| --- |" + " --- |" * len(COLUMNS)]
    lines += [_row(name, group) for name, group in groups.items()]
    return "\n".join(lines + [_row("every job", verdicts)])


def cases(verdicts: list[Verdict]) -> str:
    """The jobs that are wrong and silent, stretch by stretch."""
    if not any(v.silent for v in verdicts):
        return "None."
    lines = ["| job | positions | columns | what | from, m | to, m | off, or length, m "
             "| band, or farthest, m |", "| --- |" + " --- |" * 7]
    for v in verdicts:
        for s in v.silent:
            lines.append(f"| {v.job} | {v.params['grade']} | {v.params['colset']} | {s.kind} "
                         f"| {s.from_m:.1f} | {s.to_m:.1f} | {s.off_m:.2f} | {s.band_m:.2f} |")
    return "\n".join(lines)
