/* The skin from above as the board lies at the machine, X to the right, Y away: side A as modelled,
   side B mirrored about the flip line. */
const plan = (function() {
  const canvas = document.getElementById("plan"), pen = canvas.getContext("2d");
  let side = "a", map = null, ratio = 1, nearer = 1;

  /* Model to machine: a turn about the flip line mirrors across it. */
  const mirrored = (x, y) =>
      facts.flip.along === "y" ? [2 * facts.flip.at - x, y] : [x, 2 * facts.flip.at - y];
  const toSide = (x, y) => side === "b" ? mirrored(x, y) : [x, y];

  function layout() {
    ratio = Math.min(2, window.devicePixelRatio || 1);
    const w = Math.round(canvas.clientWidth * ratio), h = Math.round(canvas.clientHeight * ratio);
    if (!w || !h) return null;
    canvas.width = w, canvas.height = h;
    const m = facts.marks[side], all = [
      toSide(facts.box[0][0], facts.box[0][1]), toSide(facts.box[1][0], facts.box[1][1]),
      ...m.dowels, ...m.flip, ...(m.touch ? [m.touch] : []),
      ...(m.board ? [m.board.slice(0, 2), m.board.slice(2)] : [])
    ];
    const xs = all.map(p => p[0]), ys = all.map(p => p[1]);
    const x0 = Math.min(...xs), x1 = Math.max(...xs), y0 = Math.min(...ys), y1 = Math.max(...ys);
    const edge = 26 * ratio, foot = 44 * ratio;
    const scale =
        nearer * Math.min((w - 2 * edge) / (x1 - x0 || 1), (h - edge - foot) / (y1 - y0 || 1));
    const here = toSide(numbers.at[3 * state.here],
                        numbers.at[3 * state.here + 1]); /* stays in the middle */
    const left = nearer > 1 ? w / 2 - (here[0] - x0) * scale : (w - scale * (x1 - x0)) / 2;
    const top = nearer > 1 ? h / 2 - (y1 - here[1]) * scale
                           : edge + (h - edge - foot - scale * (y1 - y0)) / 2;
    return {
      w,
      h,
      scale,
      px: x => left + (x - x0) * scale,
      py: y => top + (y1 - y) * scale,
      mx: px => x0 + (px - left) / scale,
      my: py => y1 - (py - top) / scale
    };
  }

  /* Which cell each pixel shows, once a size: the thinnest as stated where several lie over it. */
  function build() {
    map = layout();
    if (!map) return;
    const {w, h, px, py} = map, c = numbers.cells, p = numbers.at;
    const cell = new Int32Array(w * h).fill(-1), f = new Float32Array(w * h),
          q = new Float32Array(w * h), least = new Float32Array(w * h).fill(Infinity);
    const value = map.base = Float64Array.from(wallsNow.expected);
    const X = new Float32Array(numbers.n), Y = new Float32Array(numbers.n);
    for (let i = 0; i < numbers.n; ++i) {
      const s = toSide(p[3 * i], p[3 * i + 1]);
      X[i] = px(s[0]), Y[i] = py(s[1]);
    }
    const put = function(x, y, t, u, v, wall) {
      if (x < 0 || y < 0 || x >= w || y >= h) return;
      const k = y * w + x;
      if (wall < least[k]) least[k] = wall, cell[k] = t, f[k] = u, q[k] = v;
    };
    for (let t = 0; t < c.length / 3; ++t) {
      const a = c[3 * t], b = c[3 * t + 1], d = c[3 * t + 2];
      const xa = X[a], ya = Y[a], xb = X[b] - xa, yb = Y[b] - ya, xd = X[d] - xa, yd = Y[d] - ya;
      const area = xb * yd - xd * yb;
      put(xa | 0, ya | 0, t, 0, 0, value[a]), put(X[b] | 0, Y[b] | 0, t, 1, 0, value[b]),
          put(X[d] | 0, Y[d] | 0, t, 0, 1, value[d]);
      if (Math.abs(area) < 1e-6) continue;
      const x0 = Math.ceil(Math.min(xa, X[b], X[d]) - 0.5),
            x1 = Math.floor(Math.max(xa, X[b], X[d]) - 0.5);
      const y0 = Math.ceil(Math.min(ya, Y[b], Y[d]) - 0.5),
            y1 = Math.floor(Math.max(ya, Y[b], Y[d]) - 0.5);
      for (let y = y0; y <= y1; ++y)
        for (let x = x0; x <= x1; ++x) {
          const dx = x + 0.5 - xa, dy = y + 0.5 - ya, u = (dx * yd - xd * dy) / area,
                v = (xb * dy - dx * yb) / area;
          if (u < -1e-4 || v < -1e-4 || u + v > 1.0001) continue;
          put(x, y, t, u, v, value[a] + u * (value[b] - value[a]) + v * (value[d] - value[a]));
        }
    }
    map.cell = cell, map.u = f, map.v = q;
    map.image = pen.createImageData(w, h);
  }

  const colours = new Uint32Array(1024), ink = 0xff000000, pale = 0xffd0d0d0;
  for (let i = 0; i < 1024; ++i) {
    const k = 3 * Math.round(i / 1023 * 255);
    colours[i] = 0xff000000 | palette[k + 2] << 16 | palette[k + 1] << 8 | palette[k];
  }

  function draw() {
    if (canvas.hidden) return;
    if (!map) build();
    if (!map) return;
    const {w, h, cell, u, v} = map, c = numbers.cells, out = new Uint32Array(map.image.data.buffer);
    const shown = state.shown(), worst = wallsNow.worst, limit = judged(state.limit),
          risk = state.wall !== "worst";
    const close = Math.round(6 * ratio), wide = Math.round(9 * ratio), thick = 2 * ratio,
          fine = 1.4 * ratio;
    for (let y = 0, k = 0; y < h; ++y)
      for (let x = 0; x < w; ++x, ++k) {
        const t = cell[k];
        if (t < 0) {
          out[k] = 0;
          continue;
        }
        const a = c[3 * t], b = c[3 * t + 1], d = c[3 * t + 2];
        const wall = shown[a] + u[k] * (shown[b] - shown[a]) + v[k] * (shown[d] - shown[a]);
        let colour = colours[Math.round(scalePlace(wall) * 1023)];
        if (wall <= 0) colour = (x + y) % close < thick ? pale : ink;
        else if (wall < limit) {
          if ((x + y) % close < thick) colour = ink;
        } else if (risk &&
                   worst[a] + u[k] * (worst[b] - worst[a]) + v[k] * (worst[d] - worst[a]) < limit &&
                   (x + y) % wide < fine)
          colour = ink;
        out[k] = colour;
      }
    pen.putImageData(map.image, 0, 0);
    marks();
  }

  function label(textLine, x, y, align) {
    const style = getComputedStyle(document.documentElement);
    pen.font = 14 * ratio + "px system-ui, 'DejaVu Sans', sans-serif";
    pen.textAlign = align || "left", pen.textBaseline = "middle", pen.lineJoin = "round";
    pen.lineWidth = 4 * ratio, pen.strokeStyle = style.getPropertyValue("--ground"),
    pen.fillStyle = style.getPropertyValue("--ink");
    pen.strokeText(textLine, x, y), pen.fillText(textLine, x, y);
  }
  function line(x0, y0, x1, y1, dash) {
    for (const [width, colour] of [[4, "--ground"], [2, "--ink"]]) {
      pen.lineWidth = width * ratio,
      pen.strokeStyle = getComputedStyle(document.documentElement).getPropertyValue(colour);
      pen.setLineDash(dash.map(d => d * ratio));
      pen.beginPath(), pen.moveTo(x0, y0), pen.lineTo(x1, y1), pen.stroke();
    }
    pen.setLineDash([]);
  }
  function marks() {
    const {w, h, px, py, scale} = map;
    const m = facts.marks[side], pad = facts.report.pad, r = 9 * ratio;
    const frame = b => [[0, 1, 2, 1], [2, 1, 2, 3], [2, 3, 0, 3], [0, 3, 0, 1]].forEach(
        ([i, j, k, l]) => line(px(b[i]), py(b[j]), px(b[k]), py(b[l]), []));
    if (m.board) frame(m.board);
    line(px(m.flip[0][0]), py(m.flip[0][1]), px(m.flip[1][0]), py(m.flip[1][1]), [12, 4, 3, 4]);
    for (const [x, y] of m.dowels.map(p => [px(p[0]), py(p[1])])) {
      pen.beginPath(), pen.arc(x, y, r, 0, 7), pen.fillStyle = "#fff", pen.fill();
      pen.lineWidth = 2 * ratio, pen.strokeStyle = "#000";
      pen.moveTo(x - 1.5 * r, y), pen.lineTo(x + 1.5 * r, y), pen.moveTo(x, y - 1.5 * r),
          pen.lineTo(x, y + 1.5 * r), pen.stroke();
    }
    if (pad && pad.not_cut === undefined) {
      const c = toSide(...pad.at_mm), half = pad.size_mm / 2;
      frame([c[0] - half, c[1] - half, c[0] + half, c[1] + half]);
      const beside = px(c[0] + half) + 5 * ratio;
      if (beside < w - 34 * ratio) label("pad", beside, py(c[1]));
      else label("pad", px(c[0] - half) - 5 * ratio, py(c[1]), "right");
    }
    if (m.touch) { /* a bit's point standing on its place */
      const x = px(m.touch[0]), y = py(m.touch[1]);
      pen.beginPath(), pen.moveTo(x, y), pen.lineTo(x - r, y - 2.1 * r),
          pen.lineTo(x + r, y - 2.1 * r), pen.closePath();
      pen.lineWidth = 4 * ratio, pen.strokeStyle = "#fff", pen.stroke(), pen.fillStyle = "#000",
      pen.fill();
      pen.font = "bold " + 11 * ratio + "px system-ui, 'DejaVu Sans', sans-serif",
      pen.fillStyle = "#fff";
      pen.textAlign = "center", pen.textBaseline = "middle", pen.fillText("Z", x, y - 1.45 * r);
    }
    const round = roundUnder(0.3 * w / scale / unit.mm), mm = round * unit.mm;
    const y = h - 16 * ratio, x = 14 * ratio;
    line(x, y, x + mm * scale, y, []);
    label(Number(round.toPrecision(3)) + " " + unit.name, x + mm * scale + 8 * ratio, y);
    label("X right, Y away", w - 14 * ratio, y, "right");
    const taken = []; /* of two numbers over each other the thinner place keeps its own */
    facts.report.regions.slice(0, MOST_PLACES).forEach(function(r, i) {
      const s = toSide(r.at_mm[0], r.at_mm[1]);
      if (taken.some(q => Math.hypot(q[0] - px(s[0]), q[1] - py(s[1])) < 24 * ratio)) return;
      taken.push([px(s[0]), py(s[1])]);
      pen.beginPath(), pen.arc(px(s[0]), py(s[1]), 11 * ratio, 0, 7);
      pen.fillStyle = "#fff", pen.fill(), pen.lineWidth = 2.5 * ratio, pen.strokeStyle = "#000";
      if (isChanged()) pen.setLineDash([3 * ratio, 3 * ratio]); /* of the set-up as stated */
      pen.stroke(), pen.setLineDash([]);
      pen.font = "bold " + 14 * ratio + "px system-ui, 'DejaVu Sans', sans-serif";
      pen.fillStyle = "#000", pen.textAlign = "center", pen.textBaseline = "middle";
      pen.fillText(i + 1, px(s[0]), py(s[1]) + ratio);
    });
    if (lineCut.line) {
      const [p, q] = lineCut.line.map(end => toSide(...end)).map(end => [px(end[0]), py(end[1])]);
      line(p[0], p[1], q[0], q[1], []);
      label("P", p[0] + 6 * ratio, p[1] - 10 * ratio),
          label("Q", q[0] + 6 * ratio, q[1] - 10 * ratio);
    }
    const i = state.here, s = toSide(numbers.at[3 * i], numbers.at[3 * i + 1]), cx = px(s[0]),
          cy = py(s[1]);
    for (const [width, colour] of [[7, "#fff"], [3, "#000"]]) {
      pen.lineWidth = width * ratio, pen.strokeStyle = colour;
      pen.beginPath();
      for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]])
        pen.moveTo(cx + 14 * dx * ratio, cy + 14 * dy * ratio),
            pen.lineTo(cx + 24 * dx * ratio, cy + 24 * dy * ratio);
      pen.stroke();
    }
  }

  /* The sample nearest to a place in the plan (machine x, y of the side shown). */
  function sampleAt(x, y) {
    const m = toSide(x, y), p = numbers.at;
    let best = 0, least = Infinity;
    for (let i = 0; i < numbers.n; ++i) {
      const dx = p[3 * i] - m[0], dy = p[3 * i + 1] - m[1], d = dx * dx + dy * dy;
      if (d < least || (d === least && wallsNow.expected[i] < wallsNow.expected[best]))
        least = d, best = i;
    }
    return best;
  }
  canvas.addEventListener("click", function(event) {
    if (!map || lineCut.drawing) return;
    const box = canvas.getBoundingClientRect();
    const kx = map.w / box.width, ky = map.h / box.height;
    state.goTo(
        sampleAt(map.mx((event.clientX - box.left) * kx), map.my((event.clientY - box.top) * ky)),
        "Here");
  });
  let cross = null;
  canvas.addEventListener("keydown", function(event) {
    const step = {ArrowLeft: [-1, 0],
                  ArrowRight: [1, 0],
                  ArrowUp: [0, 1],
                  ArrowDown: [0, -1]}[event.key];
    if (!step) return;
    event.preventDefault();
    const i = state.here, s = toSide(numbers.at[3 * i], numbers.at[3 * i + 1]),
          mm = event.shiftKey ? 10 : 2;
    if (!cross || cross.i !== i) cross = {x: s[0], y: s[1]};
    cross.x += step[0] * mm, cross.y += step[1] * mm;
    const low = toSide(facts.box[0][0], facts.box[0][1]),
          high = toSide(facts.box[1][0], facts.box[1][1]);
    cross.x = Math.min(Math.max(low[0], high[0]), Math.max(Math.min(low[0], high[0]), cross.x));
    cross.y = Math.min(Math.max(low[1], high[1]), Math.max(Math.min(low[1], high[1]), cross.y));
    const to = sampleAt(cross.x, cross.y);
    cross.i = to;
    state.goTo(to, "Here");
  });
  const near = document.getElementById("plan-near"), far = document.getElementById("plan-far");
  function zoom(to) {
    nearer = to, map = null;
    near.disabled = nearer >= 16, far.disabled = nearer <= 1;
    draw();
  }
  near.addEventListener("click", () => zoom(2 * nearer));
  far.addEventListener("click", () => zoom(nearer / 2));
  return {
    draw,
    resize() {
      map = null;
      draw();
    },
    show(which) {
      side = which;
      map = null;
    },
    mirrored,
    follow() {
      if (nearer > 1) map = null;
    },            /* another place is read */
    screenOf(i) { /* for tests: where sample i lies, CSS pixels of the canvas */
                  const s = toSide(numbers.at[3 * i], numbers.at[3 * i + 1]);
                  const box = canvas.getBoundingClientRect();
                  return [map.px(s[0]) / map.w * box.width, map.py(s[1]) / map.h * box.height];
    },
    pixel: (x, y) => [map.px(x) / ratio, map.py(y) / ratio],
    sampleAt,
    placeAt(x, y) {
      const box = canvas.getBoundingClientRect();
      return toSide(map.mx(x * map.w / box.width), map.my(y * map.h / box.height));
    }
  };
})();
