/* Random numbers as functions of seed, stream and trial: SplitMix64's finaliser, as the program's
   budget/trials/counter_rng.h has it. Numbers of 64 bits are two halves of 32. */
const draws = (function() {
  let h = 0, l = 0;        /* the number at work */
  let high0 = 0, low0 = 0; /* seed, stream and trial mixed */
  function high(a, b) {    /* upper half of a 32 x 32 bit product */
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
  const uniform = () => (h * 2097152 + (l >>> 11) + 0.5) / 9007199254740992;
  return {
    /* What seed and stream come to. */
    start(seed, stream) {
      h = seed[0], l = seed[1];
      mix();
      h = (h ^ stream[0]) >>> 0, l = (l ^ stream[1]) >>> 0;
      mix();
      return [h, l];
    },
    streamOfPart(stream, part) {
      h = stream[0], l = stream[1];
      plus(0, part + 1);
      mix();
      return [h, l];
    },
    /* The two uniform draws of a trial: the first, then, if it is wanted, the second. */
    first(startHigh, startLow, trial) {
      h = startHigh, l = (startLow ^ trial) >>> 0;
      mix();
      high0 = h, low0 = l;
      mix();
      return uniform();
    },
    second() {
      h = high0, l = low0;
      plus(0, 1);
      mix();
      return uniform();
    },
    normal: (u1, u2) => Math.sqrt(-2 * Math.log(u1)) * Math.cos(2 * Math.PI * u2)
  };
})();

/* The program's own trials, run again: the same draws, the same rule. */
function makeTrials(facts, numbers) {
  const causes = facts.causes, count = facts.trials, scalars = [];
  causes.forEach(function(c, k) {
    if (c.distribution === "shift" || c.field) return;
    scalars.push({k, second: false});
    if (c.distribution === "disc") scalars.push({k, second: true});
  });
  const m = scalars.length, firstScalar = causes.map((c, k) => scalars.findIndex(s => s.k === k));
  const units = [];     /* drawn when first asked for */
  let cols = [], g = 0; /* the columns that move a wall now */

  function unitOf(distribution, second, u1, u2) {
    switch (distribution) {
    case "normal":
      return draws.normal(u1, u2);
    case "half-uniform":
      return u1;
    case "disc":
      return Math.sqrt(u1) * (second ? Math.sin : Math.cos)(2 * Math.PI * u2);
    default:
      return 2 * u1 - 1;
    }
  }

  function unitsOf(s) {
    if (units[s]) return units[s];
    const unit = units[s] = new Float64Array(count), c = causes[scalars[s].k];
    const [sh, sl] = draws.start(facts.seed, c.stream);
    for (let t = 0; t < count; ++t) {
      const u1 = draws.first(sh, sl, t);
      unit[t] = unitOf(c.distribution, scalars[s].second, u1, draws.second());
    }
    return unit;
  }

  /* Errors of every trial, summed into the columns of the samples; known shifts are in. */
  function columnSums(sizes) {
    const all = numbers.columns.length, known = new Float64Array(all), moved = new Set();
    const error = new Float64Array(m);
    causes.forEach(function(c, k) {
      if (c.distribution === "shift") known[c.column] += c.factor * sizes[k];
    });
    const active =
        scalars.map((v, s) => s).filter(s => sizes[scalars[s].k] || causes[scalars[s].k].overcut);
    const columnOf = function(s) {
      const c = causes[scalars[s].k];
      return scalars[s].second ? c.column2 : c.column;
    };
    for (const s of active) moved.add(columnOf(s));
    const live = [...known.keys()].filter(j => known[j] || moved.has(j));
    const place = new Map(live.map((j, i) => [j, i]));
    cols = live.map(j => numbers.columns[j]), g = cols.length;
    const sums = new Float64Array(count * g), unit = active.map(unitsOf);
    const to = active.map(s => place.get(columnOf(s)));
    for (let t = 0; t < count; ++t) {
      for (let a = 0; a < active.length; ++a)
        error[active[a]] = sizes[scalars[active[a]].k] * unit[a][t];
      for (const s of active) {
        const c = causes[scalars[s].k];
        if (!c.overcut) continue;
        let below = c.overcut.allowance + error[s];
        for (const f of c.overcut.finishing)
          if (firstScalar[f] >= 0) below -= error[firstScalar[f]];
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
  let starts = null;
  const drawn = new Float64Array(local.count), drawnFor = new Int32Array(local.count).fill(-1);
  function beginLocal() {
    drawnFor.fill(-1);
    if (starts || !local.count) return;
    starts = {high: new Uint32Array(local.count), low: new Uint32Array(local.count)};
    for (let e = 0; e < local.count; ++e) {
      const part = draws.streamOfPart(causes[facts.shares.causes[e]].stream, facts.shares.parts[e]);
      [starts.high[e], starts.low[e]] = draws.start(facts.seed, part);
    }
  }
  function drawLocal(e, t) {
    const u1 = draws.first(starts.high[e], starts.low[e], t);
    const normal = causes[facts.shares.causes[e]].distribution === "normal";
    return normal ? draws.normal(u1, draws.second()) : 2 * u1 - 1;
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
    for (let t = 0; t < count; ++t)
      for (let j = 0; j < g; ++j) {
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
    const key =
        i => { /* neighbours in the sheet end up together */
               let k = 0;
               for (let b = 9; b >= 0; --b)
                 for (let a = 0; a < 3; ++a) {
                   const from = facts.box[0][a], size = facts.box[1][a] - from || 1;
                   k = 2 * k + (Math.floor((numbers.at[3 * i + a] - from) / size * 1023) >> b & 1);
                 }
               return k;
        };
    const keys = new Map(kept.map(i => [i, key(i)]));
    kept.sort((a, b) => keys.get(a) - keys.get(b));
    const blocks = [];
    for (let at = 0; at < kept.length; at += BLOCK) {
      const ids = kept.slice(at, at + BLOCK);
      const cl = new Float64Array(g).fill(Infinity), ch = new Float64Array(g).fill(-Infinity);
      let w = Infinity;
      for (const i of ids) {
        w = Math.min(w, numbers.wall[i] - localReach(sizes, i));
        for (let j = 0; j < g; ++j) {
          cl[j] = Math.min(cl[j], cols[j][i]);
          ch[j] = Math.max(ch[j], cols[j][i]);
        }
      }
      blocks.push({ids, w, cl, ch});
    }
    return {first, blocks};
  }

  function anyUnder(found, sizes, sums, t, edge, orEqual) {
    const at = t * g;
    const under = function(i) {
      let w = numbers.wall[i];
      for (let j = 0; j < g; ++j) w += cols[j][i] * sums[at + j];
      if (local.slots) w += localAt(sizes, i, t);
      return orEqual ? w <= edge : w < edge;
    };
    for (const i of found.first)
      if (under(i)) return true;
    for (const b of found.blocks) {
      let w = b.w;
      for (let j = 0; j < g; ++j) w += Math.min(b.cl[j] * sums[at + j], b.ch[j] * sums[at + j]);
      if (w > edge) continue;
      for (const i of b.ids)
        if (under(i)) return true;
    }
    return false;
  }

  /* Counts the trials with a wall under `limit`. A call of `some(most)` does at most so many more and
     says whether any are left; `counts` is {under, through, trials}. The run that began last counts. */
  function begin(sizes, limit) {
    sizes = sizes.slice();
    beginLocal();
    const sums = columnSums(sizes);
    const near = candidates(sizes, sums, limit), deep = candidates(sizes, sums, 0);
    const counts = {under: 0, through: 0, trials: count};
    let t = 0;
    return {
      counts,
      some(most) {
        for (const stop = Math.min(count, t + most); t < stop; ++t) {
          if (anyUnder(near, sizes, sums, t, limit, false)) ++counts.under;
          if (deep.blocks.length && anyUnder(deep, sizes, sums, t, 0, true)) ++counts.through;
        }
        return t < count;
      }
    };
  }
  return {begin, count};
}
