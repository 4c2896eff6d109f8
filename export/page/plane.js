// The job's plane: transverse Mercator on WGS 84 with scale 1 at the origin,
// after Krüger (1912), in powers of the third flattening to the fourth. A test
// compares it with the plane of the geo package.
function makePlane(originLon, originLat) {
  var rad = Math.PI / 180, f = 1 / 298.257223563, n = f / (2 - f), n2 = n * n, n3 = n2 * n, n4 = n2 * n2;
  var radius = 6378137 / (1 + n) * (1 + n2 / 4 + n4 / 64), e = 2 * Math.sqrt(n) / (1 + n);
  var alpha = [n / 2 - 2 * n2 / 3 + 5 * n3 / 16 + 41 * n4 / 180, 13 * n2 / 48 - 3 * n3 / 5 + 557 * n4 / 1440,
    61 * n3 / 240 - 103 * n4 / 140, 49561 * n4 / 161280];
  var beta = [n / 2 - 2 * n2 / 3 + 37 * n3 / 96 - n4 / 360, n2 / 48 + n3 / 15 - 437 * n4 / 1440,
    17 * n3 / 480 - 37 * n4 / 840, 4397 * n4 / 161280];
  var delta = [2 * n - 2 * n2 / 3 - 2 * n3 + 116 * n4 / 45, 7 * n2 / 3 - 8 * n3 / 5 - 227 * n4 / 45,
    56 * n3 / 15 - 136 * n4 / 35, 4279 * n4 / 630];

  function project(lon, lat) {
    var sin = Math.sin(lat * rad), dLon = (lon - originLon + 540) % 360 - 180;
    var t = Math.sinh(Math.atanh(sin) - e * Math.atanh(e * sin));
    var xi = Math.atan2(t, Math.cos(dLon * rad)), eta = Math.asinh(Math.sin(dLon * rad) / Math.hypot(t, Math.cos(dLon * rad)));
    var x = eta, y = xi;
    for (var j = 1; j <= 4; j++) {
      x += alpha[j - 1] * Math.cos(2 * j * xi) * Math.sinh(2 * j * eta);
      y += alpha[j - 1] * Math.sin(2 * j * xi) * Math.cosh(2 * j * eta);
    }
    return { x: radius * x, y: radius * y };
  }
  var falseNorth = project(originLon, originLat).y;

  return {
    // xy takes degrees and gives metres east and north of the origin.
    xy: function (lon, lat) {
      var p = project(lon, lat);
      return { x: p.x, y: p.y - falseNorth };
    },
    // lonLat is the inverse of xy.
    lonLat: function (x, y) {
      var xi0 = (y + falseNorth) / radius, eta0 = x / radius, xi = xi0, eta = eta0;
      for (var j = 1; j <= 4; j++) {
        xi -= beta[j - 1] * Math.sin(2 * j * xi0) * Math.cosh(2 * j * eta0);
        eta -= beta[j - 1] * Math.cos(2 * j * xi0) * Math.sinh(2 * j * eta0);
      }
      var chi = Math.asin(Math.sin(xi) / Math.cosh(eta)), lat = chi;
      for (j = 1; j <= 4; j++) lat += delta[j - 1] * Math.sin(2 * j * chi);
      var lon = originLon + Math.atan2(Math.sinh(eta), Math.cos(xi)) / rad;
      return { lon: (lon + 540) % 360 - 180, lat: lat / rad };
    }
  };
}
