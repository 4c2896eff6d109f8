// Marks of constant size on the plan: letter codes, stations, readings and
// findings at a point. They are laid anew for what is in sight.
function makeMarks(data, plan, state) {
  var map = plan.map, labels = L.layerGroup().addTo(map);
  var ticks = L.polyline([], { className: 'ticks', smoothFactor: 0, interactive: false }).addTo(map);
  var crosses = L.polyline([], { className: 'crosses', smoothFactor: 0, interactive: false }).addTo(map);
  var bars = L.polyline([], { className: 'stations', smoothFactor: 0, interactive: false }).addTo(map);
  var leaders = L.polyline([], { className: 'leaders', smoothFactor: 0, interactive: false }).addTo(map);
  var taken, movable, usual, strokes, drawn, view, ppm, sizes = {}, aside = false;

  function inView(x, y) { return view.contains(at(x, y)); }

  // sizeOf is how large words stand on the plan, with a little air, in pixels.
  function sizeOf(words, className) {
    var key = className + ' ' + words;
    if (!sizes[key]) {
      var probe = el('div', 'label ' + className), r;
      probe.appendChild(el('span', '', words));
      map.getPanes().markerPane.appendChild(probe);
      r = probe.firstChild.getBoundingClientRect();
      probe.remove();
      sizes[key] = { w: r.width + 4, h: r.height + 2 };
    }
    return sizes[key];
  }

  // label puts words beside a place if nothing is there yet, and returns where they
  // came to stand. Words that must stand cover what is no danger; what is one, and its
  // own words, they never do. Words that are to stand clear cover no traced line either.
  function label(x, y, words, className, must, clear) {
    var p = map.latLngToContainerPoint(at(x, y)), size = map.getSize(), own = sizeOf(words, className), w = own.w, h = own.h;
    // A label is held within the frame: one that is cut at its edge misleads.
    var q = L.point(Math.max(w / 2 + 2, Math.min(size.x - w / 2 - 2, p.x)), Math.max(h / 2 + 2, Math.min(size.y - h / 2 - 2, p.y)));
    if (q.distanceTo(p) > w) return false;
    if (q.distanceTo(p) > 0) { var g = map.containerPointToLatLng(q); x = g.lng; y = g.lat; p = q; }
    var box = [p.x - w / 2, p.y - h / 2, p.x + w / 2, p.y + h / 2];
    box.keep = className === 'gap' || className === 'doubt';
    if (taken.some(function (b) { return (b.keep || !must) && meets(box, b); }) || clear && overTraced(box)) return false;
    taken.push(box);
    if (!box.keep) movable.push(box);
    L.marker(at(x, y), { icon: L.divIcon({ className: 'label ' + className, html: el('span', '', words), iconSize: [0, 0] }), keyboard: false, interactive: false }).addTo(labels);
    return at(x, y);
  }

  // tracedInView are the traced lines in sight as strokes in pixels of the plan.
  function tracedInView() {
    var out = [];
    data.lines.forEach(function (l) {
      l.parts.forEach(function (p) {
        var last = null;
        for (var i = 0; i < p.x.length; i++) {
          var seen = inView(p.x[i], p.y[i]), q = seen || i > 0 && inView(p.x[i - 1], p.y[i - 1]) ? map.latLngToContainerPoint(at(p.x[i], p.y[i])) : null;
          if (q && i > 0) out.push([last || map.latLngToContainerPoint(at(p.x[i - 1], p.y[i - 1])), q]);
          last = q;
        }
      });
    });
    return out;
  }

  // overTraced reports whether a box lies on a traced line as broad as that is drawn.
  function overTraced(box) {
    var bounds = L.bounds([box[0] - 5, box[1] - 5], [box[2] + 5, box[3] + 5]);
    return drawn.some(function (d) { return L.LineUtil.clipSegment(d[0], d[1], bounds) !== false; });
  }

  // across is a short stroke of so many pixels across a line.
  function across(line, s, pixels) {
    var a = placeOn(line, s - 0.05), b = placeOn(line, s + 0.05), p = placeOn(line, s);
    var dx = b.x - a.x, dy = b.y - a.y, n = Math.hypot(dx, dy) || 1, r = pixels / 2 / ppm;
    return [at(p.x - dy / n * r, p.y + dx / n * r), at(p.x + dy / n * r, p.y - dx / n * r)];
  }

  // named is a line's letter and its own name: two lines of one utility differ.
  function named(line) {
    var name = line.name.length > 16 ? line.name.slice(0, 15) + '…' : line.name;
    return line.code === name ? name : line.code + ' ' + name;
  }

  // nearAnother reports whether a name there could be read as another line's.
  function nearAnother(index, x, y, pixels) {
    return data.lines.some(function (l, i) { return i !== index && l.parts.length > 0 && nearestOn(l, x, y).dist * ppm < pixels; });
  }

  function codes(line, index) {
    var end = lineEnd(line), gap = 190 / ppm, placed = 0;
    for (var s = Math.min(end / 2, gap * (0.3 + 0.3 * index)); s <= end; s += gap / 4) {
      var p = placeOn(line, s);
      if (p.gap || !inView(p.x, p.y)) continue;
      if (label(p.x, p.y, named(line), 'code', false)) { s += gap * 3 / 4; placed++; }
    }
    if (placed > 0) return;
    var spots = [];
    for (var k = 0; k <= 12; k++) {
      var spot = placeOn(line, end * (0.5 + (k % 2 ? 1 : -1) * k / 25));
      if (!spot.gap && inView(spot.x, spot.y)) spots.push(spot);
    }
    // Where the line itself is crowded its name stands beside it; where that could be
    // read as another line's, farther off with a stroke to its own. Where there is no
    // room but on a mark of danger, it is left out.
    if (spots.some(function (p) { return [0, 28, -28, 56, -56].some(function (px) { return beside(line, index, p, px); }); })) return;
    if (spots.some(function (p) { return [80, -80, 120, -120, 160, -160].some(function (px) { return led(p, [0, px], named(line), 'code', false); }); })) return;
    spots.some(function (p) { return label(p.x, p.y, named(line), 'code', true); });
  }

  function beside(line, index, p, px) {
    if (px !== 0 && nearAnother(index, p.x, p.y + px / ppm, 5 * named(line).length + 20 + Math.abs(px))) return false;
    return label(p.x, p.y + px / ppm, named(line), 'code', false);
  }

  // led puts words so many pixels off a place, with a stroke to it.
  function led(p, off, words, className, clear) {
    var stands = label(p.x + off[0] / ppm, p.y + off[1] / ppm, words, className, false, clear);
    if (stands && Math.hypot(off[0], off[1]) > 24) strokes.push([at(p.x, p.y), stands]);
    return stands;
  }

  function stations(line) {
    var words = wordings[state.units], step = roundStep(words.steps, 80 / ppm), ends = [], end = lineEnd(line);
    for (var k = 0; k * step <= end + 1e-6; k++) {
      var p = placeOn(line, k * step);
      if (p.gap || !inView(p.x, p.y)) continue;
      var stroke = across(line, k * step, 26);
      ends.push(stroke);
      var out = L.latLng(stroke[0].lat * 1.6 - p.y * 0.6, stroke[0].lng * 1.6 - p.x * 0.6);
      label(out.lng, out.lat, words.long(k * step).replace(/\.0 m$/, ' m'), 'station', false);
    }
    bars.setLatLngs(ends);
  }

  function readings() {
    var used = [], aside = [], r = 5 / ppm;
    data.lines.forEach(function (l) {
      var rd = l.readings;
      for (var i = 0; i < rd.x.length; i++) {
        if (!inView(rd.x[i], rd.y[i])) continue;
        var x = rd.x[i], y = rd.y[i], st = rd.status.charAt(i);
        if (st === 'a') {
          aside.push([at(x - r, y - r), at(x + r, y + r)], [at(x - r, y + r), at(x + r, y - r)]);
        } else if (st === 'u' && ppm > 8) {
          used.push([at(x, y - r), at(x, y + r)]);
        }
      }
    });
    ticks.setLatLngs(used);
    crosses.setLatLngs(aside);
  }

  var shapes = { square: 'M3 3H19V19H3Z', diamond: 'M11 1L21 11L11 21L1 11Z', triangle: 'M11 2L21 19H1Z' };
  function symbol(x, y, shape, filled) {
    var px = filled ? 34 : shape === 'diamond' ? 26 : 18; // a hazard is larger than a check that was passed
    var q = map.latLngToContainerPoint(at(x, y));
    var box = [q.x - px / 2, q.y - px / 2, q.x + px / 2, q.y + px / 2]; // no name lies on it
    box.keep = filled || shape === 'diamond';
    taken.push(box);
    var s = svgEl('svg', { width: px, height: px, viewBox: '0 0 22 22' });
    s.appendChild(svgEl('path', { d: shapes[shape], 'class': 'mark-shape' + (filled ? ' filled' : '') }));
    L.marker(at(x, y), { icon: L.divIcon({ className: 'symbol', html: s, iconSize: [px, px] }), zIndexOffset: filled ? 700 : shape === 'diamond' ? 650 : 600, keyboard: false, interactive: false }).addTo(labels);
  }

  // sideOf is a place so many pixels off a line, to the left or the right of travel.
  function sideOf(line, s, side, pixels) {
    var p = placeOn(line, s), end = across(line, s, 2)[side === 'left' ? 0 : 1];
    var dx = end.lng - p.x, dy = end.lat - p.y, n = Math.hypot(dx, dy) || 1;
    return { x: p.x + dx / n * pixels / ppm, y: p.y + dy / n * pixels / ppm, turn: Math.atan2(dx, dy) * 180 / Math.PI, gap: p.gap };
  }

  // arrow points from a line to the side on which the true line probably lies.
  function arrow(line, s, side) {
    var p = sideOf(line, s, side, 32);
    if (p.gap || !inView(p.x, p.y)) return false;
    var q = map.latLngToContainerPoint(at(p.x, p.y)), box = [q.x - 15, q.y - 15, q.x + 15, q.y + 15];
    if (taken.some(function (b) { return meets(box, b); })) return false;
    taken.push(box);
    var svg = svgEl('svg', { width: 30, height: 30, viewBox: '-11 -11 22 22' });
    svg.appendChild(svgEl('path', { d: 'M0 -10L8 0H3V10H-3V0H-8Z', transform: 'rotate(' + p.turn.toFixed(1) + ')' }));
    L.marker(at(p.x, p.y), { icon: L.divIcon({ className: 'side', html: svg, iconSize: [30, 30] }), keyboard: false, interactive: false }).addTo(labels);
    return true;
  }

  // hazards are laid before any words: crossings, checks and exposures. The starts of the
  // lines are kept free for their strokes.
  function hazards() {
    data.lines.forEach(function (l) {
      l.findings.forEach(function (f) {
        if (f.path.length < 2 || f.path[0] === null || !inView(f.path[0], f.path[1])) return;
        if (f.role === 'crossing') symbol(f.path[0], f.path[1], 'diamond');
        if (f.role === 'field_check') symbol(f.path[0], f.path[1], 'triangle', f.bad);
      });
      var rd = l.readings;
      for (var i = 0; i < rd.x.length; i++) if (rd.status.charAt(i) === 'e' && inView(rd.x[i], rd.y[i])) symbol(rd.x[i], rd.y[i], 'square');
      if (!l.parts.length || !inView(l.parts[0].x[0], l.parts[0].y[0])) return;
      var q = map.latLngToContainerPoint(at(l.parts[0].x[0], l.parts[0].y[0])), box = [q.x - 6, q.y - 6, q.x + 6, q.y + 6];
      box.keep = true;
      taken.push(box);
    });
  }

  // notTraced names a gap on its dashed line where that is long enough, else beside it
  // with a stroke to it: on no mark of danger, and on no line that was traced.
  function notTraced(f) {
    var n = f.path.length, p = { x: (f.path[0] + f.path[n - 2]) / 2, y: (f.path[1] + f.path[n - 1]) / 2 }, words = tell('not traced');
    if (!inView(p.x, p.y)) return;
    var offs = [[0, 0]];
    [26, 38, 54, 74, 98, 126, 160].forEach(function (r) {
      for (var k = 0; k < 8; k++) offs.push([r * (k % 2 ? 1.3 : 1) * Math.cos(k * Math.PI / 4 + Math.PI / 2), r * Math.sin(k * Math.PI / 4 + Math.PI / 2)]);
    });
    offs.some(function (o) { return led(p, o, words, 'gap', true); }) || offs.some(function (o) { return led(p, o, words, 'gap', false); }) || label(p.x, p.y, words, 'gap', true);
  }

  // findings lays "not traced" first: nothing may cover it.
  function findings() {
    data.lines.forEach(function (l) {
      l.findings.forEach(function (f) { if (f.role === 'gap' && f.path.length >= 2 && f.path[0] !== null) notTraced(f); });
    });
    data.lines.forEach(function (l) {
      l.findings.forEach(function (f) {
        if (f.path.length < 2 || f.path[0] === null) return;
        if (f.role === 'doubt') {
          var m = 2 * Math.floor(f.path.length / 4);
          if (inView(f.path[m], f.path[m + 1])) label(f.path[m], f.path[m + 1] + 26 / ppm, tell('in doubt'), 'doubt', false);
        }
        if (f.role === 'bleed_over' && f.grade !== 'watch') {
          var middle = (f.at[0] + f.at[1]) / 2, p = placeOn(l, middle), up = 26 / ppm;
          // The words stand across from the arrow, and above the line where there is none.
          var spot = f.side ? sideOf(l, middle, f.side === 'left' ? 'right' : 'left', 26) : { x: p.x, y: p.y + up };
          if (inView(p.x, p.y) && !warned(l, f, middle)) label(spot.x, spot.y, tell('do not trust'), 'doubt', false);
        }
        if (f.role === 'bleed_over' && f.side) {
          var pointed = 0; // two stand, where no mark is in their way
          [0.25, 0.75, 0.5, 0.4, 0.6, 0.1, 0.9].forEach(function (t) { if (pointed < 2 && arrow(l, f.at[0] + t * (f.at[1] - f.at[0]), f.side)) pointed++; });
        }
      });
    });
  }

  // warned puts "do not trust" beside its own stretch where it lies on no other line,
  // on the side away from the arrow first; it reports whether there was such a place.
  function warned(line, f, middle) {
    var index = data.lines.indexOf(line), words = tell('do not trust'), half = 4.5 * words.length + 7;
    var away = f.side === 'left' ? 'right' : 'left', to = away === 'left' ? 'right' : 'left';
    return [[away, 26], [away, 48], [to, 62], [away, 80], [to, 90]].some(function (o) {
      var q = sideOf(line, middle, o[0], o[1]);
      var covers = data.lines.some(function (l, i) {
        return l.parts.length > 0 && [-half, -half / 2, 0, half / 2, half].some(function (dx) { return nearestOn(l, q.x + dx / ppm, q.y).dist * ppm < (i === index ? 16 : 20); });
      });
      return !covers && inView(q.x, q.y) && label(q.x, q.y, words, 'doubt', false);
    });
  }

  var ringed = 'M-4.5 0A4.5 4.5 0 1 0 4.5 0A4.5 4.5 0 1 0 -4.5 0M-7.5 0H7.5M0 -7.5V7.5'; // with a cross through it

  // fixed shows what points are taped from, under a name where there is room for one: last
  // of all, for no word of danger makes way for it.
  function fixed() {
    (data.fixed || []).forEach(function (f) {
      var x = f.path[0], y = f.path[1];
      if (!inView(x, y)) return;
      var q = map.latLngToContainerPoint(at(x, y)), box = [q.x - 8, q.y - 8, q.x + 8, q.y + 8];
      if (taken.some(function (b) { return meets(box, b); })) return;
      taken.push(box);
      var svg = svgEl('svg', { width: 16, height: 16, viewBox: '-8 -8 16 16' });
      svg.appendChild(svgEl('path', { d: ringed, 'class': 'fixed' }));
      L.marker(at(x, y), { icon: L.divIcon({ className: 'symbol', html: svg, iconSize: [16, 16] }), keyboard: false, interactive: false }).addTo(labels);
      [-18, 18].some(function (px) { return label(x, y + px / ppm, f.name, 'station', false, true); });
    });
  }

  // travel shows on every line where it starts and which way it was walked.
  function travel(line) {
    var end = lineEnd(line), first = placeOn(line, 0);
    if (inView(first.x, first.y)) {
      [[0, -18], [0, 18], [-34, 0], [34, 0]].some(function (o) { return label(first.x + o[0] / ppm, first.y - o[1] / ppm, tell('start'), 'station', false); });
    }
    [0.2, 0.5, 0.8].forEach(function (t) {
      var s = end * t, p = placeOn(line, s), a = placeOn(line, Math.max(0, s - 0.5)), b = placeOn(line, Math.min(end, s + 0.5));
      if (p.gap || !inView(p.x, p.y) || end * ppm < 120 && t !== 0.5) return;
      var q = map.latLngToContainerPoint(at(p.x, p.y)), box = [q.x - 9, q.y - 9, q.x + 9, q.y + 9];
      if (taken.some(function (o) { return meets(box, o); })) return;
      taken.push(box);
      var svg = svgEl('svg', { width: 18, height: 18, viewBox: '-9 -9 18 18' });
      svg.appendChild(svgEl('path', { d: 'M9 0L-8 6L-3 0L-8 -6Z', 'class': 'mark-shape', transform: 'rotate(' + (Math.atan2(a.y - b.y, b.x - a.x) * 180 / Math.PI).toFixed(1) + ')' }));
      L.marker(at(p.x, p.y), { icon: L.divIcon({ className: 'symbol', html: svg, iconSize: [18, 18] }), keyboard: false, interactive: false }).addTo(labels);
    });
  }

  function scaleBar() {
    var words = wordings[state.units], step = roundStep(words.steps, 60 / ppm), px = step * ppm;
    byId('scale-words').textContent = words.long(step).replace(/\.0 m$/, ' m');
    byId('scale-bar').style.width = Math.round(px) + 'px';
    byId('scale-bar').parentNode.hidden = px > 260;
  }

  // takeFurniture keeps labels clear of what stands on the plan.
  function takeFurniture(e) {
    var r = e.getBoundingClientRect(), o = map.getContainer().getBoundingClientRect();
    if (!(r.width > 0)) return;
    var box = [r.left - o.left, r.top - o.top, r.right - o.left, r.bottom - o.top];
    box.keep = true;
    taken.push(box);
  }

  // ring is where the chosen place is marked, in pixels of the plan.
  function ring() {
    var p = plan.lit() && map.latLngToContainerPoint(plan.lit()), r = 23;
    return p && [p.x - r, p.y - r, p.x + r, p.y + r];
  }

  // uncover puts names and stations aside where one of them would lie over the chosen
  // place, and back where none does: where they stand hangs on that place alone, not on
  // those chosen before.
  function uncover() {
    var r = ring(), over = r && usual.some(function (b) { return meets(r, b); });
    if (over || aside) lay(over ? r : null);
  }

  function draw() {
    lay(null);
    uncover();
  }

  // lay lays all marks for what is in sight, clear of a place if one is given.
  function lay(clear) {
    ppm = plan.pixelsPerMetre();
    view = map.getBounds().pad(0.15);
    taken = [];
    movable = [];
    strokes = [];
    labels.clearLayers();
    byId('plan').parentNode.querySelectorAll('.zoom, .north, .scale').forEach(takeFurniture);
    drawn = tracedInView();
    hazards();
    findings();
    if (clear) taken.push(clear);
    readings();
    data.lines.forEach(function (l, i) { if (l.parts.length) codes(l, i); });
    data.lines.forEach(function (l) { if (l.parts.length) travel(l); });
    leaders.setLatLngs(strokes);
    var chosen = data.lines[state.line];
    if (chosen && chosen.parts.length) stations(chosen); else bars.setLatLngs([]);
    fixed();
    scaleBar();
    aside = !!clear;
    if (!clear) usual = movable;
  }
  map.on('moveend resize', draw);
  draw();
  return { draw: draw, uncover: uncover };
}
