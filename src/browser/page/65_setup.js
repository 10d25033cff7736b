'use strict';
// The form of the job that is shown: judged as it is typed, what is not checked yet is told, a check is a change
// that is tried. On a phone it is folded until it is asked for.
by('setup-all').open = innerWidth >= 800;
const form = makeForm(by('first'), by('others'));
// How much stands in the form that is not in the answer, and so in nothing that is saved.
function countUnchecked() {
  const n = form.count();
  say('unchecked',
      !n ? ''
         : `${n === 1 ? 'One change' : `${n} changes`} in the set-up below ` +
               `${
                   n === 1
                       ? 'is'
                       : 'are'} not checked yet: neither this answer nor the job that is saved has ${
                   n === 1 ? 'it' : 'them'}.`);
}
// What was typed and is not in the answer.
function putBack(typed) {
  form.put(typed);
  countUnchecked();
}

let judging = Promise.resolve(null); // the field that is wrong, null: none
const judge = () => {
  const {shown} = held, typed = form.typed();
  if (!shown || !Object.keys(typed).length) return judging = Promise.resolve(null);
  return judging = judging.then(async () => {
    const name = (shown.job || {name: 'job.toml'}).name;
    const result = await work.run({work: 'form', name, text: shown.result.text, typed}, []);
    return result.form && held.shown === shown ? form.judge(result.form) : null;
  });
};
by('setup-form').addEventListener('change', () => {
  form.mark();
  countUnchecked();
  say('note-setup', '');
  if (!asking) judge();
});
by('put-back').addEventListener('click', () => {
  form.back();
  countUnchecked();
  say('note-setup', '');
});
by('setup-form').addEventListener('submit', async (event) => {
  event.preventDefault();
  if (asking || !held.shown) return;
  const typed = form.typed(), words = form.words();
  if (!words.length) return say('note-setup', 'Nothing is changed yet.');
  const wrong = await judge();
  if (wrong) {
    say('note-setup', 'Not checked: see the marked place above.');
    return wrong.focus();
  }
  tryOut({text: words.join('; '), typed});
});
