/* Numbers as carvers type them: comma or point, fractions, a unit behind. */
function makeTypedNumber(unit) {
  const inMm = { mm: 1, cm: 10, um: 0.001, "\u00b5m": 0.001, "\u03bcm": 0.001,
    in: 25.4, inch: 25.4, inches: 25.4, "\"": 25.4, thou: 0.0254 };
  const plain = /^([+-]?)(\d+(?:[.,]\d*)?|[.,]\d+)$/;
  const fraction = /^([+-]?)(?:(\d+)[ -])?(\d+)\/(\d+)$/;

  function number(words) { /* null: no number */
    const p = plain.exec(words);
    if (p) return Number(p[1] + p[2].replace(",", "."));
    const f = fraction.exec(words);
    if (!f || Number(f[4]) === 0) return null;
    return (f[1] === "-" ? -1 : 1) * (Number(f[2] || 0) + Number(f[3]) / Number(f[4]));
  }

  /* What was typed, in the unit `own` of the value (mm for lengths); null when it is no number. A
     bare length is in the unit shown. */
  return function(words, own) {
    words = words.replace(/[\u2212\u2013]/g, "-")
                .replace(/[\u2033\u201d]/g, "\"")
                .replace(/[\u00bc-\u00be\u2150-\u215e]/g, c => " " + c.normalize("NFKD"))
                .replace(/\u2044/g, "/")
                .replace(/\s+/g, " ")
                .replace(/ ?\/ ?/g, "/")
                .replace(/^([+-]) /, "$1")
                .trim();
    if (own !== "mm") {
      if (own && words.endsWith(own)) words = words.slice(0, -own.length).trim();
      return number(words);
    }
    const named = /^(.*?) ?(mm|cm|[u\u00b5\u03bc]m|inches|inch|in|"|thou)$/i.exec(words);
    const value = number(named ? named[1] : words);
    return value === null ? null : value * (named ? inMm[named[2].toLowerCase()] : unit.mm);
  };
}
