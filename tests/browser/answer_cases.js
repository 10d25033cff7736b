// Lets the module answer a list of cases, as the page would; same_bytes_test.py compares.
//   node answer_cases.js GLUE WASM CORE CASES OUT
// CASES: JSON list of {folder, files: {path in the module: path here}, request, fresh}. OUT gets a folder a
// case with every file of the answer and answer.json.
'use strict';
const fs = require('fs');
const path = require('path');
const [glue, wasm, coreFile, casesFile, out] = process.argv.slice(2).map((p) => path.resolve(p));
const {makeCore} = require(coreFile);
const factory = require(glue);
const bytes = fs.readFileSync(wasm);

(async () => {
  const cases = JSON.parse(fs.readFileSync(casesFile, 'utf8'));
  let core = null;
  for (const [i, one] of cases.entries()) {
    if (!core || one.fresh) core = await makeCore(factory, bytes);
    const folder = path.join(out, String(i));
    fs.mkdirSync(folder, {recursive: true});
    let answer;
    const began = process.hrtime.bigint();
    try {
      for (const [to, from] of Object.entries(one.files || {}))
        core.put(to, new Uint8Array(fs.readFileSync(from)));
      core.enter(one.folder);
      if (one.demo)
        answer = {
          status: 0,
          message: core.demo(),
          files: ['gourd_pocket.stl', 'gourd_skin.stl'].map(
              (name) => ({name, bytes: core.read(`${one.folder}/${name}`)}))
        };
      else if (one.answers) answer = {status: 0, message: core.firstJob(one.answers), files: []};
      else answer = core.check(one.request);
    } catch (fault) {
      answer = {
        status: -1,
        message: `the module failed: ${fault && fault.stack || fault}`,
        files: []
      };
      core = null;
    }
    const seconds = Number(process.hrtime.bigint() - began) / 1e9;
    for (const file of answer.files) fs.writeFileSync(path.join(folder, file.name), file.bytes);
    fs.writeFileSync(path.join(folder, 'answer.json'), JSON.stringify({
      status: answer.status,
      message: answer.message,
      names: answer.files.map((f) => f.name),
      seconds,
      heap: core ? core.heap() : 0
    }));
  }
})();
