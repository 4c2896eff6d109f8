// The profile: depth below ground along the chosen line, with its band.
function makeProfile(data, state, onTouch) {
  var svg = byId('profile'), frame = byId('profile-frame'), stretch = 1, cursor = null, scaleX = null;
  var left = 62, right = 16, top = 46, bottom = 34, high = 246;

  // deepest is as deep as the profile goes: what is drawn and what was used of the
  // readings. One that was set aside far off would press the line to the ground.
  function deepest(line) {
    var d = 0;
    line.parts.forEach(function (p) {
      p.d.forEach(function (v, i) { if (v !== null) d = Math.max(d, v + (p.d95[i] || 0)); });
    });
    line.readings.d.forEach(function (v, i) { if (v !== null && line.readings.s[i] !== null && line.readings.status.charAt(i) !== 'a') d = Math.max(d, v); });
    line.findings.forEach(function (f) {
      var other = crossed(line, f);
      if (other !== null) d = Math.max(d, other);
    });
    return d > 0 ? d * 1.12 : 1;
  }

  // crossed is the depth of the line that crosses by a finding, or null.
  function crossed(line, f) {
    if (f.role !== 'crossing' || f.at[0] === null || !f.dd || f.dd[0] === null) return null;
    var here = placeOn(line, f.at[0]).d;
    return here === null ? null : Math.max(0, here + f.dd[0]);
  }

  // distrusted are the stretches on which neither depth nor place is to be trusted.
  function distrusted(line) {
    return line.findings.filter(function (f) { return f.at.length === 2 && f.at[0] !== null && doubt([f]) === 2; });
  }

  function add(name, attributes, text) { var e = svgEl(name, attributes, text); svg.appendChild(e); return e; }

  function draw() {
    empty(svg);
    cursor = null;
    var line = data.lines[state.line];
    if (!line || !line.parts.length) return;
    var words = wordings[state.units], end = lineEnd(line) || 1, deep = deepest(line);
    var width = Math.max(280, Math.round((frame.clientWidth - 2) * stretch)), height = high;
    svg.setAttribute('width', width);
    svg.setAttribute('height', height);
    svg.setAttribute('viewBox', '0 0 ' + width + ' ' + height);
    var w = width - left - right, h = height - top - bottom;
    var x = function (s) { return left + s / end * w; }, y = function (d) { return top + d / deep * h; };
    scaleX = { at: function (px) { return Math.max(0, Math.min(end, (px - left) / w * end)); }, px: x };

    pattern('p-bars', 9, 3);
    pattern('p-bars-watch', 12, 2);
    line.findings.forEach(function (f) {
      if (f.at.length !== 2) return;
      var box = { x: x(f.at[0]), y: top, width: Math.max(2, x(f.at[1]) - x(f.at[0])), height: h };
      if (f.role === 'gap' && f.at[0] !== null) {
        add('rect', L.extend({ 'class': 'p-gap' }, box));
      }
      if (f.role === 'doubt' && f.at[0] !== null) add('rect', L.extend({ 'class': 'p-doubt ' + (f.held ? 'watch' : 'suspect') }, box));
      if (f.role === 'bleed_over') add('rect', L.extend({ 'class': 'p-doubt ' + f.grade }, box));
    });
    grid(words, end, deep, w, h, x, y);
    line.parts.forEach(function (p) { band(p, x, y); });
    dots(line, words, x, y, deep);
    line.parts.forEach(function (p) { curve(line, p, x, y); });
    marks(line, words, x, y, h);
    plates(line, x, y, deep);
    cursor = add('g', { 'class': 'p-cursor', visibility: 'hidden' });
    cursor.appendChild(svgEl('line', { x1: 0, x2: 0, y1: top - 8, y2: top + h }));
    cursor.appendChild(svgEl('circle', { cx: 0, cy: 0, r: 8 }));
    cursor.setAttribute('data-deep', deep);
    var times = (h / deep) / (w / end);
    byId('stretch').textContent = tell('Ground is drawn level. Heights stretched {n} times. Depths are estimates: expose to verify.', { n: times >= 10 ? Math.round(times) : times.toFixed(1) });
    svg.setAttribute('aria-label', tell('Profile of {text}: read depth to centre with its 95 % band along {m}. The slider reads it out.', { text: titleOf(line), m: words.long(end) }));
    move();
  }

  // plates name what is not traced and what is not to be trusted, however short it is
  // drawn: words wider than their stretch stand over a bar as long as the stretch, where
  // they cover neither the line nor a crossing.
  function plates(line, x, y, deep) {
    var taken = [], end = x(lineEnd(line)), floor = y(deep) - (below(line, deep).length ? 54 : 30), heights = [];
    for (var k = 0; top + 6 + 27 * k <= floor; k++) heights.push(top + 6 + 27 * k);
    line.parts.forEach(function (p) {
      p.s.forEach(function (s, i) { if (p.d[i] !== null) taken.push([x(s) - 2, y(p.d[i]) - 6, x(s) + 2, y(p.d[i]) + 6]); });
    });
    line.findings.forEach(function (f) {
      var other = crossed(line, f);
      if (other !== null) taken.push([x(f.at[0]) - 10, y(other) - 10, x(f.at[0]) + 10, y(other) + 10]);
    });
    var read = taken.length;
    function plate(at, words, className) {
      var from = x(at[0]), to = Math.max(from + 2, x(at[1])), half = 4 * words.length + 6;
      var middle = Math.max(left + half, Math.min(end - half, (from + to) / 2));
      function room(y, first) {
        var box = [Math.min(from, middle - half), y, Math.max(to, middle + half), y + 24];
        return !taken.slice(first).some(function (b) { return meets(box, b); });
      }
      var up = heights.filter(function (y) { return room(y, 0); }).concat(heights.filter(function (y) { return room(y, read); }), heights)[0];
      taken.push([Math.min(from, middle - half), up, Math.max(to, middle + half), up + 24]);
      add('rect', { x: from, y: up + 20, width: to - from, height: 4, 'class': className });
      add('rect', { x: middle - half, y: up, width: 2 * half, height: 20, rx: 3, 'class': className });
      add('text', { x: middle, y: up + 15, 'text-anchor': 'middle', 'class': className + '-words' }, words);
    }
    line.findings.forEach(function (f) { if (f.role === 'gap' && f.at.length === 2 && f.at[0] !== null) plate(f.at, tell('not traced'), 'p-missing'); });
    joined(distrusted(line)).forEach(function (at) { plate(at, tell('do not trust'), 'p-stop'); });
  }

  // joined are the stretches of findings, those that meet as one.
  function joined(findings) {
    var out = [];
    findings.map(function (f) { return f.at.slice(); }).sort(function (a, b) { return a[0] - b[0]; }).forEach(function (at) {
      var last = out[out.length - 1];
      if (last && at[0] <= last[1] + END_M) last[1] = Math.max(last[1], at[1]); else out.push(at);
    });
    return out;
  }

  // below are the readings set aside that lie below what is drawn: by station and depth.
  function below(line, deep) {
    var r = line.readings, out = [];
    r.s.forEach(function (s, i) { if (s !== null && r.d[i] !== null && r.d[i] > deep) out.push({ s: s, d: r.d[i] }); });
    return out;
  }

  // pattern is the bars that mark a suspected stretch on the plan too.
  function pattern(id, step, bar) {
    var p = add('pattern', { id: id, width: step, height: 8, patternUnits: 'userSpaceOnUse' });
    p.appendChild(svgEl('rect', { width: bar, height: 8, 'class': 'p-bar' }));
  }

  function grid(words, end, deep, w, h, x, y) {
    add('line', { x1: left, x2: left + w, y1: top, y2: top, 'class': 'p-ground' });
    add('text', { x: left, y: top - 10, 'class': 'p-words' }, tell('ground'));
    var dStep = roundStep(words.depthSteps, deep / Math.max(2, h / 44));
    for (var d = dStep; d <= deep; d += dStep) {
      add('line', { x1: left, x2: left + w, y1: y(d), y2: y(d), 'class': 'p-grid' });
      add('text', { x: left - 8, y: y(d) + 5, 'text-anchor': 'end', 'class': 'p-words' }, words === wordings.us ? inchWords(nearest(d / INCH)) : d.toFixed(dStep < 0.1 ? 2 : 1) + ' m');
    }
    var sStep = roundStep(words.steps, end / Math.max(1, w / 74));
    for (var s = 0; s <= end * 1.0001; s += sStep) {
      add('line', { x1: x(s), x2: x(s), y1: top + h, y2: top + h + 6, 'class': 'p-ground' });
      var station = words.long(s).replace(/\.0 m$/, ' m'), edge = left + w + right - 5 * station.length; // where half of it is room enough
      add('text', { x: Math.min(x(s), edge), y: top + h + 22, 'text-anchor': 'middle', 'class': 'p-words' }, station);
    }
  }

  // runs calls f with each run of vertices at which a depth was read.
  function runs(p, f) {
    var run = [];
    for (var i = 0; i <= p.d.length; i++) {
      if (i < p.d.length && p.d[i] !== null) { run.push(i); continue; }
      if (run.length) f(run);
      run = [];
    }
  }

  function band(p, x, y) {
    runs(p, function (run) {
      var up = [], down = [];
      run.forEach(function (i) {
        if (p.d95[i] === null) return;
        up.push(x(p.s[i]) + ',' + y(Math.max(0, p.d[i] - p.d95[i])));
        down.unshift(x(p.s[i]) + ',' + y(p.d[i] + p.d95[i]));
      });
      if (up.length > 1) add('polygon', { points: up.concat(down).join(' '), 'class': 'p-band' });
    });
  }

  // curve draws the line as it was read; where it is not to be trusted it is a thin row
  // of dashes in no line's colour.
  function curve(line, p, x, y) {
    var doubted = distrusted(line);
    function inDoubt(s) { return doubted.some(function (f) { return f.at[0] <= s && s <= f.at[1]; }); }
    runs(p, function (run) {
      for (var i = 0; i < run.length;) {
        var bad = inDoubt(p.s[run[i]]), points = [], k = i;
        for (; k < run.length && inDoubt(p.s[run[k]]) === bad; k++) points.push(run[k]);
        if (k < run.length) points.push(run[k]); // up to where the next begins
        stroke(line, points.map(function (v) { return x(p.s[v]) + ',' + y(p.d[v]); }).join(' '), bad);
        i = k;
      }
    });
  }

  function stroke(line, points, bad) {
    if (bad) {
      add('polyline', { points: points, 'class': 'p-doubted-base' });
      add('polyline', { points: points, 'class': 'p-doubted' });
      return;
    }
    add('polyline', { points: points, 'class': 'edge', fill: 'none' });
    add('polyline', { points: points, fill: 'none', stroke: line.base, 'stroke-width': 6 });
    add('polyline', { points: points, fill: 'none', stroke: line.color, 'stroke-width': 4,
      'stroke-dasharray': line.dash ? line.dash.map(function (d) { return d * 4; }).join(' ') : 'none' });
  }

  function dots(line, words, x, y, deep) {
    var r = line.readings, ticks = '', crosses = '', beyond = below(line, deep);
    for (var i = 0; i < r.s.length; i++) {
      if (r.s[i] === null || r.d[i] === null) continue;
      if (r.d[i] > deep) continue; // set aside, or it would be on the scale
      var px = x(r.s[i]).toFixed(1), py = y(r.d[i]).toFixed(1), st = r.status.charAt(i);
      if (st === 'u') ticks += 'M' + px + ' ' + py + 'm0 -4v8';
      if (st === 'a') crosses += 'M' + px + ' ' + py + 'm-4 -4l8 8m0 -8l-8 8';
      if (st === 'e') add('rect', { x: px - 7, y: py - 7, width: 14, height: 14, 'class': 'mark-shape' });
    }
    if (ticks) add('path', { d: ticks, 'class': 'ticks' });
    if (crosses) add('path', { d: crosses, 'class': 'crosses' });
    if (beyond.length) deeper(beyond, words, x, y(deep));
  }

  // deeper marks at the lower edge the readings set aside that lie below it, and says how
  // deep the deepest was read.
  function deeper(beyond, words, x, edge) {
    var worst = beyond.reduce(function (a, b) { return b.d > a.d ? b : a; }), marks = '';
    beyond.forEach(function (b) { marks += 'M' + x(b.s).toFixed(1) + ' ' + (edge - 1) + 'l-6 -9h12Z'; });
    add('path', { d: marks, 'class': 'p-beyond' });
    var text = beyond.length === 1 ? tell('set aside, below: {m}', { m: words.short(worst.d) }) : tell('set aside, below: {n}, to {m}', { n: beyond.length, m: words.short(worst.d) });
    var said = add('text', { x: 0, y: edge - 14, 'text-anchor': 'middle', 'class': 'p-words' }, text);
    // Its size is that of the words as they stand, in whatever language: over the axis sooner
    // than cut at the edge.
    var half = said.getComputedTextLength() / 2 + 2, end = x(lineEnd(data.lines[state.line]));
    var from = Math.min(left + half, Math.max(half, end - half)), to = Math.max(end - half, from);
    said.setAttribute('x', Math.max(from, Math.min(to, Math.min(end + right - half, x(worst.s)))));
  }

  function marks(line, words, x, y, h) {
    // Names stand in two rows above the ground, none on another or on its name.
    var rows = [[[left, left + 58]], []];
    function name(px, text) {
      var half = text.length * 4.2 + 4;
      px = Math.max(half, Math.min(x(lineEnd(line)) + right - half, px));
      rows.some(function (row, k) {
        if (row.some(function (r) { return px - half < r[1] && r[0] < px + half; })) return false;
        row.push([px - half, px + half]);
        add('text', { x: px, y: top - 10 - 18 * k, 'text-anchor': 'middle', 'class': 'p-words p-name' }, text);
        return true;
      });
    }
    line.findings.forEach(function (f) {
      if (f.role !== 'crossing' || f.at[0] === null) return;
      var px = x(f.at[0]), other = crossed(line, f);
      add('line', { x1: px, x2: px, y1: top, y2: top + h, 'class': 'p-cross' });
      if (other !== null) add('path', { d: 'M' + px + ' ' + (y(other) - 9) + 'l9 9l-9 9l-9 -9Z', 'class': 'mark-shape' });
      var called = f.other.length > 18 ? f.other.slice(0, 17) + '…' : f.other;
      name(px, called);
    });
  }

  // move puts the cursor where the chosen place is, and scrolls to it.
  function move() {
    if (!cursor || state.station === null) return;
    var line = data.lines[state.line], p = placeOn(line, state.station), px = scaleX.px(p.s);
    cursor.setAttribute('visibility', 'visible');
    cursor.setAttribute('transform', 'translate(' + px + ' 0)');
    var ring = cursor.lastChild, deep = Number(cursor.getAttribute('data-deep'));
    ring.setAttribute('visibility', p.d === null ? 'hidden' : 'inherit');
    if (p.d !== null) ring.setAttribute('cy', top + p.d / deep * (high - top - bottom));
    if (px < frame.scrollLeft + 40 || px > frame.scrollLeft + frame.clientWidth - 40) frame.scrollLeft = px - frame.clientWidth / 2;
  }

  function touch(e) {
    if (!scaleX) return;
    onTouch(scaleX.at(e.clientX - svg.getBoundingClientRect().left));
  }
  svg.addEventListener('pointerdown', function (e) { svg.setPointerCapture(e.pointerId); touch(e); });
  svg.addEventListener('pointermove', function (e) { if (e.buttons || e.pressure > 0) touch(e); });
  byId('wider').addEventListener('click', function () { stretch = Math.min(16, stretch * 2); draw(); });
  byId('narrower').addEventListener('click', function () { stretch = Math.max(1, stretch / 2); draw(); });
  window.addEventListener('resize', draw);
  return { draw: draw, move: move };
}
