// Two independent GeoJSON checkers over the files named: one strict on
// structure, one that also looks at winding. Any complaint fails.
const fs = require('fs')
const { check } = require('@placemarkio/check-geojson')
const hint = require('@mapbox/geojsonhint')

let bad = 0
for (const file of process.argv.slice(2)) {
  const text = fs.readFileSync(file, 'utf8')
  const complaints = []
  try {
    check(text)
  } catch (e) {
    complaints.push(...(e.issues || [e]).map((i) => i.message || String(i)))
  }
  complaints.push(...hint.hint(text, { precisionWarning: false }).map((i) => `line ${i.line}: ${i.message}`))
  console.log(`${complaints.length ? 'FAIL' : 'ok'} ${file}`)
  for (const c of complaints.slice(0, 10)) console.log(`   ${c}`)
  bad += complaints.length
}
process.exit(bad ? 1 : 0)
