// A site plan beneath everything: one picture in metres of the plane, turned and
// scaled by its own six figures. toggle shows and hides it, and tells which it is.
function layUnder(map, u) {
  var svg = 'http://www.w3.org/2000/svg', box = document.createElementNS(svg, 'svg'), picture = document.createElementNS(svg, 'image');
  var m = u.m, x = [0, u.w, u.w, 0], y = [0, 0, u.h, u.h];
  var east = x.map(function (c, i) { return m[0] * c + m[2] * y[i] + m[4]; });
  var north = x.map(function (c, i) { return m[1] * c + m[3] * y[i] + m[5]; });
  var west = Math.min.apply(null, east), top = Math.max.apply(null, north);
  var width = Math.max.apply(null, east) - west, height = top - Math.min.apply(null, north);
  box.setAttribute('viewBox', '0 0 ' + width + ' ' + height);
  box.setAttribute('preserveAspectRatio', 'none');
  box.setAttribute('aria-hidden', 'true');
  picture.setAttribute('href', u.picture);
  picture.setAttribute('width', u.w);
  picture.setAttribute('height', u.h);
  // South is down in the box, so norths change their sign.
  picture.setAttribute('transform', 'matrix(' + [m[0], -m[1], m[2], -m[3], m[4] - west, top - m[5]].join(' ') + ')');
  box.appendChild(picture);
  map.createPane('under').style.zIndex = 250; // above tiles, beneath all that is drawn
  var layer = L.svgOverlay(box, L.latLngBounds(at(west, top - height), at(west + width, top)),
    { pane: 'under', opacity: u.opacity, className: 'underlay', interactive: false }).addTo(map);
  return {
    toggle: function () {
      if (map.hasLayer(layer)) { layer.remove(); return false; }
      layer.addTo(map);
      return true;
    }
  };
}
