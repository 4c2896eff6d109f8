// Everything works without this file. It adds: dropping files anywhere on the
// upload form, how far an upload is, a progress bar that moves, a button that
// copies the link, and the focus on what went wrong.
'use strict';

const focusFirst = document.querySelector('[data-focus]');
if (focusFirst) focusFirst.focus();

// The link as others need it, with this server's name.
for (const input of document.querySelectorAll('[data-link]')) {
  input.value = new URL(input.value, location.href).href;
}
for (const button of document.querySelectorAll('[data-copy]')) {
  if (!navigator.clipboard) continue;
  button.hidden = false;
  button.addEventListener('click', async () => {
    await navigator.clipboard.writeText(document.getElementById(button.dataset.copy).value);
    button.textContent = 'Copied';
  });
}

// A button that is clicked twice asks once; the server takes it so as well.
for (const form of document.querySelectorAll('form[data-once]')) {
  form.addEventListener('submit', (e) => {
    if (form.dataset.sent) { e.preventDefault(); return; }
    form.dataset.sent = 'yes';
    setTimeout(() => { delete form.dataset.sent; }, 5000);
  });
}
window.addEventListener('pageshow', () => { for (const form of document.querySelectorAll('form[data-once]')) delete form.dataset.sent; });

// Reference systems to choose from while their name or place is typed.
for (const input of document.querySelectorAll('[data-systems]')) {
  const list = document.createElement('datalist');
  list.id = input.id + '-list';
  input.after(list);
  input.setAttribute('list', list.id);
  let wait = 0, asked = '';
  input.addEventListener('input', () => {
    clearTimeout(wait);
    wait = setTimeout(async () => {
      const words = input.value.trim();
      if (words.length < 2 || words === asked || /^EPSG:\d+$/i.test(words)) return;
      asked = words;
      try {
        const r = await fetch(input.dataset.systems + '&q=' + encodeURIComponent(words), { headers: { Accept: 'application/json' } });
        if (!r.ok || input.value.trim() !== words) return;
        list.replaceChildren(...(await r.json()).systems.map((s) => new Option(s.name + ' · ' + s.area + ' · ' + s.unit + ' · ' + words, s.id)));
      } catch { /* what is typed is looked up when it is sent */ }
    }, 250);
  });
}

const kindOf = (name) => {
  const ending = name.toLowerCase().replace(/^.*\./, '');
  if (ending === 'toml') return 'job';
  if (ending === 'geojson' || ending === 'json') return 'reference';
  if (['nmea', 'gpx', 'log', 'ubx'].includes(ending)) return 'gnss_log';
  return 'trace';
};

const upload = document.querySelector('form[data-upload]');
if (upload && window.DataTransfer) {
  const hint = document.createElement('p');
  hint.className = 'hint mouse';
  hint.textContent = 'Or drop the files here, all at once.';
  upload.querySelector('.actions').before(hint);
  let inside = 0;
  const carriesFiles = (e) => e.dataTransfer && [...e.dataTransfer.types].includes('Files');
  const show = (by) => { inside = Math.max(0, inside + by); upload.classList.toggle('dropping', inside > 0); };
  document.addEventListener('dragenter', (e) => { if (carriesFiles(e)) { e.preventDefault(); show(1); } });
  document.addEventListener('dragleave', (e) => { if (carriesFiles(e)) show(-1); });
  document.addEventListener('dragover', (e) => { if (carriesFiles(e)) e.preventDefault(); });
  document.addEventListener('drop', (e) => {
    if (!carriesFiles(e)) return;
    e.preventDefault();
    inside = 0; show(0);
    const lists = {};
    for (const f of e.dataTransfer.files) {
      const kind = kindOf(f.name);
      lists[kind] = lists[kind] || new DataTransfer();
      lists[kind].items.add(f);
    }
    for (const [kind, list] of Object.entries(lists)) upload.elements[kind].files = list.files;
    if (lists.job || lists.reference || lists.gnss_log) upload.querySelector('details').open = true;
    upload.querySelector('button').focus();
  });

  upload.addEventListener('submit', (e) => {
    e.preventDefault();
    const old = document.getElementById('upload-trouble');
    if (old) old.remove();
    const button = upload.querySelector('button[type="submit"]');
    const line = document.createElement('div');
    const label = document.createElement('label');
    label.htmlFor = 'upload-bar'; label.setAttribute('role', 'status'); label.textContent = 'Uploading';
    const bar = document.createElement('progress');
    bar.id = 'upload-bar'; bar.max = 1;
    const stop = document.createElement('button');
    stop.type = 'button'; stop.textContent = 'Cancel';
    line.append(label, bar, stop);
    button.after(line);
    button.disabled = true;
    const request = new XMLHttpRequest();
    const end = (title, problems) => {
      line.remove();
      button.disabled = false;
      if (!title) return;
      const note = document.createElement('section');
      note.id = 'upload-trouble'; note.className = 'note bad'; note.tabIndex = -1; note.setAttribute('role', 'alert');
      const h = document.createElement('h2');
      h.textContent = 'Nothing was stored';
      const list = document.createElement('ul');
      for (const p of problems.length ? problems : [title]) {
        const li = document.createElement('li');
        li.textContent = p;
        list.append(li);
      }
      note.append(h, list);
      upload.before(note);
      note.focus();
    };
    request.upload.addEventListener('progress', (p) => {
      if (p.lengthComputable) bar.value = p.loaded / p.total;
      if (p.loaded === p.total) { label.textContent = 'Reading the files'; bar.removeAttribute('value'); }
    });
    request.addEventListener('load', () => {
      let answer = {};
      try { answer = JSON.parse(request.responseText); } catch { /* an answer that is no JSON is told below */ }
      if (request.status === 201) { location.href = answer.links.page; return; }
      end(answer.detail || 'The server did not take the files (' + request.status + ').', (answer.problems || []).map(problemWords));
    });
    request.addEventListener('error', () => end('The server cannot be reached, or it stopped the upload because it is too large.', []));
    request.addEventListener('abort', () => end('', []));
    stop.addEventListener('click', () => request.abort());
    request.open('POST', '/api/v1/jobs');
    request.send(new FormData(upload));
  });
}

function problemWords(p) {
  let s = p.file || '';
  if (p.line) s += ', line ' + p.line;
  if (p.column) s += ', character ' + p.column;
  if (s) s += ': ';
  if (p.field) s += p.field + ': ';
  s += p.cause;
  if (p.value) s += ' (' + p.value + ')';
  return s + (p.hint ? '; ' + p.hint : '') + '.';
}

const running = document.querySelector('[data-progress]');
if (running) {
  const stage = running.querySelector('[data-stage]'), bar = running.querySelector('progress');
  let misses = 0;
  const ask = async () => {
    try {
      const r = await fetch(running.dataset.progress, { headers: { Accept: 'application/json' } });
      if (!r.ok) { location.reload(); return; }
      const run = await r.json(), p = run.progress;
      misses = 0;
      if (run.state !== 'waiting' && run.state !== 'running') { location.reload(); return; }
      let words = p.stage || 'Waiting';
      if (run.state === 'waiting') words = 'Waiting' + (p.ahead ? ', ' + p.ahead + ' before this one' : '');
      if (p.total > 1) { words += ', ' + p.done + ' of ' + p.total; bar.max = p.total; bar.value = p.done; } else bar.removeAttribute('value');
      if (p.seconds_left) words += p.seconds_left < 90 ? ', about ' + 5 * Math.ceil(p.seconds_left / 5) + ' s left' : ', about ' + Math.round(p.seconds_left / 60) + ' min left';
      if (stage.textContent !== words) stage.textContent = words;
    } catch {
      misses += 1;
      stage.textContent = 'The server does not answer; trying again';
    }
    setTimeout(ask, misses ? 3000 : 600);
  };
  setTimeout(ask, 300);
}
