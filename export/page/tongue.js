// The sentences of these scripts in the language shown. Each is written in English
// where it is said, with places in braces; a page in another language has a table of
// them in its data.
var tongue = { lang: 'en', table: {} };

function tell(english, values) {
  var s = tongue.lang === 'en' ? english : tongue.table[english] || english;
  return values ? s.replace(/\{(\w+)\}/g, function (_, name) { return values[name]; }) : s;
}

// told is a text of the data in the units and the language shown.
function told(text, units) { return (tongue.lang === 'en' && text.en || text)[units]; }

// titleOf is a line's title in the language shown.
function titleOf(line) { return tongue.lang === 'en' && line.titleEn || line.title; }
