// The plan: a Leaflet map in metres of the job's plane, x east and y north.
function at(x, y) { return L.latLng(y, x); }

function flatPath(values) {
  var out = [];
  for (var i = 0; i + 1 < values.length; i += 2) out.push(at(values[i], values[i + 1]));
  return out;
}

// planCRS is plain metres; with a background map it is the map's projection,
// reached through degrees, so that tiles lie where they belong.
function planCRS(data, plane) {
  if (!data.tiles) return L.CRS.Simple;
  var mercator = L.Projection.SphericalMercator;
  return L.extend({}, L.CRS, {
    code: 'job plane', infinite: false, wrapLng: undefined, wrapLat: undefined,
    projection: {
      bounds: mercator.bounds,
      project: function (p) { var g = plane.lonLat(p.lng, p.lat); return mercator.project(L.latLng(g.lat, g.lon)); },
      unproject: function (q) { var g = mercator.unproject(q), p = plane.xy(g.lng, g.lat); return at(p.x, p.y); }
    },
    transformation: L.CRS.EPSG3857.transformation,
    distance: function (a, b) { return Math.hypot(a.lng - b.lng, a.lat - b.lat); }
  });
}

// planBounds holds the lines; without any, the readings, less strays.
function planBounds(data) {
  var xs = [], ys = [];
  data.lines.forEach(function (l) {
    l.parts.forEach(function (p) { xs = xs.concat(p.x); ys = ys.concat(p.y); });
  });
  if (xs.length === 0) {
    data.lines.forEach(function (l) { xs = xs.concat(l.readings.x); ys = ys.concat(l.readings.y); });
    var mx = median(xs), my = median(ys);
    var near = xs.map(function (x, i) { return Math.hypot(x - mx, ys[i] - my) < 1000; });
    xs = xs.filter(function (_, i) { return near[i]; });
    ys = ys.filter(function (_, i) { return near[i]; });
  }
  if (xs.length === 0) return L.latLngBounds(at(-20, -20), at(20, 20));
  var lo = function (v) { return v.reduce(function (a, b) { return Math.min(a, b); }); };
  var hi = function (v) { return v.reduce(function (a, b) { return Math.max(a, b); }); };
  return L.latLngBounds(at(lo(xs) - 2, lo(ys) - 2), at(hi(xs) + 2, hi(ys) + 2));
}

function median(v) {
  var s = v.slice().sort(function (a, b) { return a - b; });
  return s.length ? s[s.length >> 1] : 0;
}

function makePlan(data, plane, onTap) {
  var still = window.matchMedia && window.matchMedia('(prefers-reduced-motion: reduce)').matches;
  var map = L.map('plan', {
    crs: planCRS(data, plane), attributionControl: false, zoomControl: false, zoomSnap: 0, zoomDelta: 0.8,
    wheelPxPerZoomLevel: 100, doubleClickZoom: true, inertia: !still, zoomAnimation: !still, fadeAnimation: !still,
    renderer: L.svg({ padding: 0.4 }), minZoom: -20, maxZoom: 40
  });
  var bounds = planBounds(data);
  // fitAll shows everything, clear of the buttons. A frame that is not laid out
  // yet has no size to fit.
  function fitAll() {
    var size = map.getSize();
    if (size.x < 160 || size.y < 120) { map.setView(bounds.getCenter(), 1, { animate: false }); return; }
    map.fitBounds(bounds, { paddingTopLeft: [46, 40], paddingBottomRight: [72, 44], maxZoom: map.getMaxZoom(), animate: false });
  }
  fitAll();
  map.setMinZoom(map.getZoom() - 2);
  map.setMaxZoom(map.getZoom() + Math.log2(Math.max(2, 400 / pixelsPerMetre())));
  if (data.tiles) {
    L.tileLayer(data.tiles.url, { maxNativeZoom: data.tiles.maxZoom, maxZoom: 40, referrerPolicy: 'no-referrer', noWrap: true }).addTo(map);
  }

  var under = data.under ? layUnder(map, data.under) : null;

  // pixelsPerMetre is the scale in the middle of what is seen.
  function pixelsPerMetre() {
    // Projected, not in whole pixels: those differ with where the plan was dragged from.
    var c = map.getCenter(), a = map.project(c), b = map.project(at(c.lng + 10, c.lat));
    return Math.max(1e-9, a.distanceTo(b) / 10);
  }

  function path(points, className, options) {
    return L.polyline(points, L.extend({ className: className, smoothFactor: 0, interactive: false }, options)).addTo(map);
  }
  function area(polys, className) {
    polys.forEach(function (rings) {
      L.polygon(rings.map(flatPath), { className: className, smoothFactor: 0, interactive: false }).addTo(map);
    });
  }

  data.lines.forEach(function (l) { area(l.caution, 'caution'); });
  data.lines.forEach(function (l) { area(l.tolerance, 'tolerance'); });
  (data.ground || []).forEach(function (g) { path(flatPath(g.path), 'ground'); });
  data.records.forEach(function (r) { path(flatPath(r.path), 'record'); });
  data.lines.forEach(function (l) {
    l.findings.forEach(function (f) {
      if (f.role === 'gap') path(flatPath(f.path), 'bridge');
      if (f.role === 'doubt') path(flatPath(f.path), 'ladder ' + (f.held ? 'watch' : 'suspect'));
      if (f.role === 'bleed_over') path(flatPath(f.path), 'ladder ' + f.grade);
      if (f.role === 'record_difference') path(flatPath(f.path), 'differs');
    });
  });
  var width = 5;
  ['edge', 'base', 'ink'].forEach(function (layer) {
    data.lines.forEach(function (l) {
      l.parts.forEach(function (p) {
        var points = p.x.map(function (x, i) { return at(x, p.y[i]); });
        if (layer === 'edge') path(points, 'edge');
        if (layer === 'base') path(points, 'base', { color: l.base, weight: width + 2, opacity: 1, lineCap: 'butt' });
        if (layer === 'ink') {
          path(points, 'ink', { color: l.color, weight: width, opacity: 1, lineCap: 'butt', lineJoin: 'round',
            dashArray: l.dash ? l.dash.map(function (d) { return d * width; }).join(' ') : null });
        }
      });
    });
  });

  map.on('click', function (e) { onTap(e.latlng.lng, e.latlng.lat, 30 / pixelsPerMetre()); });

  var here = L.marker(at(0, 0), { icon: L.divIcon({ className: 'here', html: el('span'), iconSize: [44, 44] }), keyboard: false, interactive: false });
  return {
    map: map,
    under: under,
    fitAll: fitAll,
    pixelsPerMetre: pixelsPerMetre,
    // zoom keeps the place marked where it is, else the middle.
    zoom: function (by) {
      var to = map.getZoom() + by * map.options.zoomDelta;
      if (map.hasLayer(here) && map.getBounds().contains(here.getLatLng())) map.setZoomAround(here.getLatLng(), to); else map.setZoom(to);
    },
    // lit is the place marked, or null.
    lit: function () { return map.hasLayer(here) ? here.getLatLng() : null; },
    // light marks a place of a line and brings it into sight.
    light: function (p) {
      here.setLatLng(at(p.x, p.y));
      if (!map.hasLayer(here)) here.addTo(map);
      if (!map.getBounds().pad(-0.08).contains(at(p.x, p.y))) map.panTo(at(p.x, p.y), { animate: false });
    },
    // frame brings a stretch into sight with some ground about it.
    frame: function (points) {
      map.fitBounds(L.latLngBounds(points).pad(0.3), { padding: [30, 30], maxZoom: map.getZoom() + Math.log2(Math.max(1, 60 / pixelsPerMetre())), animate: false });
    }
  };
}
