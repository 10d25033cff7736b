"use strict";
/* What the program wrote into the page: facts as JSON, arrays as bytes. All lengths mm. Of a page
   with several walls the address chooses one, "#wall-3"; else it is the first. */
const payloads = [...document.querySelectorAll("script[id^=facts]")].map(e => ({ wall: e.dataset.wall, facts: e, numbers: document.getElementById(e.id.replace("facts", "numbers")) }));
const named = () => payloads.find(p => location.hash === "#wall-" + p.wall);
const chosen = named() || payloads[0];
window.addEventListener("hashchange", function () { if ((named() || payloads[0]) !== chosen) location.reload(); });
const facts = JSON.parse(chosen.facts.textContent);
function bytesOf(base64) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(base64);
  const text = atob(base64), bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; ++i) bytes[i] = text.charCodeAt(i);
  return bytes;
}
function numbersOf(payload, facts) {
  const bytes = bytesOf(payload.numbers.textContent);
  const array = (Type, name) => new Type(bytes.buffer, facts.arrays[name][0], facts.arrays[name][1]);
  const n = facts.samples, box = facts.box, raw = array(Uint16Array, "at");
  const at = new Float32Array(3 * n);
  for (let i = 0; i < 3 * n; ++i) {
    const low = box[0][i % 3];
    at[i] = low + (box[1][i % 3] - low) * raw[i] / 65535;
  }
  const columns = facts.scales.map(function (scale, j) {
    const whole = new Int16Array(bytes.buffer, facts.arrays.columns[0] + 2 * n * j, n);
    const column = new Float32Array(n);
    for (let i = 0; i < n; ++i) column[i] = whole[i] * scale;
    return column;
  });
  /* Errors that vary over the piece: slot by slot, number of the error and what it does. */
  const shares = facts.shares ? {
    slots: facts.shares.slots, count: facts.shares.causes.length, scale: facts.shares.scale,
    error: array(facts.shares.causes.length < 65536 ? Uint16Array : Uint32Array, "share_error"),
    c: array(Int16Array, "share_c")
  } : { slots: 0, count: 0, scale: 0, error: [], c: [] };
  return {
    n, at, columns, shares,
    wall: array(Float32Array, "wall"),
    through: array(Int8Array, "through"),
    cells: array(n <= 65536 ? Uint16Array : Uint32Array, "cells"),
    expected: facts.arrays.expected ? array(Float32Array, "expected") : null,
    worst: facts.arrays.worst ? array(Float32Array, "worst") : null
  };
}
const numbers = numbersOf(chosen, facts);
chosen.numbers.textContent = "";
/* The other walls, as the program found them; read when they are first shown. */
let othersRead = null;
function otherWalls() {
  return othersRead = othersRead || payloads.filter(p => p !== chosen).map(function (p) {
    const f = JSON.parse(p.facts.textContent), n = numbersOf(p, f);
    p.numbers.textContent = "";
    return { facts: f, numbers: n };
  });
}

/* Everything is computed in mm; inches are only shown. */
const unit = {
  inch: facts.inches,
  get mm() { return unit.inch ? 25.4 : 1; },
  get name() { return unit.inch ? "in" : "mm"; }
};

/* What a wall is held against: the limit less what a drawing in single precision may be off. */
const judged = limit => limit - facts.limit_tolerance_mm;

const lengths = (function () {
  const number = "(?:\\+-|\\+|-)?\\d+(?:\\.\\d+)?(?![\\w%]|\\.\\d)", axis = "[xyzXYZ] " + number, item = "(?:[xyzXYZ] )?" + number;
  return new RegExp("(^|[^\\w.+-])(?:(" + item + "(?:(?: to | by | x | and | or )" + item + "|,? " + axis + ")*)( mm per m| mm/m| mm2| mm)(?!\\w)|(" +
    axis + "(?: to " + number + "|(?: and | or |,? )" + axis + ")*))", "g");
})();

/* Numbers as the program prints them. Lengths come in mm, go out in the unit shown, without it. */
const text = {
  fixed(value, decimals) {
    const t = value.toFixed(decimals);
    return Number(t) === 0 ? t.replace("-", "") : t;
  },
  length(mm) { return text.fixed(mm / unit.mm, unit.inch ? 4 : 3); },
  wall(mm, limit) { /* one under the limit is never rounded up to it */
    const whole = v => Math.round(v / unit.mm * (unit.inch ? 1e4 : 1e3));
    return text.length(mm < judged(limit) && whole(mm) >= whole(limit) ? (whole(limit) - 1) / (unit.inch ? 1e4 : 1e3) * unit.mm : mm);
  },
  walls(mm, limit) { return text.wall(mm, limit) + "\u00a0" + unit.name; },
  wallWords(mm, limit) { return mm > 0 ? text.walls(mm, limit) : "hole, " + text.walls(-mm, Infinity) + " too deep"; },
  move(shift, half) { /* what a cause does: a known shift, a spread, or both */
    return (shift ? (shift > 0 ? "+" : "\u2212") + text.length(Math.abs(shift)) : "") + (half || !shift ? (shift ? " " : "") + "\u00b1" + text.length(half) : "");
  },
  area(mm2) {
    const a = mm2 / unit.mm / unit.mm, places = unit.inch ? 3 : 1, least = Math.pow(10, -places);
    return (a > 0 && a < least / 2 ? "under " + least : text.fixed(a, places)) + (unit.inch ? " in\u00b2" : " mm\u00b2");
  },
  axis(mm) { return text.fixed(mm / unit.mm, unit.inch ? 3 : 1); },
  /* Sentences of the program, written in mm: inches in front of every length, area, place and slope,
     as the program's own LengthWords::sentence puts them. What has them already stays. */
  sentence(words) {
    return !unit.inch ? words : words.replace(lengths, function (all, before, group, name, place, offset) {
      const mm = place || group + name, start = offset + before.length, behind = words.slice(offset + all.length);
      if (/ in(?:2| per ft)? (?:\(|= )$/.test(words.slice(0, start)) || place && /^ in(?: \(|[),.;]| = )/.test(behind)) return all;
      const area = name === " mm2", slope = name === " mm/m" || name === " mm per m";
      const inches = (place || group).replace(/\d+(?:\.(\d+))?/g, function (number, part) {
        const v = Number(number), places = part ? part.length : 0;
        return v === 0 && !part ? "0" : text.fixed(area ? v / 645.16 : slope ? v * 0.012 : v / 25.4, area || slope ? 4 : places <= 1 ? 3 : Math.max(4, places + 1));
      }) + (area ? " in2" : slope ? " in per ft" : " in");
      return before + inches + (before === "(" && behind[0] === ")" ? " = " + mm + (place ? " mm" : "") : " (" + mm + (place ? " mm" : "") + ")");
    });
  },
  pieces(fraction, trials) {
    if (fraction >= 1) return "every piece";
    return (fraction > 0 ? text.odds(fraction) : "not one in " + trials) + " pieces";
  },
  odds(fraction, trials) {
    if (fraction <= 0) return "not once in " + trials;
    if (fraction >= 1) return "every time";
    if (fraction >= 0.5) {
      const hundred = Math.round(fraction * 100);
      return (hundred >= 100 ? ">99" : hundred) + " in 100";
    }
    return "1 in " + text.fixed(1 / fraction, 1 / fraction < 10 ? 1 : 0);
  },
  place(x, y, z) { return "x\u00a0" + text.axis(x) + "  y\u00a0" + text.axis(y) + (z === undefined ? "" : "  z\u00a0" + text.axis(z)); },
  placeLine(x, y, z) { return text.place(x, y, z).replace(/  /g, " ") + (unit.inch ? "\u00a0in" : ""); }
};

/* Place 0..1 on the colour scale: 0 mm at 0, 1 mm at 0.6, the top at 1. */
function scalePlace(mm) {
  if (!(mm > 0)) return 0;
  return mm < 1 ? 0.6 * mm : Math.min(1, 0.6 + 0.4 * (mm - 1) / (facts.scale_top_mm - 1));
}
const palette = new Uint8Array(768);
for (let i = 0; i < 768; ++i) palette[i] = parseInt(facts.palette.substr(2 * i, 2), 16);
