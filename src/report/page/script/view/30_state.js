/* What is looked at, and everything that follows from a slider. */
const state = {
  limit: stated.limit,
  sizes: stated.sizes.slice(),
  wall: "expected",
  view: "solid",
  here: 0,
  follow: true,
  chance: null,
  counting: false,
  shown() { return wallsNow[state.wall]; },
  goTo(sample, title) {
    state.here = sample, state.follow = false;
    by("here-title").textContent = title;
    if (solid) solid.draw();
    plan.follow();
    plan.draw();
    showHere();
  }
};
const unitChanged = []; /* called when the unit shown has changed */

/* What is shown: for the set-up as stated the program's own numbers, else what was computed here. */
function shownNow() {
  const w = wallsNow, p = numbers.at, i = 3 * w.thinnest, told = facts.report;
  if (!isChanged()) {
    const least = told.least_wall, chance = told.chance;
    return {
      expected: least.expected_mm,
      worst: least.worst_mm,
      at: least.at_mm,
      areaExpected: told.area_under_limit_mm2,
      areaWorst: told.area_at_risk_mm2,
      chance: chance
                  ? {under: chance.under_limit, through: chance.cut_through, trials: chance.trials}
                  : null
    };
  }
  const c = state.chance;
  return {
    expected: w.leastExpected,
    worst: w.leastWorst,
    at: [p[i], p[i + 1], p[i + 2]],
    areaExpected: w.areaExpected,
    areaWorst: w.areaWorst,
    chance: c && !state.counting
                ? {under: c.under / c.trials, through: c.through / c.trials, trials: c.trials}
                : null
  };
}
const computedVerdict = chance => verdictRules.computedVerdict(wallsNow, state.limit, chance);
const verdictNow = () => isChanged() ? computedVerdict(state.chance) : facts.report.verdict;
const headlineOf = verdict =>
    verdictRules.headlineOf(verdict, shownNow(), state.limit, state.sizes);
const sentenceOf = verdict =>
    verdictRules.sentenceOf(verdict, shownNow(), state.limit, state.sizes);

function figure(id, main, small) {
  const e = by(id);
  e.textContent = main;
  if (small) put(e, "small", small);
}

const isChanged = () =>
    state.limit !== stated.limit || state.sizes.some((s, k) => s !== stated.sizes[k]);

/* While the verdict is out of sight what the sliders do is told at the edge of the window. */
let verdictSeen = true;
function showStrip() { by("strip").hidden = verdictSeen || !isChanged(); }
new IntersectionObserver(function(seen) { verdictSeen = seen[0].isIntersecting, showStrip(); })
    .observe(by("verdict"));

let spokenTimer = 0;
function showVerdict() {
  const verdict = verdictNow(), now = shownNow();
  let ground = "";
  if (verdict) {
    const headline = headlineOf(verdict);
    ground = headline.ground;
    by("verdict").dataset.verdict = verdict;
    by("banner").textContent = by("strip-banner").textContent = headline.banner;
    by("ground").textContent = ground;
    by("strip").dataset.verdict = verdict;
    by("sentence").textContent = sentenceOf(verdict);
    clearTimeout(spokenTimer);
    if (isChanged())
      spokenTimer = setTimeout(() => {
        by("spoken").textContent =
            headline.banner + ". " + (ground ? ground + ". " : "") + sentenceOf(verdict);
      }, 700);
  }
  by("verdict").setAttribute("aria-busy", String(!verdict || state.counting));
  by("strip-walls").textContent = (ground ? ground + "; " : "") +
                                  text.wallWords(now.expected, state.limit) + ", at worst " +
                                  text.wallWords(now.worst, state.limit);
  by("changed").hidden = !isChanged();
  root.classList.toggle("moved", isChanged());
  showStrip();
  /* Places that were measured only in outline have a wall of at least measured_to_mm. */
  const to = facts.report.measured_to_mm, needed = state.limit + wallsNow.thinning;
  const far = facts.samples < facts.samples_measured &&
              causes.some((c, k) => state.sizes[k] < c.slider[0] - 1e-9 ||
                                    state.sizes[k] > c.slider[1] + 1e-9);
  by("beyond").hidden = !isChanged() || !far && (to === undefined || needed <= to + 0.0005);
  if (!by("beyond").hidden)
    by("beyond").textContent =
        far ? "Beyond the sliders: this page does not carry every measured place, and one that it " +
                  "left out may be thinner than shown. Run the check again with these values."
            : "Beyond what was measured: with these values walls up to " +
                  text.walls(needed, Infinity) + " as drawn count, and only those up to " +
                  text.walls(to, Infinity) +
                  " were measured finely. It may be thinner than shown; run the check again with these values.";
  figure("figure-expected", now.expected > 0 ? text.walls(now.expected, state.limit) : "hole",
         (now.expected > 0 ? "" : atLeast + text.walls(-now.expected, Infinity) + " too deep; ") +
             "limit " + text.walls(state.limit, state.limit));
  figure("figure-worst", now.worst > 0 ? text.walls(now.worst, state.limit) : "hole",
         (now.worst > 0 ? "" : atLeast + text.walls(-now.worst, Infinity) + " too deep; ") +
             "every error at its limit at once");
  const accepted =
      facts.basis === "chance" ? "you accept " + text.odds(facts.accepted_chance) + "; " : "";
  if (now.chance) {
    const c = now.chance, through = c.through ? "cut through: " + text.odds(c.through, c.trials)
                                              : "cut through: not once";
    figure("figure-chance", text.odds(c.under, c.trials),
           accepted + through + "; " + c.trials + " trials");
  } else figure("figure-chance", "\u2026", accepted + "cutting " + trials.count + " pieces");
  figure("figure-area", text.area(now.areaExpected), text.area(now.areaWorst) + " at worst");
}

function showHere() {
  const i = state.here, body = by("here-body"), p = numbers.at, x = p[3 * i], y = p[3 * i + 1],
        z = p[3 * i + 2];
  body.textContent = "";
  const e = wallsNow.expected[i], w = wallsNow.worst[i];
  put(body, "p",
      e <= 0 ? "Hole, " + text.walls(-e, Infinity) + " too deep"
             : text.walls(e, state.limit) + " expected",
      {class: "big"});
  put(body, "p",
      "At worst " + text.wallWords(w, state.limit) + "; as drawn " +
          text.wallWords(numbers.wall[i], state.limit) + ". " +
          (e <= 0                    ? "Cut through."
           : e < judged(state.limit) ? "Under the limit."
           : w < judged(state.limit) ? "Under the limit at worst."
                                     : "Holds even at worst."));
  const mirrored = plan.mirrored(x, y);
  put(body, "p",
      text.place(x, y, z) + " " + unit.name +
          "; with side B up: " + text.place(mirrored[0], mirrored[1]),
      {class: "hint"});
  showSection(body, [x, y, z], numbers.wall[i], w);
  const rows = causes.map((c, k) => ({name: c.name, effect: effectOf(k, state.sizes, i)}))
                   .filter(r => Math.abs(r.effect.shift) + r.effect.half >= 0.0005)
                   .sort((a, b) => Math.abs(b.effect.shift) + b.effect.half -
                                   Math.abs(a.effect.shift) - a.effect.half);
  const list = by("here-causes");
  list.textContent = "";
  by("here-more").hidden = !rows.length;
  const most = rows.length ? Math.abs(rows[0].effect.shift) + rows[0].effect.half : 1;
  for (const r of rows.slice(0, 7)) {
    const item = put(list, "li", null, {class: "effect"}), s = r.effect.shift, h = r.effect.half;
    put(item, "span", r.name);
    put(item, "span", text.move(s, h) + " " + unit.name);
    const meter = put(item, "span", null, {class: "meter", "aria-hidden": "true"});
    const bar = put(meter, "i", null, {class: s && !h ? "known" : ""});
    bar.style.width = 100 * (Math.abs(s) + h) / most + "%";
  }
  if (!rows.length) put(body, "p", "No cause moves the wall here.", {class: "hint"});
  else if (rows.length > 7)
    put(list, "li",
        "and " + (rows.length - 7) + (rows.length === 8 ? " that does less" : " that do less"),
        {class: "hint"});
}

function showBudget() {
  const i = wallsNow.thinnest, effects = causes.map(function(c, k) {
    const e = effectOf(k, state.sizes, i), told = facts.report.causes[k];
    if (!isChanged() && told)
      e[c.distribution === "shift" ? "shift" : "half"] =
          told.at_thinnest_mm; /* the program's, to the last digit */
    return e;
  });
  const body = by("budget-rows");
  body.textContent = "";
  let most = 0.001, variance = 0;
  for (const e of effects)
    most = Math.max(most, Math.abs(e.shift) + e.half), variance += e.u ? e.u * e.u : 0;
  const marked = effects.some(e => e.u === null); /* roughing marks: the program's share stands */
  causes.forEach(function(c, k) {
    if (!c.stated && !state.sizes[k]) return;
    const e = effects[k], row = put(body, "tr"), told = facts.report.causes[k] || {};
    put(row, "th", c.name, {scope: "row"});
    const s = e.shift, h = e.half;
    put(row, "td", text.move(s, h), {class: "n", "data-label": unit.name});
    const bar = put(put(row, "td", null, {class: "bar"}), "div", null,
                    {class: "span", "aria-hidden": "true"});
    const from = 50 + 50 * (s - h) / most, to = 50 + 50 * (s + h) / most,
          part = put(bar, "i", null, {class: h ? "" : "known"});
    part.style.left = Math.min(from, h ? from : 50) + "%";
    part.style.width = (h ? to - from : Math.abs(s) / most * 50) + "%";
    put(bar, "b");
    const share = !isChanged()   ? told.share
                  : marked       ? null
                  : variance > 0 ? e.u * e.u / variance
                                 : 0;
    put(row, "td",
        c.distribution === "shift"              ? "known"
        : share === null || share === undefined ? "\u2013"
                                                : Math.round(100 * share) + " %",
        {class: "n", "data-label": "share"});
    put(row, "td",
        told.largest_allowed_mm !== undefined
            ? (told.largest_allowed_is_at_least ? "\u2265 " : "") +
                  (c.unit === "mm" ? text.length(told.largest_allowed_mm) + " " + unit.name
                                   : text.fixed(told.largest_allowed_mm, 3) + " " + unitOf(c))
        : c.distribution === "shift" || facts.of_job ? "\u2013"
                                                     : "not alone",
        {class: "n", "data-label": "may be, alone"});
  });
  by("budget-hint").textContent =
      "At the thinnest place, " + text.placeLine(...shownNow().at) +
      ". Left of the middle line the wall gets thinner. The last column is computed for the " +
      (facts.of_job
           ? "whole job: the text report tells it. Rows"
           : "set-up as stated: how large the cause may be for a safe verdict; \"not alone\": no " +
                 "size of it alone makes it safe. Rows") +
      " that one number of the job stands for change together and show the same.";
}

/* The slow parts wait for the next picture; many moves of a slider make one computing. */
let asked = false;
function changed() {
  state.counting = true;
  if (facts.basis === "chance") state.chance = null;
  if (!asked) asked = true, requestAnimationFrame(compute);
}
function compute() {
  asked = false;
  state.counting = true;
  computeWalls(state.sizes);
  computeAreas(state.limit);
  if (state.follow && state.here !== wallsNow.thinnest)
    state.here = wallsNow.thinnest, plan.follow();
  if (solid) solid.refresh();
  plan.draw();
  lineCut.refresh();
  showVerdict();
  showHere();
  showBudget();
  showScale();
  trials.run(state.sizes, judged(state.limit), function(counts) {
    state.chance = counts, state.counting = false;
    performance.mark("counted");
    showVerdict();
  });
}
