'use strict';
// Which of the files that were dropped is meant by each name that stands in a job.
const lastOf = (path) => path.split(/[\/\\]/).pop();
const folderOf = (path) => path.slice(0, Math.max(0, path.lastIndexOf('/')));

// "a/b" and "../c" are "a/c"; what leads out of the top keeps its "..".
function joined(folder, name) {
  if (name.startsWith('/')) return name;
  const parts = [];
  for (const part of`${folder}/${name}`.split('/'))
    if (part === '..' && parts.length && parts[parts.length - 1] !== '..') parts.pop();
    else if (part && part !== '.') parts.push(part);
  return parts.join('/');
}

// The texts that a TOML file states on one line each; more of them than are names does no harm. What the core
// refuses for its size is not looked at.
const MOST_JOB_BYTES = 1 << 20, MOST_LINE = 4000;
function textsOf(toml) {
  const texts = new Set();
  if (toml.length > MOST_JOB_BYTES) return texts;
  for (const line of toml.split('\n')) {
    if (line.length > MOST_LINE) continue;
    for (let at = 0; at < line.length && line[at] !== '#'; ++at) {
      const quote = line[at];
      if (quote !== '"' && quote !== "'") continue;
      let end = at + 1;
      while (end < line.length && line[end] !== quote)
        end += quote === '"' && line[end] === '\\' ? 2 : 1;
      if (end >= line.length) break;
      const text = line.slice(at + 1, end);
      at = end;
      try {
        texts.add(quote === '"' ? JSON.parse(`"${text}"`) : text);
      } catch (notJson) {
        texts.add(text);
      }
    }
  }
  return texts;
}

// `dropped`: [{path, ...}], path with "/" as it was dropped; `job`: one of them; `toml`: its text.
// Gives {folder, files: [{of, path}], used}: what is to lie where, path relative to the folder of the job, and a
// sentence for each file that stands in; or {wrong}: a sentence. A file lies where it was dropped. Where no
// folder was, a name that leads to none is served by the file that is called so, if there is only one and no
// other name would take it: that is said. In a folder what a name leads to is all that counts.
function placed(dropped, job, toml) {
  const DROP = 'drop the folder in which the job lies, with all that is in it';
  const folder = folderOf(job.path);
  const here = new Set(), byName = new Map();
  for (const file of dropped) {
    if (here.has(file.path))
      return {
        wrong: `two of the files are called ${file.path}: choose the one that the job means, or ${
            DROP}`
      };
    here.add(file.path);
    const key = lastOf(file.path).toLowerCase();
    if (file !== job) byName.set(key, [...(byName.get(key) || []), file]);
  }
  const files = dropped.map((file) => ({of: file, path: relative(folder, file.path)}));
  const used = [], taken = new Map();
  const texts = textsOf(toml), meant = new Set([...texts].map((text) => joined(folder, text)));
  for (const text of dropped.some(({path}) => path.includes('/')) ? [] : texts) {
    const last = lastOf(text);
    if (!last || text.includes('\0') || here.has(joined(folder, text))) continue;
    const alike = byName.get(last.toLowerCase()) || [];
    const exact = alike.filter((file) => lastOf(file.path) === last),
          found = exact.length ? exact : alike;
    if (!found.length) continue;
    if (found.length > 1)
      return {
        wrong: `the job names ${text}, and ${found.length} of the files are called so: ${DROP}`
      };
    const [file] = found, before = taken.get(file);
    if (before !== undefined && joined(folder, before) !== joined(folder, text))
      return {
        wrong: `the job names ${before} and ${text}, and one file is called ${last}: ${DROP}`
      };
    if (before === undefined && meant.has(file.path))
      return {
        wrong: `the job names ${text} as well as the ${
            last} that was chosen, which lies elsewhere: ${DROP}`
      };
    if (before === undefined)
      used.push(`The job names ${text}; the file ${file.path} that you chose was read.`);
    taken.set(file, text);
    files.push({of: file, path: text});
  }
  return {folder, files, used};
}

function relative(folder, path) {
  const from = folder ? folder.split('/') : [], to = path.split('/');
  while (from.length && to.length > 1 && from[0] === to[0]) from.shift(), to.shift();
  return [...from.map(() => '..'), ...to].join('/');
}
if (typeof module !== 'undefined' && module.exports)
  module.exports = {placed, joined, textsOf, relative};
