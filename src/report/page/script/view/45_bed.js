/* The bed from above, in the frame its readings were taken in: heights, both boards, touch points. */
const bedPlan = (function() {
  const bed = facts.bed, canvas = document.getElementById("bed-plan"),
        pen = canvas.getContext("2d");
  if (!bed.readings) return {draw() {}};
  const low = bed.lowest[2], high = bed.highest[2], grid = bed.heights;
  const style = name => getComputedStyle(document.documentElement).getPropertyValue(name);

  const heightAt = (x, y) => bedHeightAt(grid, x, y);
  const signed = (value, places) => {
    const t = text.fixed(value, places);
    return Number(t) > 0 ? "+" + t : t;
  };

  function colourOf(z) {
    const k = 3 * Math.round(255 * (high > low ? Math.max(0, Math.min(1, (z - low) / (high - low)))
                                               : 0.5));
    return [palette[k], palette[k + 1], palette[k + 2]];
  }

  function draw() {
    const ratio = Math.min(2, window.devicePixelRatio || 1);
    const boxes = [
      grid.box, bed.side_a, bed.side_b, [...bed.touch_a, ...bed.touch_a],
      [...bed.touch_b, ...bed.touch_b]
    ];
    const x0 = Math.min(...boxes.map(b => b[0])), y0 = Math.min(...boxes.map(b => b[1]));
    const x1 = Math.max(...boxes.map(b => b[2])), y1 = Math.max(...boxes.map(b => b[3]));
    const rise = (canvas.clientWidth - 60) * (y1 - y0) / (x1 - x0 || 1);
    canvas.style.height = Math.max(220, Math.min(520, rise + 122)) + "px";
    const w = Math.round(canvas.clientWidth * ratio), h = Math.round(canvas.clientHeight * ratio);
    if (!w || !h) return;
    canvas.width = w, canvas.height = h;
    const edge = 30 * ratio, foot = 92 * ratio;
    const scale = Math.min((w - 2 * edge) / (x1 - x0 || 1), (h - edge - foot) / (y1 - y0 || 1));
    const left = (w - scale * (x1 - x0)) / 2,
          top = edge + (h - edge - foot - scale * (y1 - y0)) / 2;
    const px = x => left + (x - x0) * scale, py = y => top + (y1 - y) * scale;
    const level = bedLevels(low, high, unit), image = pen.createImageData(w, h);
    const fromX = Math.floor(px(grid.box[0])), toX = Math.ceil(px(grid.box[2]));
    let above = new Float64Array(w).fill(NaN);
    for (let y = Math.floor(py(grid.box[3])); y <= Math.ceil(py(grid.box[1])); ++y) {
      const row = new Float64Array(w).fill(NaN);
      for (let x = fromX; x <= toX; ++x) {
        const z = heightAt(x0 + (x + 0.5 - left) / scale, y1 - (y + 0.5 - top) / scale);
        if (z === null) continue;
        const band = row[x] = level.step ? Math.floor(z / unit.mm / level.step + 1e-6) : 0;
        const line = (x > fromX && row[x - 1] !== band && !isNaN(row[x - 1])) ||
                     (above[x] !== band && !isNaN(above[x]));
        image.data.set(line ? [0, 0, 0, 255] : [...colourOf(z), 255], 4 * (y * w + x));
      }
      above = row;
    }
    pen.putImageData(image, 0, 0);

    const stroke = function(points, dash, widths) {
      for (const [width, colour] of widths) {
        pen.lineWidth = width * ratio, pen.strokeStyle = colour,
        pen.setLineDash(dash.map(d => d * ratio));
        pen.beginPath();
        points.forEach((p, k) => k ? pen.lineTo(p[0], p[1]) : pen.moveTo(p[0], p[1]));
        pen.stroke();
      }
      pen.setLineDash([]);
    };
    const corners = b => [[px(b[0]), py(b[1])], [px(b[2]), py(b[1])], [px(b[2]), py(b[3])],
                          [px(b[0]), py(b[3])], [px(b[0]), py(b[1])]];
    if (bed.readings.length <= 400)
      for (const r of bed.readings) {
        pen.beginPath(), pen.arc(px(r[0]), py(r[1]), 2.6 * ratio, 0, 7);
        pen.fillStyle = "#000", pen.fill(), pen.lineWidth = ratio, pen.strokeStyle = "#fff",
        pen.stroke();
      }
    stroke(corners(bed.side_a), [], [[5, "#fff"], [3, "#000"]]);
    stroke(corners(bed.side_b), [], [[3, "#000"]]);
    stroke(corners(bed.side_b), [9, 7], [[2, "#fff"]]);
    const flip = facts.flip.along === "y"
                     ? [[px(bed.flip_at), 4 * ratio], [px(bed.flip_at), h - foot + 12 * ratio]]
                     : [[4 * ratio, py(bed.flip_at)], [w - 4 * ratio, py(bed.flip_at)]];
    stroke(flip, [14, 5, 3, 5], [[4, style("--sheet")], [2, style("--ink")]]);
    const say = function(words, x, y, align) {
      pen.font = "600 " + 14 * ratio + "px system-ui, 'DejaVu Sans', sans-serif";
      pen.textAlign = align, pen.textBaseline = "middle", pen.lineJoin = "round";
      pen.lineWidth = 4 * ratio, pen.strokeStyle = "#fff", pen.fillStyle = "#000";
      pen.strokeText(words, x, y), pen.fillText(words, x, y);
    };
    for (const [r, up] of [[bed.highest, true], [bed.lowest, false]]) {
      const s = up ? 1 : -1, x = px(r[0]), y = py(r[1]) - s * 13 * ratio, wide = 9 * ratio;
      pen.beginPath(), pen.moveTo(x, y - s * wide), pen.lineTo(x + wide, y + s * 0.7 * wide),
          pen.lineTo(x - wide, y + s * 0.7 * wide), pen.closePath();
      pen.fillStyle = up ? "#fff" : "#000", pen.fill(), pen.lineWidth = 2 * ratio,
      pen.strokeStyle = up ? "#000" : "#fff", pen.stroke();
      const right = x < w - 90 * ratio;
      say(signed(r[2] / unit.mm, unit.inch ? 4 : 3), x + (right ? 14 : -14) * ratio, y,
          right ? "left" : "right");
    }
    const touches = [
      [px(bed.touch_a[0]), py(bed.touch_a[1]), "A"], [px(bed.touch_b[0]), py(bed.touch_b[1]), "B"]
    ];
    if (Math.hypot(touches[0][0] - touches[1][0], touches[0][1] - touches[1][1]) < 24 * ratio)
      touches[0][0] -= 12 * ratio, touches[1][0] = touches[0][0] + 24 * ratio,
                                   touches[1][1] = touches[0][1];
    for (const [x, y, letter] of touches) {
      const r = 11 * ratio;
      pen.fillStyle = letter === "A" ? "#000" : "#fff", pen.fillRect(x - r, y - r, 2 * r, 2 * r);
      pen.lineWidth = 2 * ratio, pen.strokeStyle = letter === "A" ? "#fff" : "#000",
      pen.strokeRect(x - r, y - r, 2 * r, 2 * r);
      pen.font = "bold " + 14 * ratio + "px system-ui, 'DejaVu Sans', sans-serif",
      pen.textAlign = "center", pen.textBaseline = "middle";
      pen.fillStyle = letter === "A" ? "#fff" : "#000", pen.fillText(letter, x, y + ratio);
    }
    /* The scale of heights. */
    const bar = {x: 14 * ratio, y: h - 52 * ratio, w: w - 28 * ratio, h: 18 * ratio};
    for (let x = 0; x < bar.w; ++x) {
      pen.fillStyle = "rgb(" + colourOf(low + (high - low) * (x + 0.5) / bar.w) + ")";
      pen.fillRect(bar.x + x, bar.y, 1.5, bar.h);
    }
    pen.font = 14 * ratio + "px system-ui, 'DejaVu Sans', sans-serif", pen.textBaseline = "middle";
    pen.fillStyle = pen.strokeStyle = style("--ink"), pen.lineWidth = ratio;
    pen.strokeRect(bar.x, bar.y, bar.w, bar.h);
    pen.textAlign = "left",
    pen.fillText("height, " + unit.name + ": dark is low", bar.x, bar.y - 13 * ratio);
    let taken = -Infinity;
    for (const z of level.at) {
      const x = bar.x + bar.w * (z * unit.mm - low) / (high - low), words = signed(z, level.places),
            half = pen.measureText(words).width / 2;
      pen.fillStyle = "#fff", pen.fillRect(x - 2 * ratio, bar.y, 4 * ratio, bar.h),
      pen.fillStyle = "#000", pen.fillRect(x - ratio, bar.y, 2 * ratio, bar.h);
      if (x - half < Math.max(taken, 2 * ratio) || x + half > w - 2 * ratio) continue;
      taken = x + half + 6 * ratio;
      pen.fillStyle = style("--ink"), pen.textAlign = "center",
      pen.fillText(words, x, bar.y + bar.h + 14 * ratio);
    }
  }
  return {draw, heightAt};
})();
