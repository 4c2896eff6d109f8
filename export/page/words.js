// Words for lengths, as geo.Units and the export package word them. A test
// compares both.
var FOOT = 0.3048, INCH = 0.0254;

function inchWords(inches) {
  var sign = inches < 0 ? '-' : '';
  inches = Math.abs(inches);
  var feet = Math.floor(inches / 12), rest = inches - 12 * feet;
  if (feet === 0) return sign + rest + ' in';
  return sign + feet + ' ft' + (rest === 0 ? '' : ' ' + rest + ' in');
}

function roundUp(v, step) { return Math.ceil(v / step - 1e-9) * step; }

// nearest rounds halves away from zero.
function nearest(v) { return (v < 0 ? -1 : 1) * Math.round(Math.abs(v)) + 0; }

var wordings = {
  metric: {
    button: function () { return tell('Metres'); }, switchTo: function () { return tell('Metres: show metres'); },
    short: function (m) { return m.toFixed(2) + ' m'; },
    long: function (m) { return m.toFixed(1) + ' m'; },
    shortUp: function (m) { return (Math.ceil(m * 100 - 1e-6) / 100).toFixed(2) + ' m'; },
    sum: function (a, b) { return (Math.ceil(a * 100 - 1e-6) + Math.ceil(b * 100 - 1e-6)) / 100; }, // the parts add up as shown
    withBand: function (m, band) {
      if (band === null) return m.toFixed(2) + ' m';
      var digits = band >= 10 ? 0 : band >= 1 ? 1 : 2, p = Math.pow(10, digits);
      return m.toFixed(digits) + ' m ± ' + (Math.ceil(band * p - 1e-9) / p).toFixed(digits);
    },
    steps: [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000],
    depthSteps: [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10]
  },
  us: {
    button: function () { return tell('Feet'); }, switchTo: function () { return tell('Feet: show feet and inches'); },
    short: function (m) { return inchWords(nearest(m / INCH)); },
    long: function (m) { return nearest(m / FOOT) + ' ft'; },
    shortUp: function (m) { return inchWords(Math.ceil(m / INCH - 1e-6)); },
    sum: function (a, b) { return (Math.ceil(a / INCH - 1e-6) + Math.ceil(b / INCH - 1e-6)) * INCH; },
    withBand: function (m, band) {
      var step = band !== null && band >= 3 * FOOT ? 12 : 1;
      var s = inchWords(nearest(m / INCH / step) * step);
      return band === null ? s : s + ' ± ' + inchWords(roundUp(band / INCH, step));
    },
    steps: [5, 10, 25, 50, 100, 250, 500, 1000, 2500, 5000, 10000].map(function (ft) { return ft * FOOT; }),
    depthSteps: [0.25, 0.5, 1, 2, 5, 10, 25].map(function (ft) { return ft * FOOT; })
  }
};

// breaksSurface tells that a band reaches the surface: such a depth is not known.
function breaksSurface(depth, band) { return depth !== null && band !== null && band >= depth; }

// depthWords is the one sentence in which a depth may be told.
function depthWords(w, depth, band, date) {
  if (depth === null) return tell('depth not read; expose to verify');
  if (breaksSurface(depth, band)) return tell('depth not known: what it may be off reaches the surface; expose to verify');
  var m = w.withBand(depth, band);
  if (band === null) {
    return date === '' ? tell('read depth to centre, {m} (error not known), date not given; expose to verify', { m: m })
      : tell('read depth to centre, {m} (error not known), on {d}; expose to verify', { m: m, d: date });
  }
  return date === '' ? tell('read depth to centre, {m}, date not given; expose to verify', { m: m })
    : tell('read depth to centre, {m}, on {d}; expose to verify', { m: m, d: date });
}

function positionWords(w, band) {
  if (band === null) return tell('position across the line: error not known');
  return tell('position across the line: {m} (95 %)', { m: '± ' + w.shortUp(band) });
}

// toldDepth is the sentence about a depth; in doubt, the figure is that of the
// line with the suspected error in it, or that it is not known.
function toldDepth(w, p, distrusted, date) {
  if (!distrusted) return depthWords(w, p.d, p.d95, date);
  if (p.d === null || p.d95 === null || breaksSurface(p.d, p.d95)) return tell('depth of the line not known; expose to verify');
  var m = w.withBand(p.d, p.d95);
  return date === '' ? tell('depth of the line, suspected error included, {m}, date not given; expose to verify', { m: m })
    : tell('depth of the line, suspected error included, {m}, on {d}; expose to verify', { m: m, d: date });
}

// oneSided tells that what is suspected widens the band to one side of the drawn line more
// than to the other.
function oneSided(p, distrusted) { return distrusted && p.h95 !== null && p.l95 !== null && p.r95 !== null && p.l95 !== undefined; }

// sidesOf are the bands of both sides, each with what the whole map may be off in it.
function sidesOf(w, p, line) {
  var frame = line.frame[0];
  return { m: w.shortUp(w.sum(p.l95, frame)), m2: w.shortUp(w.sum(p.r95, frame)), m3: w.shortUp(frame) };
}

// acrossOf is the band across the line with what the whole map may be off in it.
function acrossOf(w, p, line) { return orMore(line, '± ' + w.shortUp(w.sum(p.h95, line.frame[0]))); }

// orMore says of a figure with the frame's doubt in it where that is no limit.
function orMore(line, figure) { return line.open ? tell('{m} or more', { m: figure }) : figure; }

// toldPosition likewise, with what the whole map may be off in it.
function toldPosition(w, p, distrusted, line) {
  var frame = line.frame[0];
  if (p.h95 === null) return distrusted ? tell('position across the line: not known') : positionWords(w, null);
  if (oneSided(p, distrusted)) {
    var sides = sidesOf(w, p, line);
    if (line.open) return tell('position across the line, suspected displacement included: {m} or more to the left and {m2} or more to the right ({m3} or more of each from the datum)', sides);
    if (frame > 0) return tell('position across the line, suspected displacement included: {m} to the left and {m2} to the right ({m3} of each from the datum)', sides);
    return tell('position across the line, suspected displacement included: {m} to the left and {m2} to the right (95 %)', sides);
  }
  var all = { m: acrossOf(w, p, line), m2: w.shortUp(p.h95), m3: orMore(line, w.shortUp(frame)) };
  if (distrusted && frame > 0) return tell('position across the line, suspected displacement included: {m} ({m2} from the readings, {m3} from the datum)', all);
  if (distrusted) return tell('position across the line, suspected displacement included: {m} (95 %)', all);
  if (frame > 0) return tell('position across the line: {m} ({m2} from the readings, {m3} from the datum)', all);
  return positionWords(w, p.h95);
}

// roundStep is the smallest round step that is at least so long, in metres.
function roundStep(steps, atLeast) {
  for (var i = 0; i < steps.length; i++) if (steps[i] >= atLeast) return steps[i];
  return steps[steps.length - 1];
}
