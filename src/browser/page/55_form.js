'use strict';
// The form of a job: one field a key, filled from the text of the job. What is typed goes to the core, which
// judges it and writes it into that text; nothing is understood here.

// Drawings of our own beside choices that are easily mixed up: seen from the side or from above.
const BOARD = '<path d="M8 17h40v9H8z"/>', BED = '<path d="M2 26.5h60" stroke-width="3"/>';
const PLAN = '<path d="M8 6h48v28H8z"/>';
const DRAWINGS = {
  zero: {
    top: `${BOARD}${BED}<path d="M18 3v7l4 6.5 4-6.5V3" fill="currentColor"/>`,
    bed: `${BOARD}${BED}<path d="M52 12v7l4 6.5 4-6.5v-7" fill="currentColor"/>`,
  },
  line: {
    'along x': `${
        PLAN}<path d="M2 20h60" stroke-dasharray="8 3 2 3"/><path d="M48 12a9 9 0 0 1 0 16m-4-2 4 2 1-5"/>`,
    'along y': `${
        PLAN}<path d="M32 1v38" stroke-dasharray="8 3 2 3"/><path d="M23 12a12 12 0 0 1 18 0m-1-4v4h-4"/>`,
  },
  located_by: {
    dowels: `${
        PLAN}<g fill="currentColor"><circle cx="32" cy="10" r="2.5"/><circle cx="32" cy="30" r="2.5"/></g>`,
    edges: `${PLAN}<path d="M6 4v32h52" stroke-width="4"/>`,
  },
  stand: {
    'on the flip line':
        `${PLAN}<path d="M32 1v38" stroke-dasharray="8 3 2 3"/><g fill="currentColor">` +
            '<circle cx="32" cy="10" r="2.5"/><circle cx="32" cy="30" r="2.5"/></g>',
    'across the flip line':
        `${PLAN}<path d="M32 1v38" stroke-dasharray="8 3 2 3"/><g fill="currentColor">` +
            '<circle cx="13" cy="20" r="2.5"/><circle cx="51" cy="20" r="2.5"/></g>',
  },
  // The end of the board: rings along its wide faces are crossed by the thickness, upright ones are not.
  grain: {
    radial: '<path d="M4 8h56v24H4zM4 14q28-8 56 0M4 20q28-8 56 0M4 26q28-8 56 0"/>',
    tangential:
        '<path d="M4 8h56v24H4zM14 8q3 12 0 24m9-24q3 12 0 24m9-24q3 12 0 24m9-24q3 12 0 24m9-24q3 12 0 24"/>',
  },
  seating: {
    pressed:
        '<path d="M4 18q14-8 28 0t28 0v8q-14 8-28 0t-28 0z"/><path d="M4 27q14-8 28 0t28 0" stroke-width="3"/>',
    rigid: '<path d="M4 13h56v9H4z"/><path d="M4 27q14-8 28 0t28 0" stroke-width="3"/>',
  },
};
const TOUCHED = `${PLAN}<path d="M12 26h10l-5 7z" fill="currentColor"/><path d="M29 20h6m-3-3v6"/>`;
const drawn = (paths) =>
    '<svg viewBox="0 0 64 40" width="64" height="40" aria-hidden="true" fill="none" ' +
    `stroke="currentColor" stroke-width="1.6">${paths}</svg>`;

const makeForm = (first, others) => {
  let fields = []; // {field, read(), write(text), note, place}
  const element = (into, kind, set = {}) =>
      Object.assign(into.appendChild(document.createElement(kind)), set);
  const left = ({absent, example}) =>
      absent || (example ? `such as ${example.replace(/^"|"$/g, '')}` : '');

  const WORDS = {radial: 'flat-sawn (radial)', tangential: 'quarter-sawn (tangential)'};

  function cards(box, field, id, drawings) {
    const group = element(box, 'fieldset', {id, className: 'cards'});
    element(group, 'legend', {textContent: field.label});
    const inputs = [];
    const card = (value, words, picture) => {
      const label = element(group, 'label', {className: 'card'});
      const input = element(label, 'input', {type: 'radio', name: id, value});
      if (picture) label.insertAdjacentHTML('beforeend', drawn(picture));
      element(label, 'span', {textContent: words});
      inputs.push(input);
    };
    for (const choice of field.choices) card(choice, WORDS[choice] || choice, drawings[choice]);
    if (field.value === undefined || field.absent) card('', field.absent || 'left out', null);
    return {
      control: group,
      read: () => (inputs.find((input) => input.checked) || {value: ''}).value,
      write: (text) => {
        for (const input of inputs) input.checked = input.value === text;
      }
    };
  }

  function plain(box, field, id) {
    element(box, 'label',
            {htmlFor: id, textContent: field.label + (field.unit ? `, ${field.unit}` : '')});
    let control;
    if (field.kind === 'choice') {
      control = element(box, 'select', {id});
      if (field.value === undefined || field.absent)
        element(control, 'option', {value: '', textContent: field.absent || 'left out'});
      for (const choice of field.choices)
        element(control, 'option', {value: choice, textContent: choice});
    } else if (field.kind === 'readings') {
      control = element(box, 'textarea', {
        id,
        rows: 5,
        spellcheck: false,
        placeholder: 'x  y  reading, a line each, or a table pasted here'
      });
    } else {
      control = element(box, 'input', {id, type: 'text', placeholder: left(field)});
    }
    // A table may begin with an empty cell.
    const read = () => field.kind === 'readings' ? control.value.replace(/^\s*\n|\s+$/g, '')
                                                 : control.value.trim();
    return {control, read, write: (text) => { control.value = text; }};
  }

  function add(into, field) {
    const box = element(into, 'div', {className: 'field'}),
          id = 'key-' + field.path.replaceAll('.', '-');
    const drawings = DRAWINGS[field.path.split('.').pop()];
    const {control, read, write} = field.kind === 'choice' && drawings
                                       ? cards(box, field, id, drawings)
                                       : plain(box, field, id);
    if (field.path.endsWith('touch_point')) {
      control.insertAdjacentHTML('beforebegin', drawn(TOUCHED));
      box.classList.add('pictured');
    }
    element(box, 'small', {id: 'help-' + id, textContent: field.help.replace(/`/g, '"')});
    const note = element(box, 'p', {id: 'note-' + id, className: 'refused', hidden: true});
    control.setAttribute('aria-describedby', `help-${id} note-${id}`);
    write(field.value ?? '');
    fields.push(
        {field, control, read, write, note, box, was: read()}); // a field may trim what it shows
  }

  const changed = () => fields.filter(({was, read}) => read() !== was);
  const mark = () => {
    const now = new Set(changed());
    for (const one of fields) one.box.classList.toggle('changed', now.has(one));
  };
  const tell = (one, text, wrong) => {
    one.note.textContent = text;
    one.note.hidden = !text;
    one.note.className = wrong ? 'refused' : 'hint';
    if (wrong) one.control.setAttribute('aria-invalid', 'true');
    else one.control.removeAttribute('aria-invalid');
  };
  return {
    fill(form) {
      fields = [];
      first.textContent = others.textContent = '';
      if (!form) return;
      for (const field of form.first) add(first, field);
      for (const {title, fields: some} of form.more) {
        const group = element(others, 'details');
        element(group, 'summary', {
          textContent:
              title + (some.some(({value}) => value !== undefined) ? '' : ' (nothing stated)')
        });
        const box = element(group, 'div', {className: 'fields'});
        for (const field of some) add(box, {...field, group: title});
      }
    },
    mark,
    count: () => changed().length,
    // {path: text} of what differs from the job.
    typed: () => Object.fromEntries(changed().map(
        ({field, read}) => [field.path, read().toWellFormed ? read().toWellFormed() : read()])),
    // In words, one line a change.
    words: () => changed().map(({field, read}) => {
      const of = (text) => text === ''           ? 'left out'
                           : text.includes('\n') ? `${text.split('\n').length} lines`
                                                 : text;
      const group = field.group ? `${field.group}: ` : '';
      return `${group}${field.label}: ${of(field.value ?? '')} → ${of(read())}`;
    }),
    put(typed) {
      for (const one of fields)
        if (one.field.path in typed) one.write(typed[one.field.path]);
      mark();
    },
    back() {
      for (const one of fields) {
        one.write(one.field.value ?? '');
        tell(one, '', false);
      }
      mark();
    },
    // What the core says of each; returns the first that is wrong.
    judge({wrong, understood}) {
      let bad = null;
      for (const one of fields) {
        const {path} = one.field;
        tell(one, wrong[path] || understood[path] || '', path in wrong);
        if (path in wrong) bad = bad || one;
      }
      return bad && this.reveal(bad);
    },
    // The field that a message of the reader names, if any; says it there.
    say(message) {
      const named = fields.filter(
          ({field}) =>
              message.includes(field.path) &&
              !/[\w.]/.test(message.charAt(message.indexOf(field.path) + field.path.length)));
      const one = named.sort((a, b) => b.field.path.length - a.field.path.length)[0];
      if (!one) return null;
      tell(one, message.replace(/^[^ ]*:\d+: /, ''), true);
      return this.reveal(one);
    },
    reveal(one) {
      for (let at = one.box.parentElement; at; at = at.parentElement)
        if (at.tagName === 'DETAILS') at.open = true;
      return one.control.tagName === 'FIELDSET' ? one.control.querySelector('input') : one.control;
    },
  };
};
