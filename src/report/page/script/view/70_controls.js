/* Sliders, views, lists. */
function unitOf(c) { return c.unit === "" ? "\u00d7 as read" : c.unit; }
function wayOf(c) { return facts.words.ways[c.distribution]; }

/* `own`: the unit of the value; a length follows the switch between mm and inch. */
let sliders = 0;
function addSlider(list, name, own, way, low, high, start, give) {
  const row = put(by(list), "div", null, {class: "slider"}), id = "slider-" + ++sliders;
  const head = put(row, "div", null, {class: "name"});
  put(head, "b", name, {id: id + "-name"});
  const unitText = put(head, "small", null, {id: id + "-unit"});
  const set = put(row, "div", null, {class: "set"});
  let scale = 1, step = 0, fine = 0, value = start;
  const labels = id + "-name " + id + "-unit";
  const range =
      put(set, "input", null, {type: "range", step: "any", id, "aria-labelledby": labels});
  const box = put(set, "input", null, {type: "text", id: id + "-box", "aria-labelledby": labels});
  const back =
      put(set, "button", "\u21ba",
          {type: "button", "aria-label": "Back to stated: " + name, title: "Back to stated"});
  const note = put(row, "p", null, {class: "refused", id: id + "-note"});
  const slide = function(to) {
    value = to;
    range.value = value / scale;
    range.setAttribute("aria-valuetext", Number((value / scale).toFixed(scale === 1 ? 4 : 5)) +
                                             " " + (own === "mm" ? unit.name : own));
    row.classList.toggle("moved", value !== start);
  };
  const take = function(to) {
    slide(to);
    give(to);
    changed();
  };
  /* What is typed may go well beyond the slider. */
  const least = low < 0 ? 20 * low : low, most = 20 * high,
        typedHere = typed.field(box, note, {own, low: least, high: most, name, use: take});
  const moveTo = function(to) {
    typedHere.show(to);
    take(to);
  };
  const within = v => Math.max(least, Math.min(most, Number(v.toFixed(8))));
  const inUnit = function() {
    scale = own === "mm" ? unit.mm : 1;
    step = Math.pow(10, Math.floor(Math.log10((high - Math.min(0, low)) / scale / 200 || 0.001)));
    fine = own !== "mm" ? step : unit.inch ? 0.001 : 0.01; /* an arrow key: what a dial shows */
    unitText.textContent = way + " (" + (own === "mm" ? unit.name : own) + ")";
    range.min = low / scale, range.max = high / scale;
    slide(value);
    typedHere.unitChanged();
  };
  unitChanged.push(inUnit);
  range.addEventListener("input",
                         () => moveTo(within(Math.round(range.value / step) * step * scale)));
  range.addEventListener("keydown", function(e) {
    const by =
        {ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10}[e.key];
    if (!by) return;
    e.preventDefault();
    moveTo(within(value + by * fine * scale));
  });
  back.addEventListener("click", () => moveTo(start));
  typedHere.show(start);
  inUnit();
  return () => {
    typedHere.show(start);
    slide(start);
    give(start);
  };
}
/* On a phone below a job of several walls fewer things stand unfolded. */
const few = document.querySelector("#job.several") && matchMedia("(max-width:34rem)").matches;
/* Those that do most at the thinnest place stand first, the others are unfolded. */
computeWalls(stated.sizes);
const reaches = causes.map((c, k) => {
  const e = effectOf(k, stated.sizes, wallsNow.thinnest);
  return Math.abs(e.shift) + e.half;
});
const most = reaches.slice().sort((a, b) => b - a)[few ? 1 : 3] || 0;
const resets = [addSlider("sliders", "Limit", "mm", "thinnest wall that serves",
                          Math.min(facts.limit_least_mm, stated.limit),
                          Math.max(2, 2 * stated.limit), stated.limit, v => { state.limit = v; })];
causes.forEach((c, k) =>
                   resets.push(addSlider(!c.stated                              ? "new-sliders"
                                         : reaches[k] >= most && reaches[k] > 0 ? "sliders"
                                                                                : "more-sliders",
                                         c.name, unitOf(c), wayOf(c), c.slider[0], c.slider[1],
                                         c.size, v => { state.sizes[k] = v; })));
/* What a carver might look for here and does not find. */
const places = ["uneven board", "uneven sanding"].filter(
    name => !causes.some(c => c.field && c.name.startsWith(name)));
by("not-here").textContent =
    (causes.every(c => c.stated)
         ? "What no one stated cannot be tried here: this piece has more measured places than the " +
               "page can hold with it. "
     : places.length ? "Not here, since it varies from place to place: " + places.join(", ") + ". "
                     : "") +
    "The check in a browser (leastwall.html) and the program take every value: state it there and check again.";
by("new-title").hidden = causes.every(c => c.stated);
by("reset").addEventListener("click", function() {
  resets.forEach(r => r());
  changed();
  by("slider-1").focus({preventScroll: true});
});

const hints = {
  solid:
      matchMedia("(pointer: coarse)").matches
          ? "Swipe sideways to turn it; up and down scrolls the page. Two fingers move it nearer " +
                "and shift it. Tap a place to read it."
          : "Drag turns it, with Shift shifts it. Click reads a place; then the wheel moves nearer, " +
                "until Escape or the mouse leaves.",
  a: "As the board lies for side A: pocket face up, seen through the wood",
  b: "As the board lies for side B: skin up, mirrored about the flip line"
};
for (const side of ["a", "b"]) { /* what is drawn, each where it is there */
  const m = facts.marks[side], pad = facts.report.pad;
  hints[side] += ". Dash and dot: flip line" + (m.board ? "; line: board" : "") +
                 (m.dowels.length ? "; cross in a circle: dowel" : "") +
                 (m.touch ? "; Z: touch zero there" : "") +
                 (pad && pad.not_cut === undefined ? "; square: witness pad" : "") +
                 ". Tap a place to read it.";
}
function setView(view) {
  state.view = view;
  document.querySelectorAll("[data-view]")
      .forEach(b => b.setAttribute("aria-pressed", String(b.dataset.view === view)));
  by("solid").hidden = view !== "solid" || !solid;
  by("no-solid").hidden = view !== "solid" || !!solid;
  by("plan").hidden = view === "solid";
  by("cut").hidden = view !== "solid" || !solid;
  by("line-cut").hidden = view === "solid";
  by("line-figure").hidden = view === "solid" || !lineCut.line;
  by("tags").hidden = by("solid").hidden;
  by("view-hint").textContent = view === "solid" && !solid ? "" : hints[view];
  if (view !== "solid") plan.show(view), plan.draw();
  else if (solid) solid.draw();
}
document.querySelectorAll("[data-view]")
    .forEach(b => b.addEventListener("click", () => setView(b.dataset.view)));
document.querySelectorAll("[data-wall]").forEach(b => b.addEventListener("click", function() {
  state.wall = b.dataset.wall;
  document.querySelectorAll("[data-wall]")
      .forEach(o => o.setAttribute("aria-pressed", String(o === b)));
  if (solid) solid.refresh();
  plan.draw();
}));

/* One wall or all of them in space. */
function setAll(on) {
  document.querySelectorAll("[data-all]")
      .forEach(b => b.setAttribute("aria-pressed", String((b.dataset.all === "true") === on)));
  if (solid) solid.showAll(on);
  setCutRange();
}
document.querySelectorAll("[data-all]").forEach(b => b.addEventListener("click", function() {
  if (state.view !== "solid") setView("solid");
  setAll(b.dataset.all === "true");
}));

function setCut() {
  const axis = by("cut-axis").value, at = by("cut-at");
  at.disabled = axis === "";
  at.hidden = axis === "";
  by("cut-text").textContent =
      axis === "" ? "" : "xyz"[axis] + " " + text.axis(Number(at.value)) + " " + unit.name;
  if (solid) solid.cut(axis === "" ? null : Number(axis), Number(at.value));
}
/* From where to where a slice can be moved. */
function setCutRange() {
  const axis = by("cut-axis").value, at = by("cut-at");
  if (axis === "") return;
  const all = document.querySelector("[data-all=true][aria-pressed=true]") !== null;
  const boxes = [facts.box, ...(all ? otherWalls().map(o => o.facts.box) : [])];
  const low = Math.min(...boxes.map(b => b[0][axis])),
        high = Math.max(...boxes.map(b => b[1][axis]));
  at.min = low, at.max = high, at.step = (high - low) / 400 || 1;
}
by("cut-axis").addEventListener("change", function() {
  const axis = by("cut-axis").value;
  setCutRange();
  if (axis !== "") by("cut-at").value = numbers.at[3 * state.here + Number(axis)];
  setCut();
});
by("cut-at").addEventListener("input", setCut);

function showScale() {
  const bar = by("scale-bar"), pen = bar.getContext("2d"), w = bar.width;
  for (let x = 0; x < w; ++x) {
    const k = 3 * Math.round(x / (w - 1) * 255);
    pen.fillStyle = "rgb(" + palette[k] + "," + palette[k + 1] + "," + palette[k + 2] + ")";
    pen.fillRect(x, 0, 1, bar.height);
    if (scaleWall(x / (w - 1)) < state.limit) { /* the stripes of what is under the limit */
      pen.fillStyle = "#000";
      for (let y = 0; y < bar.height; ++y)
        if ((x + y) % 7 < 2) pen.fillRect(x, y, 1, 1);
    }
  }
  const marks = by("scale-marks");
  marks.textContent = "";
  const top = facts.scale.top_mm;
  for (const at of unit.inch ? [0, 0.01, 0.02, 0.03, 0.04] : [0, 0.25, 0.5, 0.75, 1, 2])
    put(marks, "span", String(at)).style.left = 100 * scalePlace(at * unit.mm) + "%";
  put(marks, "span", (unit.inch ? text.fixed(top / unit.mm, 2) : top) + "+ " + unit.name, {
    class: "end"
  }).style.left = "100%";
  put(marks, "i", null, {class: "limit"}).style.cssText =
      "position:absolute;left:" + 100 * scalePlace(state.limit) + "%";
}

if (facts.of_job) {
  by("which").hidden = false;
  by("which").textContent =
      "Wall " + facts.of_job.number + " of " + facts.of_job.of + ": " + facts.of_job.name;
  by("all-walls").hidden = !solid;
  by("try-hint").hidden = false;
  document.querySelectorAll("#job a").forEach(a => {
    if (a.getAttribute("href") === "#wall-" + facts.of_job.number)
      a.setAttribute("aria-current", "true");
  });
}

function fillLists() {
  const report = facts.report;
  for (const list of ["place-list", "place-rest", "advice-list", "advice-rest", "warning-list",
                      "given-list", "unseen-list"])
    by(list).textContent = "";
  const first = few ? 3 : 5;
  by("place-more").hidden = report.regions.length <= first;
  report.regions.slice(0, MOST_PLACES).forEach(function(r, i) {
    const b = put(put(by(i < first ? "place-list" : "place-rest"), "li"), "button", null,
                  {type: "button"});
    put(b, "span", String(i + 1), {class: "no"});
    const words = put(b, "span");
    put(words, "b", text.wallWords(r.least_wall_mm, stated.limit));
    put(words, "span", "; at worst " + text.wallWords(r.worst_mm, stated.limit));
    put(words, "br");
    put(words, "span", text.place(r.at_mm[0], r.at_mm[1], r.at_mm[2]) + (unit.inch ? " in" : ""));
    b.addEventListener("click", function() {
      const s = nearestSample(r.at_mm[0], r.at_mm[1], r.at_mm[2]);
      if (solid) solid.face(s);
      state.goTo(s, "Thin place " + (i + 1));
      if (by("here").getBoundingClientRect().top < 0 ||
          by("look").getBoundingClientRect().top < -200)
        by("look").scrollIntoView();
    });
  });
  const more = facts.thin_places - Math.min(MOST_PLACES, report.regions.length);
  by("places-hint").textContent =
      !report.regions.length && unproven
          ? "None of what was measured is under the limit; it proves nothing: look first."
      : !report.regions.length
          ? "No wall is under the limit, not even at worst."
          : "With the set-up as stated, thinnest first, numbered as in the pictures" +
                (more > 0 ? "; " + more + " more are in check.json." : ".");
  const fill = (list, items) => items.forEach(t => put(by(list), "li", text.sentence(t)));
  whole.advice.forEach(function(a, i) {
    const li = put(by(i < 2 ? "advice-list" : "advice-rest"), "li");
    put(li, "b", text.sentence(a.change));
    li.append(" "), put(li, "span",
                        "(" + (a.gain_mm > 0 ? "+" : "") + text.length(a.gain_mm) + " " +
                            unit.name + ", then " + facts.words.verdicts[a.verdict] + "; " +
                            (facts.words.costs[a.cost] || a.cost) + ")");
  });
  fill("warning-list", whole.warnings.filter(w => w.severity === "warning").map(w => w.text));
  fill("given-list", whole.assumptions);
  fill("unseen-list", whole.not_checked);
  by("made-text").textContent =
      "Expected and worst wall are computed here, in the browser, for " + facts.samples +
      " of the " + facts.samples_measured + " measured places" +
      (facts.samples < facts.samples_measured
           ? facts.within_mm <= 0.001
                 ? "; the places left out are never thinner, whatever the sliders say, by more than " +
                       text.walls(facts.within_mm, Infinity)
                 : "; the places left out stand close to thinner ones, and the thinnest were found at the " +
                       "set-up as stated and at " + facts.settings_tried +
                       " settings of the sliders"
           : "") +
      (facts.thin_merged ? "; thin areas are read from fewer places than the program used" : "") +
      ". The chance comes from " + trials.count +
      " trials with the same random numbers as the program's, so single trials may fall the other " +
      "way by rounding. Advice, thin places and the last column of the table hold for the set-up " +
      "as stated.";
}

/* Paper shows all in light colours, and the plan with its numbers. */
let before = null;
window.addEventListener("beforeprint", function() {
  const folded = [...document.querySelectorAll("details:not([open])")].filter(
      d => !d.closest("#try, #here, #made-of, #bed-shown") && !d.matches("#job :has(>table)"));
  before = {view: state.view, folded, theme: root.dataset.theme};
  folded.forEach(d => { d.open = true; });
  setTheme("light");
  if (state.view === "solid") setView("a");
});
window.addEventListener("afterprint", function() {
  if (!before) return;
  before.folded.forEach(d => { d.open = false; });
  setTheme(before.theme);
  setView(before.view);
});

/* What to look at first, in the order of the program's look_first. */
const lookFirst = ["unproven", "doubt"].flatMap(s => whole.warnings.filter(w => w.severity === s));
function showLookFirst() {
  document.querySelectorAll(".look-first").forEach(function(e, i) {
    e.textContent =
        (whole.verdict === "unproven" ? "" : "Look first: ") + text.sentence(lookFirst[i].text);
  });
}

/* Everything that shows a length, in the unit chosen. */
function setUnit(inch) {
  unit.inch = inch;
  document.querySelectorAll("[data-unit]")
      .forEach(b => b.setAttribute("aria-pressed", String((b.dataset.unit === "inch") === inch)));
  document.querySelectorAll(".unit-name").forEach(e => { e.textContent = unit.name; });
  document.querySelectorAll(".unit-word").forEach(e => { e.textContent = inch ? "inches" : "mm"; });
  document.querySelectorAll("[data-mm]")
      .forEach(e => { e.textContent = text.wall(Number(e.dataset.mm), Number(e.dataset.limit)); });
  unitChanged.forEach(f => f());
  showLookFirst();
  fillLists();
  setCut();
  showPad();
  showBed();
  bedPlan.draw();
  plan.draw();
}
document.querySelectorAll("[data-unit]").forEach(b => b.addEventListener("click", function() {
  setUnit(b.dataset.unit === "inch");
  showVerdict(), showHere(), showBudget(), showScale();
}));
