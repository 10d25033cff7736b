"use strict";
/* The model of the page: what the program's rules make of the facts and numbers that came with the
   page. Nothing here knows of a document or a window, all lengths are mm; the view shows it. */

function bytesOf(base64) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(base64);
  const text = atob(base64), bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; ++i) bytes[i] = text.charCodeAt(i);
  return bytes;
}

/* The arrays of one wall, from the bytes behind the facts. */
function numbersOf(base64, facts) {
  const bytes = bytesOf(base64);
  const array = (Type, name) =>
      new Type(bytes.buffer, facts.arrays[name][0], facts.arrays[name][1]);
  const n = facts.samples, box = facts.box, raw = array(Uint16Array, "at");
  const at = new Float32Array(3 * n);
  for (let i = 0; i < 3 * n; ++i) {
    const low = box[0][i % 3];
    at[i] = low + (box[1][i % 3] - low) * raw[i] / 65535;
  }
  const columns = facts.scales.map(function(scale, j) {
    const whole = new Int16Array(bytes.buffer, facts.arrays.columns[0] + 2 * n * j, n);
    const column = new Float32Array(n);
    for (let i = 0; i < n; ++i) column[i] = whole[i] * scale;
    return column;
  });
  /* Errors that vary over the piece: slot by slot, number of the error and what it does. */
  let shares = {slots: 0, count: 0, scale: 0, error: [], c: []};
  if (facts.shares) {
    const count = facts.shares.causes.length;
    shares = {
      slots: facts.shares.slots,
      count,
      scale: facts.shares.scale,
      error: array(count < 65536 ? Uint16Array : Uint32Array, "share_error"),
      c: array(Int16Array, "share_c")
    };
  }
  return {
    n,
    at,
    columns,
    shares,
    wall: array(Float32Array, "wall"),
    through: array(Int8Array, "through"),
    cells: array(n <= 65536 ? Uint16Array : Uint32Array, "cells"),
    expected: facts.arrays.expected ? array(Float32Array, "expected") : null,
    worst: facts.arrays.worst ? array(Float32Array, "worst") : null
  };
}
