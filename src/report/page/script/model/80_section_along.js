/* The wall cut upright along the line from p to q: skin, pocket and skin at worst where the plane
   passes, as pairs of (mm along the line, z); the least wall on it. */
function sectionAlong(numbers, walls, p, q) {
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const ux = (q[0] - p[0]) / length, uy = (q[1] - p[1]) / length;
  const at = numbers.at, cells = numbers.cells, through = numbers.through, drawn = numbers.wall;
  const out = {length, skin: [], pocket: [], worst: [], least: null};
  const off = i => (at[3 * i + 1] - p[1]) * ux - (at[3 * i] - p[0]) * uy;
  const flat = m => [(m[0] - p[0]) * ux + (m[1] - p[1]) * uy, m[2]];
  for (let c = 0; c < cells.length; c += 3) {
    const ends = [];
    for (let e = 0; e < 3 && ends.length < 2; ++e) {
      const a = cells[c + e], b = cells[c + (e + 1) % 3], oa = off(a), ob = off(b);
      if ((oa < 0) === (ob < 0)) continue;
      const f = oa / (oa - ob), mix = (of, k) => of(a, k) + f * (of(b, k) - of(a, k));
      const moved = (inwards, k) => i => at[3 * i + k] - through[3 * i + k] / 127 * inwards(i);
      const point = inwards => [0, 1, 2].map(k => mix(moved(inwards, k)));
      const skin = point(() => 0), pocket = point(i => drawn[i]);
      const worst = point(i => drawn[i] - walls.worst[i]);
      ends.push({
        at: skin,
        wall: mix(i => walls.expected[i]),
        skin: flat(skin),
        pocket: flat(pocket),
        worst: flat(worst)
      });
    }
    if (ends.length < 2) continue;
    const from = Math.min(ends[0].skin[0], ends[1].skin[0]),
          to = Math.max(ends[0].skin[0], ends[1].skin[0]);
    if (to < 0 || from > length) continue;
    for (const which of ["skin", "pocket", "worst"])
      out[which].push(...ends[0][which], ...ends[1][which]);
    for (const end of ends)
      if (end.skin[0] >= 0 && end.skin[0] <= length && (!out.least || end.wall < out.least.wall))
        out.least = end;
  }
  return out;
}
