'use strict';
// The worker: one instance of the module, one check after the other. What comes in is {module} once, then
// {work, ...}; what goes out is {ready}, {stage, fraction}, {answer} or {fault}.
let core = null;
const tell = (stage, fraction) => postMessage({stage, fraction});

// Checks the job `name` of this text, changed as `sets` say ({set} or {typed}), one after the other.
function checked(folder, name, text, sets) {
  for (const set of sets) {
    const answer = core.change({job: name, text, ...set});
    if (answer.status) return {job: null, answer};
    text = new TextDecoder('utf-8', {ignoreBOM: true}).decode(answer.files[0].bytes);
  }
  core.put(folder + '/' + name, new TextEncoder().encode(text));
  return {job: {name, text}, answer: core.check({job: name})};
}

// The form of that job, where its text can be read.
function formOf(name, text, typed = {}) {
  const answer = core.form({job: name, text, typed});
  return answer.status ? null : answer.summary;
}

const works = {
  // The demo: meshes and job are made here.
  demo({sets}) {
    const folder = core.home + '/demo';
    core.enter(folder);
    tell('making the gourd', 0);
    return checked(folder, 'gourd.toml', core.demo(), sets);
  },
  // Two meshes and what was typed: the job is written first, then checked like any other.
  meshes({answers, files, sets}) {
    const folder = core.home + '/meshes';
    core.enter(folder);
    for (const file of files) core.put(folder + '/' + file.path, new Uint8Array(file.bytes));
    return checked(folder, 'piece.toml', core.firstJob(answers), sets);
  },
  job({folder, name, files, sets}) {
    const home = core.home + '/job';
    const at = folder ? home + '/' + folder : home;
    core.enter(at);
    for (const file of files)
      core.put(file.path.startsWith('/') ? file.path : at + '/' + file.path,
               new Uint8Array(file.bytes));
    const text = new TextDecoder('utf-8', {ignoreBOM: true}).decode(core.read(at + '/' + name));
    if (!sets.length) return {job: null, text, answer: core.check({job: name})};
    return checked(at, name, text, sets);
  },
  // What was typed into a form, checked alone.
  form: ({name, text, typed}) =>
      ({job: null, form: formOf(name, text, typed), answer: {status: 0, files: []}}),
};

onmessage = async ({data}) => {
  try {
    if (data.module) {
      core = await makeCore(leastwallCore, data.module, tell);
      postMessage({ready: true});
      return;
    }
    const began = performance.now();
    const {
      job,
      answer,
      text = job && job.text,
      form = answer.summary ? formOf(job ? job.name : data.name, text) : null
    } = works[data.work](data);
    postMessage(
        {answer, job, form, text, seconds: (performance.now() - began) / 1000, heap: core.heap()},
        answer.files.map((file) => file.bytes.buffer));
  } catch (fault) {
    postMessage({fault: String(fault && fault.message || fault)});
  }
};
