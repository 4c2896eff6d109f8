// The measuring tape: two places on the plan, the distance between them, and how
// far the second lies from the nearest line and from the edges of its zones.
function makeTape(data, plan, state) {
  var button = byId('tape'), note = byId('tape-words'), on = false, places = [], dots = [];
  var line = L.polyline([], { className: 'tape', smoothFactor: 0, interactive: false }).addTo(plan.map);

  function clear() {
    places = [];
    dots.forEach(function (d) { d.remove(); });
    dots = [];
    line.setLatLngs([]);
  }

  // nearestLine is the line nearest to a place; in the second half of a tie the
  // first one stays.
  function nearestLine(p) {
    var best = null;
    data.lines.forEach(function (l) {
      if (!l.parts.length) return;
      var n = nearestOn(l, p.x, p.y);
      if (!best || n.dist < best.dist) best = { dist: n.dist, s: n.s, line: l };
    });
    return best;
  }

  // toEdge is the distance from a place to the nearest edge of an area, and
  // whether the place lies inside it.
  function toEdge(polys, p) {
    var best = Infinity, inside = false;
    polys.forEach(function (rings) {
      var odd = false;
      rings.forEach(function (r) {
        for (var i = 0, n = r.length / 2; i < n; i++) {
          var k = (i + 1) % n, ax = r[2 * i], ay = r[2 * i + 1], bx = r[2 * k], by = r[2 * k + 1];
          var dx = bx - ax, dy = by - ay, len2 = dx * dx + dy * dy;
          var t = len2 > 0 ? Math.max(0, Math.min(1, ((p.x - ax) * dx + (p.y - ay) * dy) / len2)) : 0;
          best = Math.min(best, Math.hypot(p.x - ax - t * dx, p.y - ay - t * dy));
          if ((ay > p.y) !== (by > p.y) && p.x < ax + (p.y - ay) / (by - ay) * dx) odd = !odd;
        }
      });
      inside = inside || odd;
    });
    return { dist: best, inside: inside };
  }

  // zoneWords is about the tolerance zone of a line, or about a caution zone, without a name.
  function zoneWords(w, name, polys, p) {
    if (!polys.length) return '';
    var e = toEdge(polys, p);
    var by = { m: w.short(e.dist), name: name };
    if (name) return ' ' + (e.inside ? tell('It lies inside the tolerance zone of {name}, {m} from its edge.', by) : tell('It lies outside the tolerance zone of {name}, {m} from its edge.', by));
    return ' ' + (e.inside ? tell('It lies inside the caution zone, {m} from its edge.', by) : tell('It lies outside the caution zone, {m} from its edge.', by));
  }

  function words() {
    if (!on) return;
    var w = wordings[state.units], said = '';
    if (places.length === 0) said = tell('Measuring: tap the first place on the plan.');
    if (places.length === 1) said = tell('Tap the second place.') + ' ';
    if (places.length === 2) said = tell('Distance {m}.', { m: w.short(Math.hypot(places[1].x - places[0].x, places[1].y - places[0].y)) }) + ' ';
    if (places.length > 0) {
      var p = places[places.length - 1], near = nearestLine(p);
      if (near) {
        var there = toldAt(near.line, near.s), by = { m: w.short(near.dist), name: near.line.name, m2: w.long(near.s) };
        said += places.length === 1 ? tell('The first place is {m} from {name} as drawn, at its {m2}.', by) : tell('The second place is {m} from {name} as drawn, at its {m2}.', by);
        if (there.gap) said += ' ' + tell('The line is not traced there: the dashed line only joins the ends.');
        else if (there.distrusted) said += ' ' + tell('Do not trust the paint mark there: the line may lie elsewhere.');
        said += zoneWords(w, near.line.name, near.line.tolerance, p) + zoneWords(w, '', near.line.caution, p);
      }
      said += ' ' + tell('Measured on the drawing, which is no surer than its bands. Expose to verify.');
    }
    note.hidden = false;
    note.textContent = said;
  }

  function dot(p) {
    dots.push(L.marker(at(p.x, p.y), { icon: L.divIcon({ className: 'tape-end', html: el('span'), iconSize: [18, 18] }), keyboard: false, interactive: false }).addTo(plan.map));
  }

  // tap takes a place; the third begins anew.
  function tap(x, y) {
    if (places.length === 2) clear();
    places.push({ x: x, y: y });
    dot({ x: x, y: y });
    line.setLatLngs(places.map(function (p) { return at(p.x, p.y); }));
    words();
  }

  function name() { button.textContent = on ? tell('End measuring') : tell('Measure'); }

  button.addEventListener('click', function () {
    on = !on;
    clear();
    button.setAttribute('aria-pressed', String(on));
    name();
    note.hidden = !on;
    words();
  });
  return { on: function () { return on; }, tap: tap, words: words, name: name };
}
