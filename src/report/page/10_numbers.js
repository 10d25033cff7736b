"use strict";
/* What the program wrote into the page: facts as JSON, arrays as bytes. All lengths mm. */
const facts = JSON.parse(document.getElementById("facts").textContent);
const numbers = (function () {
  const element = document.getElementById("numbers");
  const text = atob(element.textContent);
  element.textContent = "";
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; ++i) bytes[i] = text.charCodeAt(i);
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
  return {
    n, at, columns,
    wall: array(Float32Array, "wall"),
    through: array(Int8Array, "through"),
    cells: array(n <= 65536 ? Uint16Array : Uint32Array, "cells")
  };
})();

/* Numbers as the program prints them. */
const text = {
  fixed(value, decimals) {
    const t = value.toFixed(decimals);
    return Number(t) === 0 ? t.replace("-", "") : t;
  },
  wall(mm, limit) { /* never rounded up to the limit */
    const up = mm < limit && Math.round(mm * 1000) >= Math.round(limit * 1000);
    return text.fixed(up ? (Math.round(limit * 1000) - 1) / 1000 : mm, 3);
  },
  area(mm2) { return mm2 > 0 && mm2 < 0.05 ? "under 0.1" : text.fixed(mm2, 1); },
  odds(fraction, trials) {
    if (fraction <= 0) return "not once in " + trials;
    if (fraction >= 1) return "every time";
    if (fraction >= 0.5) {
      const hundred = Math.round(fraction * 100);
      return (hundred >= 100 ? ">99" : hundred) + " in 100";
    }
    return "1 in " + text.fixed(1 / fraction, 1 / fraction < 10 ? 1 : 0);
  },
  place(x, y, z) { return "x " + text.fixed(x, 1) + "  y " + text.fixed(y, 1) + "  z " + text.fixed(z, 1); }
};

/* Place 0..1 on the colour scale: 0 mm at 0, 1 mm at 0.6, the top at 1. */
function scalePlace(mm) {
  if (!(mm > 0)) return 0;
  return mm < 1 ? 0.6 * mm : Math.min(1, 0.6 + 0.4 * (mm - 1) / (facts.scale_top_mm - 1));
}
const palette = new Uint8Array(768);
for (let i = 0; i < 768; ++i) palette[i] = parseInt(facts.palette.substr(2 * i, 2), 16);
