// The page: one state, and everything that follows it.
var data = JSON.parse(byId('data').textContent);
var plane = makePlane(data.origin[0], data.origin[1]);
var firstTraced = data.lines.findIndex(function (l) { return l.parts.length > 0; });
tongue.lang = data.lang || 'en';
tongue.table = data.texts || {};
var state = { units: data.units, line: firstTraced, station: null, reach: 2 };
var root = document.documentElement;

// The theme comes first: nothing may flash white at night.
var dark = window.matchMedia ? window.matchMedia('(prefers-color-scheme: dark)') : null, chosenTheme = null;
function showTheme() {
  var t = chosenTheme || (dark && dark.matches ? 'dark' : 'light');
  root.setAttribute('data-theme', t);
  byId('theme').textContent = t === 'dark' ? tell('Light') : tell('Dark');
}
showTheme();
if (dark && dark.addEventListener) dark.addEventListener('change', showTheme);

document.querySelectorAll('[hidden]').forEach(function (e) { if (e.id !== 'no-where' && e.id !== 'where-words' && e.id !== 'tape-words' && e.id !== 'slider-words') e.hidden = false; });

var plan = makePlan(data, plane, tap), marks = makeMarks(data, plan, state), figures = makeFigures(data, state, plane);
var tape = makeTape(data, plan, state);
var where = makeWhere(data, state, plan, plane), profile = null, slider = byId('station'), chooser = byId('line');
if (firstTraced >= 0) profile = makeProfile(data, state, function (s) { choose(state.line, s); });

// choose makes one place of one line the chosen one, everywhere.
function choose(index, s, typed) {
  var other = index !== state.line;
  state.line = index;
  state.station = s;
  chooser.value = String(index);
  if (other) { setSlider(); marks.draw(); profile.draw(); }
  slider.value = s;
  if (!typed) showExact();
  slider.setAttribute('aria-valuetext', spoken());
  byId('slider-words').hidden = false;
  byId('slider-words').textContent = briefly();
  plan.light(placeOn(data.lines[index], s));
  marks.uncover();
  profile.move();
  figures.show();
}

// chooseBeside makes what lies beside a line, with no place along it, the chosen one.
function chooseBeside(index, f) {
  var other = index !== state.line, n = f.path.length, m = 2 * Math.floor(n / 4);
  state.line = index;
  state.station = null;
  chooser.value = String(index);
  if (other) { setSlider(); marks.draw(); }
  profile.draw();
  showExact();
  byId('slider-words').hidden = true;
  plan.light(n === 4 ? { x: (f.path[0] + f.path[2]) / 2, y: (f.path[1] + f.path[3]) / 2 } : { x: f.path[m], y: f.path[m + 1] });
  marks.uncover();
  figures.beside(index, f);
}

function spoken() {
  var w = wordings[state.units], p = toldAt(data.lines[state.line], state.station);
  var worst = doubt(findingsAt(data.lines[state.line], p.s, 1));
  return w.long(p.s) + ': ' + (p.edge && !p.gap ? tell('not traced beside here') + ', ' : '') + ((worst === 2 || p.distrusted) && !p.gap ? tell('do not trust') + ', ' : '') + (p.way ? tell('way back over a branch') : p.gap ? tell('not traced') : toldDepth(w, p, p.distrusted, data.date));
}

// briefly is what stands beside the slider, so that nobody has to look elsewhere
// while it moves: place, doubt, depth and band across the line.
function briefly() {
  var line = data.lines[state.line], w = wordings[state.units], p = toldAt(line, state.station), out = [];
  var head = line.name + ', ' + w.long(p.s) + ': ', worst = doubt(findingsAt(line, p.s, 1));
  if (p.way) return head + tell('way back over a branch');
  if (p.gap) return head + tell('not traced');
  if (p.edge) out.push(tell('not traced beside here'));
  if (worst === 2 || p.distrusted) out.push(tell('do not trust'));
  else if (worst === 1) out.push(tell('doubtful'));
  if (p.d === null) out.push(tell('depth not read'));
  else if (p.distrusted && p.d95 === null || breaksSurface(p.d, p.d95)) out.push(tell('depth not known'));
  else out.push(tell('depth {m}', { m: w.withBand(p.d, p.d95) }));
  out.push(acrossBriefly(w, p, line));
  return head + out.join('; ');
}

// showExact writes the chosen station into its box, in the units shown.
function showExact() {
  byId('exact').value = state.station === null ? '' : (state.station / unitM()).toFixed(1);
  byId('exact-unit').textContent = state.units === 'us' ? 'ft' : 'm';
}

function unitM() { return state.units === 'us' ? FOOT : 1; }

// chooseTyped goes where the box says, as far as the line goes.
function chooseTyped(rewrite) {
  var s = parseFloat(byId('exact').value) * unitM();
  if (!isFinite(s)) return;
  choose(state.line, Math.max(0, Math.min(lineEnd(data.lines[state.line]), s)), !rewrite);
}

// step goes to the next whole metre or foot.
function step(by) {
  var unit = unitM(), now = (state.station || 0) / unit, whole = by > 0 ? Math.floor(now + 1e-6) + 1 : Math.ceil(now - 1e-6) - 1;
  choose(state.line, Math.max(0, Math.min(lineEnd(data.lines[state.line]), whole * unit)));
}

function acrossBriefly(w, p, line) {
  if (p.h95 === null) return tell('across not known');
  if (oneSided(p, p.distrusted) && line.open) return tell('across left {m} or more, right {m2} or more', sidesOf(w, p, line));
  if (oneSided(p, p.distrusted)) return tell('across left {m}, right {m2}', sidesOf(w, p, line));
  var m = acrossOf(w, p, line);
  if (!p.doubtful) return tell('across {m}', { m: m });
  if (p.off === null) return tell('across {m}, doubtful: nothing says how far off', { m: m });
  if (!(p.off > p.h95)) return tell('across {m}, doubtful', { m: m });
  return tell('across {m}, doubtful: perhaps up to {m2} off', { m: m, m2: w.shortUp(p.off) });
}

function setSlider() {
  slider.max = lineEnd(data.lines[state.line]);
  slider.step = Math.max(0.1, Math.round(slider.max / 100) / 10);
}

// tap chooses the line nearest to the finger, if one is within reach.
function tap(x, y, reach) {
  if (tape.on()) { tape.tap(x, y); return; }
  var best = null;
  data.lines.forEach(function (l, i) {
    if (!l.parts.length) return;
    var n = nearestOn(l, x, y);
    if (!best || n.dist < best.dist) best = { dist: n.dist, index: i, s: n.s };
  });
  state.reach = reach;
  var aside = null;
  data.lines.forEach(function (l, i) {
    l.findings.forEach(function (f) {
      if (!l.parts.length || f.role !== 'gap' && f.role !== 'doubt' || !besideLine(f)) return;
      var dist = toPath(f.path, x, y);
      if (dist < (aside || best).dist) aside = { dist: dist, index: i, finding: f };
    });
  });
  if (aside && aside.dist <= reach) { chooseBeside(aside.index, aside.finding); return; }
  if (best && best.dist <= reach) { choose(best.index, best.s); showFigures(); }
  else figures.nothing(best ? best.dist : Infinity, best ? data.lines[best.index].name : '');
}

// showFigures brings what is in the largest type beside the plan into sight, where the
// caution at the foot of a small screen lies over it.
function showFigures() {
  var figure = document.querySelector('#figures .depth, #figures .stop');
  if (figure && figure.getBoundingClientRect().bottom > document.querySelector('.strip').getBoundingClientRect().top) byId('plan').scrollIntoView({ block: 'start' });
}

// attribute is what an element says for a key in the language shown; the page's own
// language needs no name.
function attribute(e, key) {
  return tongue.lang === 'en' && e.getAttribute('data-' + key + '-en') || e.getAttribute('data-' + key);
}

// showLanguage is for a page in two languages.
function showLanguage() {
  if (!byId('language')) return;
  root.lang = tongue.lang;
  byId('language').textContent = tongue.lang === 'en' ? 'Español' : 'English';
  byId('language').lang = tongue.lang === 'en' ? data.lang : 'en';
  document.querySelectorAll('[data-words]').forEach(function (e) { e.textContent = attribute(e, 'words'); });
  document.querySelectorAll('[data-label]').forEach(function (e) { e.setAttribute('aria-label', attribute(e, 'label')); });
  where.name();
  tape.name();
  showTheme();
}

function showUnits() {
  root.setAttribute('data-units', state.units);
  var otherUnits = wordings[state.units === 'us' ? 'metric' : 'us'];
  byId('units').textContent = otherUnits.button();
  byId('units').setAttribute('aria-label', otherUnits.switchTo());
  document.querySelectorAll('[data-metric]').forEach(function (e) { e.textContent = attribute(e, state.units); });
  marks.draw();
  if (profile) {
    profile.draw();
    showExact();
    var seen = figures.seen();
    if (state.station !== null) choose(state.line, state.station);
    if (seen) seen();
  }
  where.words();
  tape.words();
}

byId('units').addEventListener('click', function () { state.units = state.units === 'us' ? 'metric' : 'us'; showUnits(); });
if (byId('language')) {
  byId('language').addEventListener('click', function () {
    tongue.lang = tongue.lang === 'en' ? data.lang : 'en';
    showLanguage();
    showUnits();
  });
}
byId('theme').addEventListener('click', function () { chosenTheme = root.getAttribute('data-theme') === 'dark' ? 'light' : 'dark'; showTheme(); });
byId('print').addEventListener('click', function () { window.print(); });
if (plan.under) {
  byId('under').addEventListener('click', function () { byId('under').setAttribute('aria-pressed', String(plan.under.toggle())); });
}
byId('in').addEventListener('click', function () { plan.zoom(1); });
byId('out').addEventListener('click', function () { plan.zoom(-1); });
byId('all').addEventListener('click', plan.fitAll);
if (profile) {
  chooser.value = String(state.line);
  setSlider();
  slider.addEventListener('input', function () { choose(state.line, Number(slider.value)); });
  byId('exact').addEventListener('input', function () { chooseTyped(false); });
  byId('exact').addEventListener('change', function () { chooseTyped(true); });
  byId('back').addEventListener('click', function () { step(-1); });
  byId('on').addEventListener('click', function () { step(1); });
  chooser.addEventListener('change', function () { choose(Number(chooser.value), 0); });
}
document.querySelectorAll('button.show').forEach(function (b) {
  b.addEventListener('click', function () {
    var index = Number(b.getAttribute('data-line')), line = data.lines[index], f = line.findings[b.getAttribute('data-finding')];
    var points = [];
    if (f) points = flatPath(f.path);
    else line.parts.forEach(function (p) { p.x.forEach(function (x, i) { points.push(at(x, p.y[i])); }); });
    if (points.length) plan.frame(points);
    if (f && line.parts.length && besideLine(f)) chooseBeside(index, f);
    else if (line.parts.length) choose(index, f && f.at.length && f.at[0] !== null ? (f.at[0] + f.at[f.at.length - 1]) / 2 : 0);
    byId('plan').scrollIntoView({ block: 'nearest' });
    byId('plan').focus({ preventScroll: true });
  });
});
// A way to a list opens it: what is detail is folded.
document.querySelectorAll('a[href^="#"]').forEach(function (a) {
  a.addEventListener('click', function () {
    var fold = document.querySelector(a.hash + ' > .fold');
    if (fold) fold.open = true;
  });
});
// On paper the page prints what it knows: nothing stays folded but the tables of
// the lines, which the printed sheet has.
window.addEventListener('beforeprint', function () {
  document.querySelectorAll('.lists details').forEach(function (d) { if (d.className === 'fold' || !d.querySelector('table, .stake')) d.open = true; });
  document.querySelectorAll('#rows details').forEach(function (d) { d.open = true; });
});
// The device knows the day, which the map cannot: a ticket that has lapsed says so first.
(function () {
  var late = byId('late'), now = new Date();
  function two(n) { return (n < 10 ? '0' : '') + n; }
  if (late) late.hidden = late.getAttribute('data-until') >= now.getFullYear() + '-' + two(now.getMonth() + 1) + '-' + two(now.getDate());
})();
new ResizeObserver(function () { plan.map.invalidateSize({ animate: false }); }).observe(byId('plan'));
showUnits();
makeKeeper();
window.loamline = { data: data, tell: tell, words: { metric: wordings.metric, us: wordings.us, depth: depthWords, position: positionWords }, plane: plane, state: state, plan: plan };
