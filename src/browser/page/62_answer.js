// At work.
const work = makeWork((stage, fraction) => {
  by('stage').textContent = stage;
  if (fraction > 0) by('bar').value = fraction;
  else by('bar').removeAttribute('value');
});
work.ready().catch(
    (fault) => say(
        'unfit',
        'This browser cannot run the check (' + fault.message +
            '). It needs WebAssembly with exceptions and DecompressionStream: Chrome or Edge 95, ' +
            'Firefox 113, Safari 16.4, or later ones.'));

// What is shown: an answer, the job it is of, the work that gave it and the changes tried in it.
const held = {
  shown: null,
  urls: []
};
let asking = false; // from the click on to the answer
function enable() {
  for (const button of document.querySelectorAll('#doors button.main, #answer button'))
    button.disabled = asking;
  if (chosen.job.filter(({path}) => /\.toml$/i.test(path)).length !== 1 || !by('note-job').hidden)
    by('check-job').disabled = true;
}
// Set by what changes at a door; only a check from a door answers for it.
let doorChanged = false;
const TITLE = document.title;
// An answer is of what was checked: what was chosen or typed since is told on it.
function markOld() {
  doorChanged = true;
  if (!held.shown || by('answer').hidden) return;
  by('verdict').dataset.verdict = 'old';
  show('old', true);
  document.title = TITLE;
}
// Every answer of this sitting, in words.
const sitting = [];
function note({banner, title, figures}, tried) {
  sitting.push([
    `${sitting.length + 1}. ${title}: ${banner}`,
    figures.map(({name, value}) => `${name} ${value}`).join('; '),
    ...tried.map(({text}) => `With: ${text}`)
  ].join('\n   '));
}
function clearAnswer() {
  for (const url of held.urls.splice(0)) URL.revokeObjectURL(url);
  by('page').removeAttribute('src');
  for (const id of ['answer', 'compare', 'fault']) show(id, false);
}

function urlOf(name, bytes) {
  const kind = {
    html: 'text/html',
    json: 'application/json',
    txt: 'text/plain;charset=utf-8',
    glb: 'model/gltf-binary',
    toml: 'application/toml'
  }[name.split('.').pop()];
  const url = URL.createObjectURL(new Blob([bytes], {type: kind || 'application/octet-stream'}));
  held.urls.push(url);
  return url;
}

// Where a message of a job is about something that was typed here, it stands there as well.
const KEYS = {
  limit: /\blimit\b/,
  touch_off: /\bside_[ab]\.touch_off\b/,
  flatness: /\bbed\.flatness\b/,
  thickness: /\bboard\.thickness\b/,
  pocket: /\bpart\.pocket\.mesh\b/,
  skin: /\bpart\.skin\b/
};
function clearNotes() {
  for (const name of [...FIELDS, 'pocket', 'skin']) {
    say('note-' + name, '');
    by(name).removeAttribute('aria-invalid');
    by(name).closest('.drop')?.classList.remove('wrong');
  }
  say('note-meshes', '');
}
function refuseField(name, text) {
  say('note-' + name, text);
  by(name).setAttribute('aria-invalid', 'true');
  by(name).closest('.drop')?.classList.add('wrong');
}
function pointAtField(message, names) {
  const told = message.replace(/^leastwall: /, '');
  // "piece.toml:12: limit = ...": what follows the line number, up to the value or the verb.
  const about = told.match(/^piece\.toml(?::\d+)?: (.*)$/);
  const key = about && Object.keys(KEYS).find((name) => about[1].slice(0, 60).match(KEYS[name]));
  const file = ['pocket', 'skin'].find((name) => told.startsWith(names[name] + ':'));
  if (key) refuseField(key, about[1]);
  else if (file) refuseField(file, told.slice(names[file].length + 2));
  else return null;
  return by(key || file);
}

function showFault(text) {
  say('fault-text', text);
  show('fault', true);
  by('fault').focus();
}

function showAnswer(shown) {
  const {answer, seconds, heap} = shown.result;
  const {summary} = answer;
  clearAnswer();
  held.shown = shown;
  show('old', doorChanged);
  by('verdict').dataset.verdict = doorChanged ? 'old' : summary.verdict;
  by('piece').textContent = summary.title;
  for (const part of ['banner', 'ground', 'sentence']) by(part).textContent = summary[part];
  const figures = by('figures');
  figures.textContent = '';
  for (const {name, value} of summary.figures) {
    const one = figures.appendChild(document.createElement('div'));
    one.appendChild(document.createElement('dt')).textContent = name;
    one.appendChild(document.createElement('dd')).textContent = value;
  }
  show('best', summary.advice.length > 0);
  by('advice').textContent = '';
  for (const advice of summary.advice) {
    const line = by('advice').appendChild(document.createElement('li'));
    line.appendChild(document.createElement('span')).textContent = advice.text;
    if (!advice.set) continue;
    const button = line.appendChild(document.createElement('button'));
    button.type = 'button';
    button.textContent = 'Try it';
    button.setAttribute('aria-label', `Try it: ${advice.text}`);
    button.addEventListener('click', () => tryOut(advice));
  }
  show('undo', !!shown.before);
  show('used', shown.used.length > 0);
  by('used').textContent = shown.used.join(' ');
  show('tries', sitting.length > 1);
  show('changed', shown.tried.length > 0);
  by('changes').textContent = '';
  for (const {text} of shown.tried)
    by('changes').appendChild(document.createElement('li')).textContent = text;
  show('said', summary.notices.length > 0);
  by('notices').textContent = '';
  for (const notice of summary.notices)
    by('notices').appendChild(document.createElement('li')).textContent = notice.text;
  say('unstated', summary.unstated);
  show('given', summary.given.length > 0);
  by('assumptions').textContent = '';
  for (const line of summary.given)
    by('assumptions').appendChild(document.createElement('li')).textContent = line;
  by('solids').textContent = '';
  for (const file of answer.files.filter((one) => one.name.endsWith('.glb'))) {
    const button = by('solids').appendChild(document.createElement('button'));
    button.type = 'button';
    button.dataset.save = file.name;
    button.textContent =
        file.name === 'skin.glb' ? 'Solid' : `Solid of ${file.name.replace('.glb', '')}`;
  }
  by('timing').textContent =
      `Checked in ${seconds.toFixed(1)} s with ${megabytes(heap)} of memory, on this device.`;
  form.fill(shown.result.form);
  countUnchecked();
  if (shown.result.form)
    by('setup-unit').textContent =
        `bare numbers are in ${shown.result.form.unit === 'inch' ? 'inches' : 'mm'}`;
  if (sitting.length === 1)
    by('paper').value = shown.result.form?.unit === 'inch' ? 'letter' : 'a4';
  show('setup', !!shown.result.form);
  say('note-setup', '');
  show('answer', true);
  by('page').src =
      urlOf('report.html', answer.files.find((file) => file.name === 'report.html').bytes);
  document.title = doorChanged ? TITLE : `${summary.banner}: ${summary.title}`;
  by('answer').focus({preventScroll: true});
  by('answer').scrollIntoView({block: 'start'});
}

// Before and after, side by side, to keep or to take back.
function showCompared(advice, before, after) {
  by('tried').textContent = advice.text;
  by('compared').textContent = '';
  const row = (name, was, now) => {
    const line = by('compared').appendChild(document.createElement('tr'));
    const head = line.appendChild(document.createElement('th'));
    head.scope = 'row';
    head.textContent = name;
    for (const value of [was, now])
      line.appendChild(document.createElement('td')).textContent = value || 'none';
  };
  row('Verdict', before.banner, after.banner);
  const names = [...new Set([...before.figures, ...after.figures].map(({name}) => name))];
  const of = (summary, name) => summary.figures.find((figure) => figure.name === name)?.value;
  for (const name of names) row(name, of(before, name), of(after, name));
  show('gains', !advice.typed);
  show('other-wall', of(before, 'Decided by') !== of(after, 'Decided by'));
  show('compare', true);
  by('compare').focus({preventScroll: true});
  by('compare').scrollIntoView({block: 'start'});
}

// Does the work that `make` prepares (null: it cannot), with changes tried in its job.
async function ask(make, tried = [], advice = null) {
  if (asking) return;
  const before = advice ? held.shown : null;
  asking = true;
  enable();
  try {
    await judging;
    const given = await make();
    if (given) await run(given, {make, tried, before}, advice);
  } finally {
    asking = false;
    enable();
  }
}

function tryOut(advice) {
  if (held.shown) ask(held.shown.make, [...held.shown.tried, advice], advice);
}

async function run({message, bytes, job, used = []}, {make, tried, before}, advice) {
  const unchecked = form.typed();
  clearAnswer();
  held.shown = null;
  clearNotes();
  by('stage').textContent = 'starting';
  by('bar').removeAttribute('value');
  show('work', true);
  by('stop').focus();
  const result = await work.run(
      {...message, sets: tried.map(({set, typed}) => typed ? {typed} : {set})}, bytes);
  show('work', false);
  const answered =
      !result.stopped && !result.fault && result.answer.status <= 1 && result.answer.summary;
  // What a change is tried on is shown again where there is no answer.
  if (before && !answered) showAnswer(before);
  // What was typed and is not in the answer is still there.
  const left = before && (advice.typed ? !answered && advice.typed : unchecked);
  if (left && !answered) putBack(left);
  if (result.stopped)
    return showFault(before ? 'Stopped: the change was not tried.'
                            : 'Stopped. What you typed and chose is still there.');
  if (result.fault) {
    const memory = /memory|allocation/i.test(result.fault);
    return showFault(
        (memory ? 'The memory of this browser did not suffice: use coarser meshes, or the ' +
                      'installed program'
                : 'The check failed inside the module; please report it') +
        ` (${result.fault}). The page has begun anew; what you typed and chose is still there.`);
  }
  if (!answered) {
    const field = message.work === 'meshes' && !before
                      ? pointAtField(result.answer.message, message.answers)
                      : null;
    const text =
        result.answer.message.replace(/^leastwall: /, '') || 'nothing was said; please report it';
    if (before && advice.typed) { // said where it was typed
      const wrong = form.say(text);
      say('note-setup',
          wrong ? 'Not checked: see the marked place above.' : `Not checked. ${text}`);
      // The button is no place for the focus before it is enabled again.
      setTimeout(() => {
        const at = wrong || by('setup-form').querySelector('[type=submit]');
        at.focus();
        at.scrollIntoView({block: 'center'});
      });
    } else if (field) {
      say('note-meshes', 'Not checked: see the marked place above.');
      field.focus();
    } else {
      showFault(text);
    }
    return;
  }
  note(result.answer.summary, tried);
  showAnswer({result, job: result.job || job, make, tried, before, used});
  if (left) putBack(left);
  if (before) showCompared(advice, before.result.answer.summary, result.answer.summary);
}

by('keep').addEventListener('click', () => {
  show('compare', false);
  by('answer').focus({preventScroll: true});
});
for (const id of ['back', 'undo'])
  by(id).addEventListener('click', () => held.shown.before && showAnswer(held.shown.before));

// What a check from its door leaves out of what was kept.
function keptChanges() {
  const kept = held.shown && !by('answer').hidden ? held.shown.tried.length : 0;
  return !kept
             ? ''
             : `${kept === 1 ? 'The change' : `The ${kept} changes`} kept before ${
                   kept === 1 ? 'is' : 'are'} ` +
                   'not in this answer: save the job where they are in it, and open it to go on from there.';
}

// Bytes of files, each read once.
async function read(files) {
  try {
    return await Promise.all(files.map((file) => file.arrayBuffer()));
  } catch (fault) {
    clearAnswer();
    showFault(`A file could not be read (${fault.message}): choose it again.`);
    return null;
  }
}

by('demo').addEventListener('click', () => {
  doorChanged = false;
  ask(() => ({message: {work: 'demo'}, bytes: []}));
});

by('meshes').addEventListener('submit', async (event) => {
  event.preventDefault();
  if (asking) return;
  const lost = keptChanges();
  clearAnswer();
  clearNotes();
  let first = null;
  for (const which of ['pocket', 'skin'])
    if (!chosen[which]) {
      refuseField(which,
                  `Choose the mesh of the ${which === 'pocket' ? 'inner pocket' : 'outer skin'}.`);
      first = first || by(which);
    }
  if (first) return first.focus();
  if (!by('flatness').value.trim()) {
    refuseField(
        'flatness',
        'Not known would count as 0, and the answer would be too good: sweep the bed with a ' +
            'dial, or state the worst it may be.');
    return by('flatness').focus();
  }
  const large = tooLarge([chosen.pocket, chosen.skin]);
  if (large) return say('note-meshes', large);
  // Two files may have one name, and none may be called as the job.
  const names = {pocket: chosen.pocket.name, skin: chosen.skin.name};
  if (names.skin === 'piece.toml') names.skin = 'skin-' + names.skin;
  while (['piece.toml', names.skin].includes(names.pocket)) names.pocket = 'pocket-' + names.pocket;
  const answers = {
    title: chosen.skin.name.replace(/\.[^.]*$/, ''),
    units: by('units').value,
    ...names
  };
  for (const field of FIELDS) answers[field] = by(field).value.trim();
  const files = [chosen.pocket, chosen.skin], used = lost ? [lost] : [];
  doorChanged = false;
  ask(async () => {
    const bytes = await read(files);
    return bytes && {
      bytes,
      used,
      message: {
        work: 'meshes',
        answers,
        files: [{path: names.pocket, bytes: bytes[0]}, {path: names.skin, bytes: bytes[1]}]
      }
    };
  });
});

by('check-job').addEventListener('click', () => {
  const all = chosen.job, job = all.find(({path}) => /\.toml$/i.test(path));
  if (asking) return;
  const lost = keptChanges();
  doorChanged = false;
  clearAnswer();
  ask(async () => {
    const bytes = await read(all.map(({file}) => file));
    if (!bytes) return null;
    const of = new Map(all.map((one, i) => [one, bytes[i]]));
    const where = placed(all, job, new TextDecoder().decode(of.get(job)));
    if (where.wrong) return say('note-job', where.wrong + '.');
    return {
      bytes,
      used: lost ? [...where.used, lost] : where.used,
      job: {name: lastOf(job.path), file: new Blob([of.get(job).slice(0)])},
      message: {
        work: 'job',
        folder: where.folder,
        name: lastOf(job.path),
        files: where.files.map((file) => ({path: file.path, bytes: of.get(file.of)}))
      }
    };
  });
});

by('stop').addEventListener('click', () => work.stop());

function print(what) {
  const name = `${what}-${by('paper').value}.html`, link = document.createElement('a');
  link.target = '_blank';
  link.href = urlOf(name, held.shown.result.answer.files.find((file) => file.name === name).bytes);
  link.click();
}

by('more').addEventListener('click', (event) => {
  const {save: what, print: sheet} = event.target.dataset;
  if (sheet) return print(sheet);
  if (!what) return;
  const link = document.createElement('a');
  if (what === 'job') {
    const {name, file, text} = held.shown.job;
    link.download = name;
    link.href = urlOf(name, file || text);
  } else if (what === 'tries.txt') {
    link.download = what;
    link.href = urlOf(what, sitting.join('\n') + '\n');
  } else {
    link.download = what;
    link.href =
        urlOf(what, held.shown.result.answer.files.find((file) => file.name === what).bytes);
  }
  link.click();
});
