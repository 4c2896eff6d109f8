// A Kubernetes Job against the schema that the project of that name publishes, as
// an npm package carries it, and against its field names, which the schema does not
// close. What is wrong on purpose must be refused, or nothing was checked.
const fs = require('fs')
const path = require('path')
const YAML = require('yaml')

// What the package exports is for modules; its files are there all the same.
const models = path.join(process.env.NODE_PATH, 'kubernetes-models')
const { Job } = require(path.join(models, 'batch', 'v1'))
const fieldsOf = (file) => new Set([...fs.readFileSync(path.join(models, file), 'utf8').matchAll(/^\s+"(\w+)"\??:/gm)].map((m) => m[1]))

function complaints(job) {
  const out = []
  try {
    new Job(job).validate()
  } catch (e) {
    out.push(e.message)
  }
  const pod = job.spec.template.spec
  const known = (what, of, file) => {
    const fields = fieldsOf(file)
    out.push(...Object.keys(of).filter((k) => !fields.has(k)).map((k) => `${what} has no field ${k}`))
  }
  known('a Job', job.spec, 'batch/v1/JobSpec.d.ts')
  known('a Pod', pod, 'v1/PodSpec.d.ts')
  pod.containers.forEach((c) => known('a container', c, 'v1/Container.d.ts'))
  const { completions, completionMode } = job.spec
  const share = [].concat(pod.containers[0].args).at(-1)
  if (completionMode !== 'Indexed' || share !== `$(PART)/${completions}`) {
    out.push(`${completions} completions, ${completionMode}, and --shard ${share}`)
  }
  return out
}

const text = fs.readFileSync(process.argv[2], 'utf8')
const found = complaints(YAML.parse(text))
for (const [was, is] of [['completions:', 'completion:'], ['completions: 8', 'completions: "8"'], ['args:', 'argv:'], ['- name: scratch\n', '- title: scratch\n'], ['$(PART)/8', '$(PART)/7']]) {
  if (!text.includes(was) || complaints(YAML.parse(text.replace(was, is))).length === 0) {
    found.push(`not refused: ${is.trim()}`)
  }
}
console.log(`${found.length ? 'FAIL' : 'ok'} ${process.argv[2]}`)
for (const c of found) console.log(`   ${c}`)
process.exit(found.length ? 1 : 0)
