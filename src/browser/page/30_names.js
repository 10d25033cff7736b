'use strict';
// Which of the files that were dropped is meant by each name that stands in a job.
const lastOf = (path) => path.split(/[\/\\]/).pop();
const folderOf = (path) => path.slice(0, Math.max(0, path.lastIndexOf('/')));

// "a/b" and "../c" are "a/c"; what leads out of the top keeps its "..".
function joined(folder, name) {
  if (name.startsWith('/')) return name;
  const parts = [];
  for (const part of `${folder}/${name}`.split('/'))
    if (part === '..' && parts.length && parts[parts.length - 1] !== '..') parts.pop();
    else if (part && part !== '.') parts.push(part);
  return parts.join('/');
}

// The texts that a TOML file states on one line each; more of them than are names does no harm.
function textsOf(toml) {
  const texts = [];
  for (const [, double, single] of toml.matchAll(/"((?:[^"\\\n]|\\.)*)"|'([^'\n]*)'/g)) {
    if (single !== undefined) texts.push(single);
    else
      try {
        texts.push(JSON.parse(`"${double}"`));
      } catch (notJson) {
        texts.push(double);
      }
  }
  return texts;
}

// `dropped`: [{path, ...}], path with "/" as it was dropped; `job`: one of them; `toml`: its text.
// Gives {folder, files: [{of, path}]}: what is to lie where, path relative to the folder of the job; or
// {wrong}: a sentence. A file lies where it was dropped; a name that leads to none is served by the dropped
// file that is called so, wherever it was, if there is only one and no other name would take it.
function placed(dropped, job, toml) {
  const folder = folderOf(job.path);
  const here = new Map(dropped.map((file) => [file.path, file]));
  const files = dropped.map((file) => ({of: file, path: relative(folder, file.path)}));
  const taken = new Map();
  for (const text of new Set(textsOf(toml))) {
    const last = lastOf(text);
    if (!last || text.includes('\0') || here.has(joined(folder, text))) continue;
    const called = (same) => dropped.filter((file) => file !== job && same(lastOf(file.path)));
    let found = called((name) => name === last);
    if (!found.length) found = called((name) => name.toLowerCase() === last.toLowerCase());
    if (!found.length) continue;
    if (found.length > 1)
      return {wrong: `the job names ${text}, and ${found.length} of the files are called ${last}: drop the ` +
        'folder in which the job lies, with all that is in it'};
    const [file] = found;
    const before = taken.get(file);
    if (before !== undefined && joined(folder, before) !== joined(folder, text))
      return {wrong: `the job names ${before} and ${text}, and one file is called ${last}: drop the folder in ` +
        'which the job lies, with all that is in it'};
    if (before === undefined && textsOf(toml).some((other) => other !== text &&
        joined(folder, other) === file.path))
      return {wrong: `the job names ${text} as well as the ${last} that was chosen, which lies elsewhere: drop ` +
        'the folder in which the job lies, with all that is in it'};
    taken.set(file, text);
    files.push({of: file, path: text});
  }
  return {folder, files};
}

function relative(folder, path) {
  const from = folder ? folder.split('/') : [], to = path.split('/');
  while (from.length && to.length > 1 && from[0] === to[0]) from.shift(), to.shift();
  return [...from.map(() => '..'), ...to].join('/');
}
if (typeof module !== 'undefined' && module.exports) module.exports = {placed, joined, textsOf, relative};
