/* The program's own trials, run again: the same draws (SplitMix64's finaliser over seed, cause,
   trial), the same rule. Numbers of 64 bits are two halves of 32. */
const trials = (function () {
  let h = 0, l = 0; /* the number at work */
  function high(a, b) { /* upper half of a 32 x 32 bit product */
    const a0 = a & 0xffff, a1 = a >>> 16, b0 = b & 0xffff, b1 = b >>> 16;
    const m = a1 * b0 + (a0 * b0 >>> 16), q = a0 * b1 + (m & 0xffff);
    return (a1 * b1 + (m >>> 16) + (q >>> 16)) >>> 0;
  }
  function times(bh, bl) {
    const t = (high(l, bl) + Math.imul(h, bl) + Math.imul(l, bh)) >>> 0;
    l = Math.imul(l, bl) >>> 0;
    h = t;
  }
  function plus(bh, bl) {
    const sum = l + bl;
    l = sum >>> 0;
    h = (h + bh + (sum > 0xffffffff ? 1 : 0)) >>> 0;
  }
  function shiftXor(by) { /* 0 < by < 32 */
    const sl = (l >>> by | h << 32 - by) >>> 0;
    l = (l ^ sl) >>> 0;
    h = (h ^ h >>> by) >>> 0;
  }
  function mix() {
    plus(0x9e3779b9, 0x7f4a7c15);
    shiftXor(30);
    times(0xbf58476d, 0x1ce4e5b9);
    shiftXor(27);
    times(0x94d049bb, 0x133111eb);
    shiftXor(31);
  }
  const count = facts.trials, scalars = [];
  causes.forEach(function (c, k) {
    if (c.distribution === "shift" || c.field) return;
    scalars.push({ k, second: false });
    if (c.distribution === "disc") scalars.push({ k, second: true });
  });
  const m = scalars.length, firstScalar = causes.map((c, k) => scalars.findIndex(s => s.k === k));
  const units = []; /* drawn when first asked for */
  let cols = [], g = 0; /* the columns that move a wall now */

  function unitsOf(s) {
    if (units[s]) return units[s];
    const unit = units[s] = new Float64Array(count), c = causes[scalars[s].k];
    h = facts.seed[0], l = facts.seed[1];
    mix();
    h = (h ^ c.stream[0]) >>> 0, l = (l ^ c.stream[1]) >>> 0;
    mix();
    const sh = h, sl = l;
    for (let t = 0; t < count; ++t) {
      h = sh, l = (sl ^ t) >>> 0;
      mix();
      const th = h, tl = l;
      mix();
      const u1 = (h * 2097152 + (l >>> 11) + 0.5) / 9007199254740992;
      h = th, l = tl;
      plus(0, 1);
      mix();
      const u2 = (h * 2097152 + (l >>> 11) + 0.5) / 9007199254740992;
      unit[t] = c.distribution === "normal" ? Math.sqrt(-2 * Math.log(u1)) * Math.cos(2 * Math.PI * u2)
        : c.distribution === "half-uniform" ? u1
        : c.distribution === "disc" ? Math.sqrt(u1) * (scalars[s].second ? Math.sin : Math.cos)(2 * Math.PI * u2)
        : 2 * u1 - 1;
    }
    return unit;
  }

  /* Errors of every trial, summed into the columns of the samples; known shifts are in. */
  function columnSums(sizes) {
    const all = numbers.columns.length, known = new Float64Array(all), moved = new Set(), error = new Float64Array(m);
    causes.forEach(function (c, k) { if (c.distribution === "shift") known[c.column] += c.factor * sizes[k]; });
    const active = scalars.map((v, s) => s).filter(s => sizes[scalars[s].k] || causes[scalars[s].k].overcut);
    const columnOf = s => scalars[s].second ? causes[scalars[s].k].column2 : causes[scalars[s].k].column;
    for (const s of active) moved.add(columnOf(s));
    const live = [...known.keys()].filter(j => known[j] || moved.has(j)), place = new Map(live.map((j, i) => [j, i]));
    cols = live.map(j => numbers.columns[j]), g = cols.length;
    const sums = new Float64Array(count * g), unit = active.map(unitsOf), to = active.map(s => place.get(columnOf(s)));
    for (let t = 0; t < count; ++t) {
      for (let a = 0; a < active.length; ++a) error[active[a]] = sizes[scalars[active[a]].k] * unit[a][t];
      for (const s of active) {
        const c = causes[scalars[s].k];
        if (!c.overcut) continue;
        let below = c.overcut.allowance + error[s];
        for (const f of c.overcut.finishing) if (firstScalar[f] >= 0) below -= error[firstScalar[f]];
        error[s] = Math.min(0, below);
      }
      for (let j = 0; j < g; ++j) sums[t * g + j] = known[live[j]];
      for (let a = 0; a < active.length; ++a) {
        const s = active[a], c = causes[scalars[s].k];
        sums[t * g + to[a]] += (scalars[s].second ? c.factor2 : c.factor) * error[s];
      }
    }
    return sums;
  }

  /* Errors that vary over the piece are drawn when they are asked for: the program's streams of a
     cause's parts. */
  const local = numbers.shares, n = numbers.n;
  let startHigh = null, startLow = null;
  const drawn = new Float64Array(local.count), drawnFor = new Int32Array(local.count).fill(-1);
  function beginLocal() {
    drawnFor.fill(-1);
    if (startHigh || !local.count) return;
    startHigh = new Uint32Array(local.count), startLow = new Uint32Array(local.count);
    for (let e = 0; e < local.count; ++e) {
      const c = causes[facts.shares.causes[e]];
      h = c.stream[0], l = c.stream[1];
      plus(0, facts.shares.parts[e] + 1);
      mix();
      const ph = h, pl = l;
      h = facts.seed[0], l = facts.seed[1];
      mix();
      h = (h ^ ph) >>> 0, l = (l ^ pl) >>> 0;
      mix();
      startHigh[e] = h, startLow[e] = l;
    }
  }
  function drawLocal(e, t) {
    h = startHigh[e], l = (startLow[e] ^ t) >>> 0;
    mix();
    const th = h, tl = l;
    mix();
    const u1 = (h * 2097152 + (l >>> 11) + 0.5) / 9007199254740992;
    if (causes[facts.shares.causes[e]].distribution !== "normal") return 2 * u1 - 1;
    h = th, l = tl;
    plus(0, 1);
    mix();
    return Math.sqrt(-2 * Math.log(u1)) * Math.cos(2 * Math.PI * ((h * 2097152 + (l >>> 11) + 0.5) / 9007199254740992));
  }
  /* What they do to sample i in trial t, and the most that they can do to it. */
  function localAt(sizes, i, t) {
    let sum = 0;
    for (let s = i; s < local.slots * n; s += n) {
      const e = local.error[s];
      if (e >= local.count) break;
      if (drawnFor[e] !== t) drawnFor[e] = t, drawn[e] = drawLocal(e, t);
      sum += local.c[s] * local.scale * sizes[facts.shares.causes[e]] * drawn[e];
    }
    return sum;
  }
  function localReach(sizes, i) {
    let sum = 0;
    for (let s = i; s < local.slots * n; s += n) {
      const e = local.error[s];
      if (e >= local.count) break;
      const k = facts.shares.causes[e];
      sum += Math.abs(local.c[s] * local.scale * sizes[k]) * causes[k].one.draw;
    }
    return sum;
  }

  /* Samples that some trial can bring under `edge`, in blocks of neighbours with their bounds. */
  const BLOCK = 24;
  function candidates(sizes, sums, edge) {
    const low = new Float64Array(g).fill(Infinity), top = new Float64Array(g).fill(-Infinity);
    for (let t = 0; t < count; ++t) for (let j = 0; j < g; ++j) {
      const v = sums[t * g + j];
      if (v < low[j]) low[j] = v;
      if (v > top[j]) top[j] = v;
    }
    const kept = [], least = new Map();
    for (let i = 0; i < numbers.n; ++i) {
      let w = numbers.wall[i];
      for (let j = 0; j < g; ++j) w += Math.min(cols[j][i] * low[j], cols[j][i] * top[j]);
      w -= localReach(sizes, i);
      if (w <= edge) kept.push(i), least.set(i, w);
    }
    const first = kept.slice().sort((a, b) => least.get(a) - least.get(b)).slice(0, 48);
    const key = i => { /* neighbours in the sheet end up together */
      let k = 0;
      for (let b = 9; b >= 0; --b) for (let a = 0; a < 3; ++a) {
        const low = facts.box[0][a], size = facts.box[1][a] - low || 1;
        k = 2 * k + (Math.floor((numbers.at[3 * i + a] - low) / size * 1023) >> b & 1);
      }
      return k;
    };
    const keys = new Map(kept.map(i => [i, key(i)]));
    kept.sort((a, b) => keys.get(a) - keys.get(b));
    const blocks = [];
    for (let at = 0; at < kept.length; at += BLOCK) {
      const ids = kept.slice(at, at + BLOCK), cl = new Float64Array(g).fill(Infinity), ch = new Float64Array(g).fill(-Infinity);
      let w = Infinity;
      for (const i of ids) {
        w = Math.min(w, numbers.wall[i] - localReach(sizes, i));
        for (let j = 0; j < g; ++j) cl[j] = Math.min(cl[j], cols[j][i]), ch[j] = Math.max(ch[j], cols[j][i]);
      }
      blocks.push({ ids, w, cl, ch });
    }
    return { first, blocks };
  }

  function anyUnder(found, sizes, sums, t, edge, orEqual) {
    const at = t * g;
    const under = function (i) {
      let w = numbers.wall[i];
      for (let j = 0; j < g; ++j) w += cols[j][i] * sums[at + j];
      if (local.slots) w += localAt(sizes, i, t);
      return orEqual ? w <= edge : w < edge;
    };
    for (const i of found.first) if (under(i)) return true;
    for (const b of found.blocks) {
      let w = b.w;
      for (let j = 0; j < g; ++j) w += Math.min(b.cl[j] * sums[at + j], b.ch[j] * sums[at + j]);
      if (w > edge) continue;
      for (const i of b.ids) if (under(i)) return true;
    }
    return false;
  }

  let turn = 0;
  /* Calls done({under, through, trials}) with counts, unless asked anew before it is ready. */
  function run(sizes, limit, done) {
    const mine = ++turn;
    sizes = sizes.slice();
    setTimeout(function () {
      if (mine !== turn) return;
      beginLocal();
      const sums = columnSums(sizes), near = candidates(sizes, sums, limit), deep = candidates(sizes, sums, 0);
      let t = 0, under = 0, through = 0;
      (function some() {
        if (mine !== turn) return;
        const until = performance.now() + 12;
        while (t < count && performance.now() < until)
          for (const stop = Math.min(count, t + 50); t < stop; ++t) {
            if (anyUnder(near, sizes, sums, t, limit, false)) ++under;
            if (deep.blocks.length && anyUnder(deep, sizes, sums, t, 0, true)) ++through;
          }
        if (t < count) setTimeout(some, 0);
        else done({ under, through, trials: count });
      })();
    }, 60);
  }
  return { run, count };
})();
