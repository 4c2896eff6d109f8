// Elements. Names and notes come from files: they go in as text, never as
// markup.
function byId(id) { return document.getElementById(id); }

function el(name, className, text) {
  var e = document.createElement(name);
  if (className) e.className = className;
  if (text !== undefined) e.textContent = text;
  return e;
}

function svgEl(name, attributes, text) {
  var e = document.createElementNS('http://www.w3.org/2000/svg', name);
  Object.keys(attributes).forEach(function (k) { e.setAttribute(k, attributes[k]); });
  if (text !== undefined) e.textContent = text;
  return e;
}

// meets reports whether two boxes of left, top, right and bottom share any ground.
function meets(a, b) { return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]; }

function empty(e) { while (e.firstChild) e.removeChild(e.firstChild); }
