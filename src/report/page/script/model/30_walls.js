/* The wall at every sample from the sizes of the causes, by the rules of the program: the middles of
   the causes move what is expected, their half-widths add up to the worst. */
function makeWalls(facts, numbers) {
  const causes = facts.causes;
  const stated = {limit: facts.limit_mm, sizes: causes.map(c => c.size)};

  const judged = limit => limitAsJudged(facts, limit);

  /* Place 0..1 on the colour scale, straight from nothing to the knee and on to the top; and back. */
  const {top_mm: top, knee_mm: knee, knee_place: bend} = facts.scale;
  function scalePlace(mm) {
    if (!(mm > 0)) return 0;
    return mm < knee ? bend * mm / knee
                     : Math.min(1, bend + (1 - bend) * (mm - knee) / (top - knee));
  }
  function scaleWall(place) {
    return place < bend ? place / bend * knee : knee + (place - bend) / (1 - bend) * (top - knee);
  }

  /* At the very worst a roughing mark is this much below the finished floor. */
  function overcutDepth(cause, sizes, k) {
    let finish = 0;
    for (const f of cause.overcut.finishing) finish += causes[f].one.half * sizes[f];
    return Math.max(0, cause.one.half * sizes[k] - cause.overcut.allowance - finish);
  }

  /* Shift and half-width of cause k at sample i, mm; u is its standard uncertainty. */
  function effectOf(k, sizes, i) {
    const c = causes[k], size = sizes[k], columns = numbers.columns;
    const s = c.factor * columns[c.column][i], reach = Math.abs(s) * size;
    if (c.overcut) return {shift: 0, half: Math.max(0, s) * overcutDepth(c, sizes, k), u: null};
    if (c.field) { /* varies over the piece: its errors' limits added up, their squares for u */
      const root = Math.abs(c.factor2 * columns[c.column2][i]) * size;
      return {shift: 0, half: c.one.half * reach, u: c.one.u * root};
    }
    const length =
        c.distribution === "disc" ? size * Math.hypot(s, c.factor2 * columns[c.column2][i]) : reach;
    return {shift: s * size * c.one.middle, half: length * c.one.half, u: length * c.one.u};
  }

  const wallsNow = {
    expected: new Float64Array(numbers.n),
    worst: new Float64Array(numbers.n),
    design: numbers.wall,
    thinnest: 0,
    leastExpected: 0,
    leastWorst: 0,
    areaExpected: 0,
    areaWorst: 0,
    thinning: 0
  };

  /* Fills wallsNow but for its areas. */
  function computeWalls(sizes) {
    const n = numbers.n, columns = numbers.columns, g = columns.length;
    const shift = new Float64Array(g), half = new Float64Array(g), discs = [], marks = [];
    causes.forEach(function(c, k) {
      const size = sizes[k], a = columns[c.column];
      if (c.overcut) marks.push({a, f: c.factor, depth: overcutDepth(c, sizes, k)});
      else if (c.distribution === "disc") {
        if (size > 0)
          discs.push({a, b: columns[c.column2], fa: c.factor * size, fb: c.factor2 * size});
      } else {
        shift[c.column] += c.factor * size * c.one.middle;
        half[c.column] += Math.abs(c.factor) * size * c.one.half;
      }
    });
    const expected = wallsNow.expected, worst = wallsNow.worst;
    for (let i = 0; i < n; ++i) expected[i] = numbers.wall[i], worst[i] = 0;
    for (let j = 0; j < g; ++j) {
      const column = columns[j], s = shift[j], h = half[j];
      if (s !== 0)
        for (let i = 0; i < n; ++i) expected[i] += column[i] * s;
      if (h !== 0)
        for (let i = 0; i < n; ++i) worst[i] += Math.abs(column[i]) * h;
    }
    for (const d of discs)
      for (let i = 0; i < n; ++i) {
        const p = d.fa * d.a[i], q = d.fb * d.b[i];
        worst[i] += Math.sqrt(p * p + q * q);
      }
    for (const m of marks)
      if (m.depth > 0)
        for (let i = 0; i < n; ++i) worst[i] += Math.max(0, m.f * m.a[i]) * m.depth;
    let thinnest = 0, leastWorst = Infinity, thinning = 0;
    for (let i = 0; i < n; ++i) {
      worst[i] = expected[i] - worst[i];
      if (expected[i] < expected[thinnest]) thinnest = i;
      if (worst[i] < leastWorst) leastWorst = worst[i];
      if (numbers.wall[i] - worst[i] > thinning) thinning = numbers.wall[i] - worst[i];
    }
    wallsNow.thinnest = thinnest;
    wallsNow.leastExpected = expected[thinnest];
    wallsNow.leastWorst = leastWorst;
    wallsNow.thinning = thinning;
  }

  const cellArea = (function() {
    const out = new Float32Array(numbers.cells.length / 3), p = numbers.at, c = numbers.cells;
    for (let t = 0; t < out.length; ++t) {
      const a = 3 * c[3 * t], b = 3 * c[3 * t + 1], d = 3 * c[3 * t + 2];
      const ux = p[b] - p[a], uy = p[b + 1] - p[a + 1], uz = p[b + 2] - p[a + 2];
      const vx = p[d] - p[a], vy = p[d + 1] - p[a + 1], vz = p[d + 2] - p[a + 2];
      out[t] = 0.5 * Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
    }
    return out;
  })();

  /* Area of the skin with a wall under the limit; the wall runs straight inside a cell. */
  function areaUnder(values, limit) {
    const c = numbers.cells;
    let sum = 0;
    for (let t = 0; t < cellArea.length; ++t) {
      let a = values[c[3 * t]], b = values[c[3 * t + 1]], d = values[c[3 * t + 2]], swap;
      if (a > b) swap = a, a = b, b = swap;
      if (b > d) swap = b, b = d, d = swap;
      if (a > b) swap = a, a = b, b = swap;
      if (a >= limit) continue;
      if (d < limit) sum += cellArea[t];
      else if (b < limit)
        sum += cellArea[t] * (1 - (d - limit) / (d - a) * ((d - limit) / (d - b)));
      else sum += cellArea[t] * ((limit - a) / (b - a)) * ((limit - a) / (d - a));
    }
    return sum;
  }

  /* Where fewer places stand for the thin areas, their size counts by what the program found for the
     set-up as stated. */
  const areaScale = {expected: 1, worst: 1};
  if (facts.thin_merged) {
    computeWalls(stated.sizes);
    const told = {
      expected: facts.report.area_under_limit_mm2,
      worst: facts.report.area_at_risk_mm2
    };
    for (const which of ["expected", "worst"]) {
      const area = areaUnder(wallsNow[which], judged(stated.limit));
      if (area > 0 && told[which] > 0) areaScale[which] = told[which] / area;
    }
  }
  function computeAreas(limit) {
    wallsNow.areaExpected = areaScale.expected * areaUnder(wallsNow.expected, judged(limit));
    wallsNow.areaWorst = areaScale.worst * areaUnder(wallsNow.worst, judged(limit));
  }

  function nearestSample(x, y, z) {
    const p = numbers.at;
    let best = 0, least = Infinity;
    for (let i = 0; i < numbers.n; ++i) {
      const dx = p[3 * i] - x, dy = p[3 * i + 1] - y, dz = p[3 * i + 2] - z;
      const d = dx * dx + dy * dy + dz * dz;
      if (d < least) least = d, best = i;
    }
    return best;
  }
  return {
    causes,
    stated,
    judged,
    scalePlace,
    scaleWall,
    effectOf,
    wallsNow,
    computeWalls,
    areaUnder,
    computeAreas,
    nearestSample
  };
}
