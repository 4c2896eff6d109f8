// A figure and its unit stay on one line wherever the page writes words, and so does a
// date: each is put into an element that does not break. The text stays as it is, for
// whoever copies it or looks for it.
var quantity = /(?:± )?\d+(?:[.,]\d+)*(?: (?:mm|cm|m|ft|in|Hz|kHz|mA|%)(?![\wÀ-ÿ]))(?: \d+ in(?![\wÀ-ÿ]))?|± \d+(?:[.,]\d+)*|\d{4}-\d\d-\d\d/g;

// Drawings and choices take no elements, and what is only read out has no lines.
var notKept = 'script, style, svg, select, .kept, #plan, #said';

function keepFigures(node) {
  if (node.nodeType === Node.TEXT_NODE) return keepText(node);
  if (node.nodeType !== Node.ELEMENT_NODE || node.matches(notKept)) return;
  Array.prototype.slice.call(node.childNodes).forEach(keepFigures);
}

function keepText(text) {
  var words = text.data, parts = document.createDocumentFragment(), done = 0, m;
  quantity.lastIndex = 0;
  while ((m = quantity.exec(words))) {
    parts.appendChild(document.createTextNode(words.slice(done, m.index)));
    parts.appendChild(el('span', 'kept', m[0]));
    done = m.index + m[0].length;
  }
  if (!done) return;
  parts.appendChild(document.createTextNode(words.slice(done)));
  text.parentNode.replaceChild(parts, text);
}

// makeKeeper does so with what stands on the page and with whatever is written later.
function makeKeeper() {
  var watch = new MutationObserver(function (changes) {
    changes.forEach(function (c) {
      if (c.target.closest(notKept)) return;
      c.addedNodes.forEach(function (n) { if (n.isConnected) keepFigures(n); });
    });
    watch.takeRecords(); // what was put into elements just now
  });
  keepFigures(document.body);
  watch.observe(document.body, { childList: true, subtree: true });
}
