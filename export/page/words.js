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
    name: 'metres', button: 'Metres',
    short: function (m) { return m.toFixed(2) + ' m'; },
    long: function (m) { return m.toFixed(1) + ' m'; },
    shortUp: function (m) { return (Math.ceil(m * 100 - 1e-6) / 100).toFixed(2) + ' m'; },
    withBand: function (m, band) {
      if (band === null) return m.toFixed(2) + ' m';
      var digits = band >= 10 ? 0 : band >= 1 ? 1 : 2, p = Math.pow(10, digits);
      return m.toFixed(digits) + ' m ± ' + (Math.ceil(band * p - 1e-9) / p).toFixed(digits);
    },
    steps: [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000],
    depthSteps: [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10]
  },
  us: {
    name: 'feet and inches', button: 'Feet',
    short: function (m) { return inchWords(nearest(m / INCH)); },
    long: function (m) { return nearest(m / FOOT) + ' ft'; },
    shortUp: function (m) { return inchWords(Math.ceil(m / INCH - 1e-6)); },
    withBand: function (m, band) {
      var step = band !== null && band >= 3 * FOOT ? 12 : 1;
      var s = inchWords(nearest(m / INCH / step) * step);
      return band === null ? s : s + ' ± ' + inchWords(roundUp(band / INCH, step));
    },
    steps: [5, 10, 25, 50, 100, 250, 500, 1000, 2500, 5000, 10000].map(function (ft) { return ft * FOOT; }),
    depthSteps: [0.25, 0.5, 1, 2, 5, 10, 25].map(function (ft) { return ft * FOOT; })
  }
};

function onDate(date) { return date === '' ? ', date not given' : ', on ' + date; }

// depthWords is the one sentence in which a depth may be told.
function depthWords(w, depth, band, date) {
  if (depth === null) return 'depth not read; expose to verify';
  return 'read depth to centre, ' + w.withBand(depth, band) + (band === null ? ' (error not known)' : '') +
    onDate(date) + '; expose to verify';
}

function positionWords(w, band) {
  if (band === null) return 'position across the line: error not known';
  return 'position across the line: ± ' + w.shortUp(band) + ' (95 %)';
}

// toldDepth is the sentence about a depth; in doubt, the figure is that of the
// line with the suspected error in it, or that it is not known.
function toldDepth(w, p, distrusted, date) {
  if (!distrusted) return depthWords(w, p.d, p.d95, date);
  if (p.d === null || p.d95 === null) return 'depth of the line not known; expose to verify';
  return 'depth of the line, suspected error included, ' + w.withBand(p.d, p.d95) + onDate(date) + '; expose to verify';
}

// toldPosition likewise, with what the whole map may be off in it.
function toldPosition(w, p, distrusted, frame) {
  if (p.h95 === null) return distrusted ? 'position across the line: not known' : positionWords(w, null);
  var why = frame > 0 ? ', ' + w.shortUp(frame) + ' of it because the datum of the positions was not stated' : '';
  if (distrusted) return 'position across the line, suspected displacement included: ± ' + w.shortUp(p.h95 + frame) + ' (95 %)' + why;
  if (frame > 0) return 'position across the line: ± ' + w.shortUp(p.h95 + frame) + why;
  return positionWords(w, p.h95);
}

// roundStep is the smallest round step that is at least so long, in metres.
function roundStep(steps, atLeast) {
  for (var i = 0; i < steps.length; i++) if (steps[i] >= atLeast) return steps[i];
  return steps[steps.length - 1];
}
