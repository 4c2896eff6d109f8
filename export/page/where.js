// Where am I: a dot and its accuracy circle, and plain words where the browser
// does not tell.
function makeWhere(data, state, plan, plane) {
  var button = byId('where'), note = byId('where-words'), watch = null, last = null, dot = null, circle = null, first = true;

  // say keeps how a message is made: it is said again in other units or another language.
  var message = null;
  function say(make) {
    message = make;
    note.hidden = false;
    note.textContent = make();
  }

  function stop() {
    if (watch !== null) navigator.geolocation.clearWatch(watch);
    watch = null;
    last = null;
    [dot, circle].forEach(function (l) { if (l) l.remove(); });
    dot = circle = null;
    message = null;
    name();
    note.hidden = true;
  }

  function ring(p, radius) {
    var out = [];
    for (var i = 0; i < 72; i++) out.push(at(p.x + radius * Math.cos(i * Math.PI / 36), p.y + radius * Math.sin(i * Math.PI / 36)));
    return out;
  }

  function nearestLine(p) {
    var best = { dist: Infinity, name: '' };
    data.lines.forEach(function (l) {
      if (!l.parts.length) return;
      var n = nearestOn(l, p.x, p.y);
      if (n.dist < best.dist) best = { dist: n.dist, name: l.name };
    });
    return best;
  }

  function name() { button.textContent = watch === null ? tell('Where am I?') : tell('Hide me'); }

  function words() { if (message) say(message); }

  function placeWords() {
    var w = wordings[state.units], near = nearestLine(last.p), s = tell('You are within {m} according to the device.', { m: '± ' + w.shortUp(last.accuracy) });
    if (near.dist < Infinity) s += ' ' + tell('The nearest line, {name}, is drawn about {m} from the dot.', { name: near.name, m: w.short(near.dist) });
    return s + ' ' + tell('Never dig by the dot: it is far less sure than the map, and may be wrong by more than it says.');
  }

  function found(pos) {
    var p = plane.xy(pos.coords.longitude, pos.coords.latitude);
    last = { p: p, accuracy: pos.coords.accuracy };
    if (!dot) {
      circle = L.polygon(ring(p, last.accuracy), { className: 'accuracy', smoothFactor: 0, interactive: false }).addTo(plan.map);
      dot = L.marker(at(p.x, p.y), { icon: L.divIcon({ className: 'me', html: el('span'), iconSize: [22, 22] }), keyboard: false, interactive: false }).addTo(plan.map);
    }
    circle.setLatLngs(ring(p, last.accuracy));
    dot.setLatLng(at(p.x, p.y));
    if (first) {
      first = false;
      if (nearestLine(p).dist < 5000) plan.map.panTo(at(p.x, p.y), { animate: false });
    }
    say(placeWords);
  }

  // A page opened as a file is told no position: a button would be dead there.
  var file = location.protocol === 'file:' || location.protocol === 'content:';
  if (file) {
    button.hidden = true;
    byId('no-where').hidden = false;
  }

  function failed(e) {
    stop();
    say(function () {
      var why = tell('The device has no position now.');
      if (e.code === 1) {
        why = tell('The browser does not tell this page where you are.') + ' ' + tell('Allow it in the browser’s settings and try again.');
      }
      if (e.code === 3) why = tell('No position came within half a minute. Stand under open sky and try again.');
      return why + ' ' + tell('Tap a line, then “Open in the device’s map”.');
    });
  }

  note.addEventListener('click', function () { if (watch === null) { message = null; note.hidden = true; } });
  button.addEventListener('click', function () {
    if (watch !== null) { stop(); return; }
    if (!navigator.geolocation || window.isSecureContext === false) {
      failed({ code: 1 });
      return;
    }
    first = true;
    say(function () { return tell('Asking the device where you are …'); });
    watch = navigator.geolocation.watchPosition(found, failed, { enableHighAccuracy: true, maximumAge: 5000, timeout: 30000 });
    name();
  });
  return { words: words, name: name };
}
