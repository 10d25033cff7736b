/* Everything is computed in mm; inches are only shown. */
function makeUnit(inch) {
  return {
    inch,
    get mm() { return this.inch ? 25.4 : 1; },
    get name() { return this.inch ? "in" : "mm"; }
  };
}

/* What a wall is held against: the limit less what a drawing in single precision may be off. */
const limitAsJudged = (facts, limit) => limit - facts.limit_tolerance_mm;

/* Numbers as the program prints them. Lengths come in mm, go out in the unit shown, without it. */
function makeText(facts, unit) {
  const text = {
    /* Exact halves go to the even digit, as the program writes them; toFixed takes them away from 0. */
    fixed(value, decimals) {
      const exact = value.toFixed(decimals + 40), down = /[02468]\.?50{39}$/.test(exact);
      const t = down ? exact.slice(0, decimals ? -40 : -41) : value.toFixed(decimals);
      return Number(t) === 0 ? t.replace("-", "") : t;
    },
    length(mm) { return text.fixed(mm / unit.mm, unit.inch ? 4 : 3); },
    /* One under the limit is never rounded up to it. */
    wall(mm, limit) {
      const steps = unit.inch ? 1e4 : 1e3, whole = v => Math.round(v / unit.mm * steps);
      const up = mm < limitAsJudged(facts, limit) && whole(mm) >= whole(limit);
      return text.length(up ? (whole(limit) - 1) / steps * unit.mm : mm);
    },
    walls(mm, limit) { return text.wall(mm, limit) + "\u00a0" + unit.name; },
    wallWords(mm, limit) {
      return mm > 0 ? text.walls(mm, limit) : "hole, " + text.walls(-mm, Infinity) + " too deep";
    },
    /* What a cause does: a known shift, a spread, or both. */
    move(shift, half) {
      const known = shift ? (shift > 0 ? "+" : "\u2212") + text.length(Math.abs(shift)) : "";
      const spread = half || !shift ? "\u00b1" + text.length(half) : "";
      return known + (known && spread ? " " : "") + spread;
    },
    area(mm2) {
      const a = mm2 / unit.mm / unit.mm, places = unit.inch ? 3 : 1, least = Math.pow(10, -places);
      return (a > 0 && a < least / 2 ? "under " + least : text.fixed(a, places)) +
             (unit.inch ? " in\u00b2" : " mm\u00b2");
    },
    axis(mm) { return text.fixed(mm / unit.mm, unit.inch ? 3 : 1); },
    /* A sentence of the program, written in mm: in inches as the program itself puts them. */
    sentence(words) { return unit.inch && facts.in_inches[words] || words; },
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
    place(x, y, z) {
      return "x\u00a0" + text.axis(x) + "  y\u00a0" + text.axis(y) +
             (z === undefined ? "" : "  z\u00a0" + text.axis(z));
    },
    placeLine(
        x, y,
        z) { return text.place(x, y, z).replace(/  /g, " ") + (unit.inch ? "\u00a0in" : ""); },
    /* A sentence with {names} in it, each filled in. */
    filled(words, values) { return words.replace(/\{(\w+)\}/g, (all, name) => values[name]); }
  };
  return text;
}

/* A round length of at most `most`: 1, 2 or 5 times a power of ten. */
function roundUnder(most) {
  const power = Math.pow(10, Math.floor(Math.log10(most)));
  return most / power >= 5 ? 5 * power : most / power >= 2 ? 2 * power : power;
}
