// Places on a traced line.
function lineEnd(line) {
  var last = line.parts[line.parts.length - 1];
  return last.s[last.s.length - 1];
}

function mix(a, b, t) { return a === null || b === null ? null : a + t * (b - a); }
function wider(a, b) { return a === null || b === null ? null : Math.max(a, b); }

// placeOn is what is known at a station: values are interpolated and bands are
// the wider of both neighbours, as in the other outputs. In a gap, and on the way
// back over a branch, there is a point on the bridge and nothing else.
function placeOn(line, s) {
  var before = null;
  for (var k = 0; k < line.parts.length; k++) {
    var p = line.parts[k], n = p.s.length;
    if (s < p.s[0]) {
      if (!before) return vertexOf(p, 0);
      var i = before.s.length - 1, from = before.s[i], t = (s - from) / (p.s[0] - from);
      return { s: s, x: mix(before.x[i], p.x[0], t), y: mix(before.y[i], p.y[0], t), d: null, d95: null, h95: null, gap: true, way: p.joins };
    }
    if (s <= p.s[n - 1]) return within(p, s);
    before = p;
  }
  return vertexOf(before, before.s.length - 1);
}

function vertexOf(p, i) {
  var sides = p.l95 ? [p.l95[i], p.r95[i]] : [null, null];
  return { s: p.s[i], x: p.x[i], y: p.y[i], d: p.d[i], d95: p.d95[i], h95: p.h95[i], l95: sides[0], r95: sides[1], gap: false };
}

function within(p, s) {
  var lo = 0, hi = p.s.length - 1;
  while (hi - lo > 1) {
    var mid = (lo + hi) >> 1;
    if (p.s[mid] <= s) lo = mid; else hi = mid;
  }
  if (s === p.s[lo]) return vertexOf(p, lo);
  if (s === p.s[hi]) return vertexOf(p, hi);
  var t = (s - p.s[lo]) / (p.s[hi] - p.s[lo]);
  return {
    s: s, x: mix(p.x[lo], p.x[hi], t), y: mix(p.y[lo], p.y[hi], t), d: mix(p.d[lo], p.d[hi], t),
    d95: wider(p.d95[lo], p.d95[hi]), h95: wider(p.h95[lo], p.h95[hi]),
    l95: p.l95 ? wider(p.l95[lo], p.l95[hi]) : null, r95: p.r95 ? wider(p.r95[lo], p.r95[hi]) : null, gap: false
  };
}

// nearestOn is the place of a line, bridges of gaps included, that is nearest to a point.
function nearestOn(line, x, y) {
  var best = { dist: Infinity, s: 0 }, prev = null;
  function segment(ax, ay, as, bx, by, bs) {
    var dx = bx - ax, dy = by - ay, len2 = dx * dx + dy * dy;
    var t = len2 > 0 ? Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / len2)) : 0;
    var dist = Math.hypot(x - ax - t * dx, y - ay - t * dy);
    if (dist < best.dist) best = { dist: dist, s: as + t * (bs - as) };
  }
  line.parts.forEach(function (p) {
    if (p.joins) prev = null;
    for (var i = 0; i < p.s.length; i++) {
      if (prev) segment(prev.x, prev.y, prev.s, p.x[i], p.y[i], p.s[i]);
      prev = { x: p.x[i], y: p.y[i], s: p.s[i] };
    }
  });
  return best;
}

// END_M is how near to the end of a stretch a place counts as lying in it: half of the
// figure that stations are told with, 1 ft.
var END_M = 0.16;

// findingsAt lists the findings of a line that hold a station, or lie within so
// many metres of it. One that lies beside the line has no station and is at none.
function findingsAt(line, s, near) {
  return line.findings.filter(function (f) {
    if (f.at[0] === null) return false;
    if (f.at.length === 2) return f.at[0] - END_M <= s && s <= f.at[1] + END_M;
    return f.at.length === 1 && Math.abs(f.at[0] - s) <= near;
  });
}

// besideLine reports whether a finding lies beside its line and has no place along it.
function besideLine(f) { return f.at[0] === null && f.path.length >= 2 && f.path[0] !== null; }

// toPath is how far a point is from a path of x, y, x, y, in metres.
function toPath(path, x, y) {
  var best = path.length === 2 ? Math.hypot(x - path[0], y - path[1]) : Infinity;
  for (var i = 2; i + 1 < path.length; i += 2) {
    var ax = path[i - 2], ay = path[i - 1], dx = path[i] - ax, dy = path[i + 1] - ay, len2 = dx * dx + dy * dy;
    var t = len2 > 0 ? Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / len2)) : 0;
    best = Math.min(best, Math.hypot(x - ax - t * dx, y - ay - t * dy));
  }
  return best;
}

// EDGE_M is how near to what was not traced a place lies on its edge.
var EDGE_M = 0.5;

// toldAt is what may be told of a place: beside a gap and in doubt no band of a
// reading stands, whatever the vertices about it say.
function toldAt(line, s) {
  var p = placeOn(line, s);
  var found = findingsAt(line, s, 0.5);
  p.distrusted = doubt(found) === 2;
  // What is only possible there widens no band: how far it could be is told beside it.
  p.doubtful = doubt(found) === 1;
  p.held = p.doubtful && !found.some(function (f) { return f.role === 'bleed_over'; });
  p.off = found.reduce(function (far, f) { return f.off ? wider(far, f.off[0]) : far; }, 0);
  line.findings.forEach(function (f) {
    if (f.role !== 'gap' && f.role !== 'doubt' || f.held) return;
    var edge = f.role === 'gap' ? EDGE_M : END_M;
    if (besideLine(f)) {
      if (f.role !== 'gap' || toPath(f.path, p.x, p.y) > edge) return; // it begins at the line, or lies apart from it
    } else if (f.at[0] === null || s < f.at[0] - edge || f.at[f.at.length - 1] + edge < s || f.role === 'doubt' && f.at.length !== 2) {
      return;
    }
    p.distrusted = true;
    p.edge = p.edge || f.role === 'gap';
    p.d95 = p.h95 = null;
  });
  return p;
}

// doubt is 2 where position and depth must not be trusted, 1 where they are to
// be taken with doubt, else 0.
function doubt(findings) {
  return findings.reduce(function (worst, f) {
    if (f.role === 'doubt' && !f.held) return 2;
    if (f.held) return Math.max(worst, 1);
    return f.role === 'bleed_over' ? Math.max(worst, f.grade === 'watch' ? 1 : 2) : worst;
  }, 0);
}
