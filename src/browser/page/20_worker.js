'use strict';
// The worker: one instance of the module, one check after the other. What comes in is {module} once, then
// {work, ...}; what goes out is {ready}, {stage, fraction}, {answer} or {fault}.
let core = null;
const tell = (stage, fraction) => postMessage({stage, fraction});

const works = {
  // The demo: meshes and job are made here.
  demo() {
    const folder = core.home + '/demo';
    core.enter(folder);
    tell('making the gourd', 0);
    const text = core.demo();
    core.put(folder + '/gourd.toml', new TextEncoder().encode(text));
    return {job: {name: 'gourd.toml', text}, answer: core.check({job: 'gourd.toml'})};
  },
  // Two meshes and what was typed: the job is written first, then checked like any other.
  meshes({answers, files}) {
    const folder = core.home + '/meshes', name = 'piece.toml';
    core.enter(folder);
    for (const file of files) core.put(folder + '/' + file.path, new Uint8Array(file.bytes));
    const text = core.firstJob(answers);
    core.put(folder + '/' + name, new TextEncoder().encode(text));
    return {job: {name, text}, answer: core.check({job: name})};
  },
  job({folder, name, files}) {
    const home = core.home + '/job';
    const at = folder ? home + '/' + folder : home;
    core.enter(at);
    for (const file of files)
      core.put(file.path.startsWith('/') ? file.path : at + '/' + file.path, new Uint8Array(file.bytes));
    return {job: null, answer: core.check({job: name})};
  },
};

onmessage = async ({data}) => {
  try {
    if (data.module) {
      core = await makeCore(leastwallCore, data.module, tell);
      postMessage({ready: true});
      return;
    }
    const began = performance.now();
    const {job, answer} = works[data.work](data);
    postMessage({answer, job, seconds: (performance.now() - began) / 1000, heap: core.heap()},
      answer.files.map((file) => file.bytes.buffer));
  } catch (fault) {
    postMessage({fault: String(fault && fault.message || fault)});
  }
};
