'use strict';
// The screen. Names and texts of files are only ever shown as text.
const by = (id) => document.getElementById(id);
const show = (id, seen) => { by(id).hidden = !seen; };
const say = (id, text) => {
  by(id).textContent = text;
  show(id, text !== '');
};

const MOST_FILES = 2000;
const MOST_BYTES = 1.2e9; // of all files: with trees and samples beside them no browser has more
const megabytes = (bytes) => bytes < 1e5 ? `${Math.max(1, Math.round(bytes / 1e3))} kB`
                             : bytes < 1e7 ? `${(bytes / 1e6).toFixed(1)} MB`
                                           : `${Math.round(bytes / 1e6)} MB`;

// Light or dark.
function setTheme(theme) {
  document.documentElement.dataset.theme = theme;
  by('theme').textContent = theme === 'dark' ? 'Light page' : 'Dark page';
}
setTheme(matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light');
by('theme').addEventListener(
    'click', () => setTheme(document.documentElement.dataset.theme === 'dark' ? 'light' : 'dark'));

// What was chosen.
const chosen = {
  pocket: null,
  skin: null,
  job: []
};
const FIELDS = ['limit', 'touch_off', 'flatness', 'thickness'];

function tooLarge(files) {
  const bytes = files.reduce((sum, file) => sum + file.size, 0);
  return bytes <= MOST_BYTES
             ? ''
             : `These files hold ${megabytes(bytes)}; in a browser there is memory for ` +
                   `${
                       megabytes(
                           MOST_BYTES)} of them. Use coarser meshes, or the installed program.`;
}

function chooseMesh(which, file) {
  markOld();
  chosen[which] = file;
  const drop = by(which).closest('.drop');
  drop.querySelector('[data-name]').textContent =
      file ? `${file.name}, ${megabytes(file.size)}` : 'choose a file, or drop it here';
  drop.classList.toggle('given', !!file);
  drop.classList.remove('wrong');
  say('note-' + which, file ? tooLarge([file]) : '');
}

function chooseJob(files) {
  markOld();
  chosen.job = files;
  const list = by('job-files');
  list.textContent = '';
  for (const {path, file} of files.slice(0, 30)) {
    const line = list.appendChild(document.createElement('li'));
    line.appendChild(document.createElement('span')).textContent = path;
    line.appendChild(document.createElement('span')).textContent = megabytes(file.size);
  }
  if (files.length > 30)
    list.appendChild(document.createElement('li')).textContent = `and ${files.length - 30} more`;
  show('fault', false);
  const jobs = files.filter(({path}) => /\.toml$/i.test(path));
  const hidden = files.find(({path}) => /\.toml\.txt$/i.test(path));
  say('note-job',
      !files.length ? ''
      : files.length > MOST_FILES
          ? `There are more than ${MOST_FILES} files among these: drop the folder of the job alone.`
      : jobs.length === 1 ? tooLarge(files.map(({file}) => file))
      : jobs.length       ? `There are ${jobs.length} job files among these: choose one of them.`
            : hidden ? `${hidden.path} ends in .txt: name it ${
                     hidden.path.replace(/\.txt$/i, '')}, and choose it again.`
                     : 'No job file is among these: choose the .toml file as well.');
  enable();
  by('job').closest('.drop').classList.toggle('given', files.length > 0);
}

// Files of a drop, those in folders with their paths.
async function droppedFiles(transfer) {
  const entries = [...transfer.items]
                      .filter((item) => item.kind === 'file')
                      .map((item) => item.webkitGetAsEntry ? item.webkitGetAsEntry() : null);
  if (!entries.some((entry) => entry && entry.isDirectory))
    return [...transfer.files].map((file) => ({path: file.name, file}));
  const files = [];
  const walk = async (entry) => {
    if (files.length > MOST_FILES) return;
    if (entry.isFile)
      files.push({
        path: entry.fullPath.replace(/^\//, ''),
        file: await new Promise((good, bad) => entry.file(good, bad))
      });
    else {
      const reader = entry.createReader();
      for (;;) {
        const some = await new Promise((good, bad) => reader.readEntries(good, bad));
        if (!some.length) break;
        for (const inner of some) await walk(inner);
      }
    }
  };
  for (const entry of entries)
    if (entry) await walk(entry);
  return files;
}

for (const which of ['pocket', 'skin', 'job']) {
  const input = by(which), drop = input.closest('.drop');
  input.addEventListener('change', () => {
    const files = [...input.files];
    input.value = ''; // the same file can be chosen again when it was written anew
    if (which === 'job') chooseJob(files.map((file) => ({path: file.name, file})));
    else if (files.length) chooseMesh(which, files[0]);
  });
  drop.addEventListener('dragover', (event) => {
    event.preventDefault();
    drop.classList.add('over');
  });
  drop.addEventListener('dragleave', () => drop.classList.remove('over'));
  drop.addEventListener('drop', async (event) => {
    event.preventDefault();
    drop.classList.remove('over');
    const files = await droppedFiles(event.dataTransfer);
    if (which === 'job') chooseJob(files);
    else if (files.length === 1) chooseMesh(which, files[0].file);
    else say('note-' + which, files.length ? 'Drop one file here.' : '');
  });
}
for (const name of FIELDS) by(name).addEventListener('input', markOld);
by('units').addEventListener('change', markOld);
// A file that misses its place must not be opened in place of the page.
for (const kind of ['dragover', 'drop'])
  window.addEventListener(kind, (event) => {
    if (!event.target.closest('.drop')) event.preventDefault();
  });
