/* The wall cut upright along a line that is drawn over the plan; it follows the sliders. */
const lineCut = (function() {
  const figure = by("line-figure"), scroll = by("line-scroll"), button = by("line-draw");
  const names = facts.sections.length ? facts.sections[0] : {outer: "skin", inner: "pocket"};
  let line = null, drawing = false, from = null, scale = 0, cut = null, place = null;

  function path(svg, points, colour, width, inMm) {
    let d = "";
    for (let k = 0; k < points.length; k += 4)
      d += "M" + points[k] + " " + -points[k + 1] + "L" + points[k + 2] + " " + -points[k + 3];
    svgIn(svg, "path", {
      d,
      fill: "none",
      stroke: colour,
      "stroke-width": width,
      "stroke-linecap": "round",
      ...(inMm ? {} : {"vector-effect": "non-scaling-stroke"})
    });
  }

  function show(centre) {
    scroll.textContent = "";
    figure.hidden = !line;
    if (!line) return;
    cut = sectionAlong(numbers, wallsNow, line[0], line[1]);
    const caption = by("line-caption");
    by("line-title").textContent =
        "Section from P to Q, " + text.axis(cut.length) + " " + unit.name;
    if (!cut.least) {
      caption.textContent = "The line does not cross the measured skin.";
      return;
    }
    let low = Infinity, high = -Infinity;
    for (const points of [cut.skin, cut.pocket, cut.worst])
      for (let k = 1; k < points.length; k += 2)
        low = Math.min(low, points[k]), high = Math.max(high, points[k]);
    const margin = 2 * state.limit, fit = (scroll.clientWidth - 2) / (cut.length + 2 * margin);
    scale = Math.max(fit, scale || 16); /* a wall of half a millimetre is eight pixels */
    const left = -margin, top = -high - margin, w = cut.length + 2 * margin,
          h = high - low + 2 * margin;
    const words = text.wallWords(cut.least.wall, state.limit);
    const svg = svgIn(scroll, "svg", {
      viewBox: [left, top, w, h].join(" "),
      width: w * scale,
      height: h * scale,
      role: "img",
      "aria-label": "Section along the line: least wall on it " + words + " expected"
    });
    path(svg, cut.pocket, "#fadea0", 2 * state.limit, true);
    path(svg, cut.worst, "#aa2800", 1.2);
    path(svg, cut.pocket, "#0046a0", 2.5);
    path(svg, cut.skin, "#000", 2.5);
    path(svg, [...cut.least.skin, ...cut.least.pocket], "#aa2800", 3);
    const x = (cut.least.skin[0] + cut.least.pocket[0]) / 2,
          y = -(cut.least.skin[1] + cut.least.pocket[1]) / 2;
    const above = -Math.max(cut.least.skin[1], cut.least.pocket[1]) - 24 / scale;
    svgIn(svg, "text", {
      x,
      y: above,
      "font-size": 16 / scale,
      "font-weight": 700,
      "text-anchor": "middle",
      fill: "#000",
      stroke: "#fff",
      "stroke-width": 4 / scale,
      "paint-order": "stroke"
    }).textContent = words;
    svgIn(svg, "path", {
      d: "M" + x + " " + (above + 5 / scale) + "L" + x + " " + (above + 18 / scale),
      stroke: "#000",
      "stroke-width": 1.5,
      "vector-effect": "non-scaling-stroke"
    });
    for (const [name, end] of [["P", 0], ["Q", cut.length]])
      svgIn(svg, "text", {
        x: end,
        y: top + 16 / scale,
        "font-size": 16 / scale,
        "font-weight": 700,
        "text-anchor": end ? "end" : "start",
        fill: "#000"
      }).textContent = name;
    place = [x, y];
    scroll.scrollLeft = ((centre ? centre[0] : x) - left) * scale - scroll.clientWidth / 2;
    scroll.scrollTop = ((centre ? centre[1] : y) - top) * scale - scroll.clientHeight / 2;
    caption.textContent =
        "Least wall on the line, expected: " + words + " at " + text.placeLine(...cut.least.at) +
        "; with side B up: " + text.place(...plan.mirrored(cut.least.at[0], cut.least.at[1])) +
        ". Black: " + names.outer + "; blue: " + names.inner +
        " as the measured walls show it; shaded: within the limit of the " + names.inner +
        ", where no " + names.outer + " may lie; thin red: the " + names.outer +
        " as near as errors bring it. It follows the sliders.";
  }
  /* What to keep in the middle: the least wall where it is seen, else what lies there now. */
  function middle() {
    const svg = scroll.querySelector("svg");
    if (!svg) return null;
    const box = svg.getAttribute("viewBox").split(" ").map(Number);
    const low = [box[0] + scroll.scrollLeft / scale, box[1] + scroll.scrollTop / scale];
    const high = [low[0] + scroll.clientWidth / scale, low[1] + scroll.clientHeight / scale];
    const seen = place && place.every((v, k) => v >= low[k] && v <= high[k]);
    return seen ? place : low.map((v, k) => (v + high[k]) / 2);
  }
  function set(p, q) {
    line = Math.hypot(q[0] - p[0], q[1] - p[1]) > 0.5 ? [p, q] : null; /* a tap draws none */
    scale = 0;
    show();
    plan.draw();
    if (line) by("spoken").textContent = by("line-caption").textContent;
  }
  function mode(on) {
    drawing = on, from = null;
    button.setAttribute("aria-pressed", String(on));
    by("plan").style.touchAction = on ? "none" : "";
    by("plan").style.cursor = on ? "crosshair" : "";
    by("view-hint").textContent =
        on ? "Drag from one end of the line to the other." : hints[state.view];
  }
  button.addEventListener("click", () => mode(!drawing));
  const canvas = by("plan"), under = e => {
    const box = canvas.getBoundingClientRect();
    return plan.placeAt(e.clientX - box.left, e.clientY - box.top);
  };
  canvas.addEventListener("pointerdown", function(e) {
    if (!drawing) return;
    canvas.setPointerCapture(e.pointerId);
    from = under(e);
  });
  canvas.addEventListener("pointermove", function(e) {
    if (!from) return;
    line = [from, under(e)];
    plan.draw();
  });
  canvas.addEventListener("pointerup", function(e) {
    if (!from) return;
    const start = from, end = under(e);
    set(start, end);
    if (line) setTimeout(() => mode(false)); /* the click that follows is still of the line */
    else from = null;
  });
  canvas.addEventListener("pointercancel", () => { from = null; });
  document.querySelectorAll("[data-cut]").forEach(b => b.addEventListener("click", function() {
    const i = state.here, x = numbers.at[3 * i], y = numbers.at[3 * i + 1], low = facts.box[0],
          high = facts.box[1];
    if (b.dataset.cut === "x") set([low[0] - 1, y], [high[0] + 1, y]);
    else set([x, low[1] - 1], [x, high[1] + 1]);
  }));
  by("line-near").addEventListener("click", function() {
    const c = middle();
    scale = Math.min(400, 2 * scale);
    show(c);
  });
  by("line-far").addEventListener("click", function() {
    const c = middle();
    scale /= 2;
    show(c);
  });
  by("line-close").addEventListener("click", function() {
    line = null;
    show();
    plan.draw();
    button.focus({preventScroll: true});
  });
  unitChanged.push(() => {
    if (line) show(middle());
  });
  return {
    refresh() {
      if (line && !from) show(middle());
    },
    get line() { return line; },
    get drawing() { return drawing; },
    get least() { return cut && cut.least; }
  };
})();
