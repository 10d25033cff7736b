'use strict';
// One instance of the module: bytes by name go in, a check is asked for, bytes by name come out.
// `glue` is what emscripten wrote; `told(stage, fraction)` is called while a check runs.
const makeCore = async (glue, wasm, told) => {
  const module = await glue({wasmBinary: wasm});
  module.told = told || null;
  const files = module.FS;
  const withText = (text, use) => {
    const bytes = new TextEncoder().encode(text), at = module._malloc(bytes.length + 1);
    if (!at) throw new Error('out of memory');
    module.HEAPU8.set(bytes, at);
    module.HEAPU8[at + bytes.length] = 0;
    try {
      return use(at);
    } finally {
      module._free(at);
    }
  };
  // Without "." and "..": folders are made one below the other.
  const plain = (path) => {
    const parts = [];
    for (const part of path.split('/'))
      if (part === '..') parts.pop();
      else if (part && part !== '.') parts.push(part);
    return '/' + parts.join('/');
  };
  const answered = (work, request) => {
    const status = withText(JSON.stringify(request), work);
    const summary = module.UTF8ToString(module._leastwall_summary());
    const answer = {
      status,
      message: module.UTF8ToString(module._leastwall_message()),
      summary: summary ? JSON.parse(summary) : null,
      files: []
    };
    for (let i = 0; i < module._leastwall_files(); ++i) {
      const at = module._leastwall_bytes(i);
      answer.files.push({
        name: module.UTF8ToString(module._leastwall_name(i)),
        bytes: module.HEAPU8.slice(at, at + module._leastwall_size(i))
      });
    }
    return answer;
  };
  return {
    // Names of a job may lead upwards: work begins deep down, where there are folders enough above.
    home: '/a/b/c/d/e/f/g/h',
    // Steps into a folder; it is made where it is not there.
    enter(folder) {
      files.mkdirTree(folder);
      files.chdir(folder);
    },
    // Takes the bytes over.
    put(path, bytes) {
      const to = plain(path);
      files.mkdirTree(to.slice(0, to.lastIndexOf('/')) || '/');
      files.writeFile(to, bytes, {canOwn: true});
    },
    read: (path) => files.readFile(path),
    check: (request) => answered(module._leastwall_check, request),
    // A job with keys changed: {job, text, set or typed}.
    change: (request) => answered(module._leastwall_change, request),
    // The form of a job: {job, text, typed}.
    form: (request) => answered(module._leastwall_form, request),
    firstJob: (answers) => withText(JSON.stringify(answers),
                                    (at) => module.UTF8ToString(module._leastwall_first_job(at))),
    demo: () => module.UTF8ToString(module._leastwall_demo()),
    heap: () => module.HEAPU8.length,
  };
};
if (typeof module !== 'undefined' && module.exports) module.exports = {makeCore};
