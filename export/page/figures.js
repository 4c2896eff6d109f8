// The figures at a place: doubt first, then depth and position, then evidence.
function placeFigures(data, state, plane, index, s, brief) {
  var line = data.lines[index], words = wordings[state.units], p = toldAt(line, s), found = findingsAt(line, s, 1);
  var box = el('div', 'place'), worst = doubt(found);
  var h = el('h3', '');
  h.appendChild(el('span', 'code', line.code));
  h.appendChild(document.createTextNode(' ' + titleOf(line)));
  box.appendChild(h);
  box.appendChild(el('p', '', tell('at {m} from the start of the line', { m: words.long(p.s) })));
  if (p.edge && !p.gap && !p.way) box.appendChild(el('p', 'stop', tell('NOT TRACED beside here: a stretch that was not traced begins or ends here. DO NOT TRUST the paint mark: find the line before digging.')));
  if (worst === 2) box.appendChild(el('p', 'stop', tell('DO NOT TRUST the paint mark here: {say}', { say: suspected(found, state) })));
  if (worst === 1) box.appendChild(el('p', 'care', tell('Doubtful here: {say}', { say: suspected(found, state) })));
  if (p.way) {
    box.appendChild(el('p', '', tell('Nothing lies along this way: here the walk went back over the branch. The line goes on from where the branch leaves it.')));
  } else if (p.gap) {
    box.appendChild(el('p', 'stop', tell('NOT TRACED here. The dashed line only joins the ends; it is not the line\'s route: find the line before digging.')));
    box.appendChild(el('p', 'stop', tell('No machine anywhere here until the line is found.')));
  } else {
    // In the largest type stands what the sheet has there: where it prints no figure, nor
    // does the page.
    var depth = sentenceOf(toldDepth(words, p, p.distrusted, data.date)), known = p.d !== null && p.d95 !== null && !breaksSurface(p.d, p.d95);
    if (p.distrusted) {
      box.appendChild(el('p', 'depth', known ? tell('Depth: do not trust') : tell('Depth: not known')));
      box.appendChild(el('p', '', depth));
    } else {
      box.appendChild(el('p', 'depth', p.doubtful && p.d !== null ? tell('Doubtful: {say}', { say: toldDepth(words, p, false, data.date) + '.' }) : depth));
    }
    box.appendChild(el('p', '', sentenceOf(toldPosition(words, p, p.distrusted, line))));
    if (p.doubtful && !p.held) box.appendChild(el('p', 'care', offWords(words, p)));
    var machine = noMachine(words, line, p.s);
    if (machine) box.appendChild(el('p', '', machine));
  }
  if (brief) return box;
  groundNear(data, p).forEach(function (g) {
    box.appendChild(el('p', 'small', tell('{m} from the drawn line to {name}, as its layer has it; measured on this map, not in the street.', { m: words.short(g.dist), name: g.name })));
  });
  found.forEach(function (f) { box.appendChild(evidence(f, state)); });
  if (!p.gap) box.appendChild(placeLink(plane, p, line)); // the dashed join is no place of the line
  return box;
}

// besideFigures is what is told of a finding that lies beside its line and has no place
// along it: what is the matter, why, and no figure.
function besideFigures(data, state, index, f) {
  var line = data.lines[index], box = el('div', 'place'), h = el('h3', '');
  h.appendChild(el('span', 'code', line.code));
  h.appendChild(document.createTextNode(' ' + titleOf(line)));
  box.appendChild(h);
  if (f.role === 'gap') box.appendChild(el('p', 'stop', tell('NOT TRACED here. The dashed line only joins the ends; it is not the line\'s route: find the line before digging.')));
  if (doubt([f]) === 2) box.appendChild(el('p', 'stop', tell('DO NOT TRUST the paint mark here: {say}', { say: told(f.title, state.units) + '.' })));
  box.appendChild(evidence(f, state));
  return box;
}

function evidence(f, state) {
  var d = el('div', 'evidence');
  d.appendChild(el('h4', '', told(f.title, state.units)));
  f.words.forEach(function (t) { d.appendChild(el('p', '', told(t, state.units))); });
  return d;
}

// noMachine is how far the caution zone reaches at a station, as the list of its widths
// has it: where two stretches meet, the wider of both, and nowhere where either has none.
function noMachine(words, line, s) {
  var right = 0, left = 0, anywhere = false, farther = '';
  line.widths.forEach(function (w) {
    if (s < w[0] - END_M || w[1] + END_M < s) return;
    anywhere = anywhere || w[2] === null;
    right = Math.max(right, w[2]);
    left = Math.max(left, w[3]);
    if (w[4]) farther = ' ' + tell('The line may lie farther off there, and nothing says how far: find it before a machine works there.');
  });
  if (anywhere) return tell('No machine anywhere here until the line is found.');
  if (!(right > 0)) return '';
  right = words.shortUp(right);
  left = words.shortUp(left);
  if (right === left) return tell('No machine within {m} of the paint.', { m: right }) + farther + paintFirst(words, line);
  return tell('No machine within {m} to the right of the paint and {m2} to its left, looking in the direction of travel.', { m: right, m2: left }) + farther + paintFirst(words, line);
}

// paintFirst says where such a distance counts from, where it matters.
function paintFirst(words, line) {
  if (line.open) return ' ' + tell('That is from the paint on the ground. Do not measure from this map: nothing says how far off it may lie.');
  if (line.frame[0] > 0) return ' ' + tell('That is from the paint on the ground. From this map it is {m} more, for its datum.', { m: words.shortUp(line.frame[0]) });
  return '';
}

// offWords is how far the line may lie off the mark by what is only possible there.
function offWords(words, p) {
  if (p.off === null) return tell('The position is doubtful too: nothing says how far off the paint mark the line may lie.');
  if (!(p.off > p.h95)) return tell('The position is doubtful too: the line may lie farther off the paint mark than that.');
  return tell('The position is doubtful too: the line may lie up to {m} off the paint mark.', { m: words.shortUp(p.off) });
}

function suspected(found, state) {
  return found.filter(function (f) { return f.role === 'bleed_over' || f.role === 'doubt'; })
    .map(function (f) { return told(f.title, state.units); }).join('; ') + '.';
}

function sentenceOf(s) { return s.charAt(0).toUpperCase() + s.slice(1) + '.'; }

// placeLink gives the place to the device's own map program (RFC 5870).
function placeLink(plane, p, line) {
  var g = plane.lonLat(p.x, p.y), words = g.lat.toFixed(7) + ', ' + g.lon.toFixed(7);
  var box = el('p', 'small', (line.datum ? tell('Latitude, longitude (datum not stated): {text}', { text: words }) : tell('WGS 84 latitude, longitude: {text}', { text: words })) + ' ');
  var a = el('a', 'button', tell('Open in the device’s map'));
  a.href = 'geo:' + g.lat.toFixed(7) + ',' + g.lon.toFixed(7);
  box.appendChild(a);
  return box;
}

// othersNear lists the other lines within reach of a place, nearest first.
function othersNear(data, index, p, reach) {
  var out = [];
  data.lines.forEach(function (l, i) {
    if (i === index || !l.parts.length) return;
    var n = nearestOn(l, p.x, p.y);
    if (n.dist <= reach) out.push({ index: i, s: n.s, dist: n.dist });
  });
  return out.sort(function (a, b) { return a.dist - b.dist; });
}

// groundNear lists the nearest things of the background, to measure from: two at
// most, one of a name.
function groundNear(data, p) {
  var best = {}, far = 30;
  (data.ground || []).forEach(function (g) {
    var dist = toPath(g.path, p.x, p.y);
    if (dist <= far && !(best[g.name] <= dist)) best[g.name] = dist;
  });
  return Object.keys(best).map(function (n) { return { name: n, dist: best[n] }; })
    .sort(function (a, b) { return a.dist - b.dist; }).slice(0, 2);
}

function makeFigures(data, state, plane) {
  var box = byId('figures'), said = byId('said'), later = 0, seen = null;

  function show() {
    seen = show;
    empty(box);
    if (state.station === null) return;
    var line = data.lines[state.line], words = wordings[state.units], p = placeOn(line, state.station);
    box.appendChild(placeFigures(data, state, plane, state.line, state.station, false));
    othersNear(data, state.line, p, Math.max(2, state.reach)).forEach(function (o) {
      var d = el('div', 'also');
      d.appendChild(el('p', 'also-head', tell('Also here, {m} away:', { m: words.short(o.dist) })));
      d.appendChild(placeFigures(data, state, plane, o.index, o.s, true));
      box.appendChild(d);
    });
    speak(box.querySelector('.place').innerText);
  }

  // speak tells a screen reader once the slider rests.
  function speak(text) {
    clearTimeout(later);
    later = setTimeout(function () { said.textContent = text; }, 500);
  }

  // nothing is for a tap where no line was traced.
  function nothing(dist, name) {
    seen = function () { nothing(dist, name); };
    empty(box);
    var words = wordings[state.units];
    box.appendChild(el('p', 'care', tell('No line of this map was traced here. That is no proof that nothing is there: lines may be unmarked, plastic or unknown.')));
    if (dist < Infinity) box.appendChild(el('p', '', tell('The nearest traced line, {name}, is drawn about {m} away.', { name: name, m: words.short(dist) })));
    speak(box.textContent);
  }

  // beside is for what lies beside a line: it has a place on the plan and none along it.
  function beside(index, f) {
    seen = function () { beside(index, f); };
    empty(box);
    box.appendChild(besideFigures(data, state, index, f));
    speak(box.textContent);
  }
  return { show: show, nothing: nothing, beside: beside, seen: function () { return seen; } };
}
