/* Of a page with several walls the address chooses one, "#wall-3"; else it is the first. */
const payloads = [...document.querySelectorAll("script[id^=facts]")].map(
    e => ({
      wall: e.dataset.wall,
      facts: e,
      numbers: document.getElementById(e.id.replace("facts", "numbers"))
    }));
const named = () => payloads.find(p => location.hash === "#wall-" + p.wall);
const chosen = named() || payloads[0];
window.addEventListener("hashchange", function() {
  if ((named() || payloads[0]) !== chosen) location.reload();
});
const facts = JSON.parse(chosen.facts.textContent);
const numbers = numbersOf(chosen.numbers.textContent, facts);
chosen.numbers.textContent = "";
/* The other walls, as the program found them; read when they are first shown. */
let othersRead = null;
function otherWalls() {
  return othersRead = othersRead || payloads.filter(p => p !== chosen).map(function(p) {
    const f = JSON.parse(p.facts.textContent), n = numbersOf(p.numbers.textContent, f);
    p.numbers.textContent = "";
    return {facts: f, numbers: n};
  });
}

const by = id => document.getElementById(id), root = document.documentElement;
/* What is said of the whole job: in a page with several walls the job's, else the wall's. */
const whole = by("job-facts") ? JSON.parse(by("job-facts").textContent) : facts.report;
Object.assign(facts.in_inches, whole.in_inches);

/* The model of the wall that is shown. */
const unit = makeUnit(facts.inches), text = makeText(facts, unit),
      readNumber = makeTypedNumber(unit);
const {
  causes,
  stated,
  judged,
  scalePlace,
  scaleWall,
  effectOf,
  wallsNow,
  computeWalls,
  computeAreas,
  nearestSample
} = makeWalls(facts, numbers);
const {unproven, atLeast, ...verdictRules} = makeVerdict(facts, text);
const counted = makeTrials(facts, numbers);

/* Trials while nothing else is done: calls done(counts), unless asked anew before they are ready. */
const trials = (function() {
  let turn = 0;
  function run(sizes, limit, done) {
    const mine = ++turn;
    sizes = sizes.slice();
    setTimeout(function() {
      if (mine !== turn) return;
      const now = counted.begin(sizes, limit);
      (function some() {
        if (mine !== turn) return;
        const until = performance.now() + 12;
        let left = true;
        while (left && performance.now() < until) left = now.some(50);
        if (left) setTimeout(some, 0);
        else done(now.counts);
      })();
    }, 60);
  }
  return {run, count: counted.count};
})();

/* So many thin places are numbered. */
const MOST_PLACES = 12;

const palette = new Uint8Array(768);
for (let i = 0; i < 768; ++i) palette[i] = parseInt(facts.palette.substr(2 * i, 2), 16);

/* An element put into its parent. */
function put(parent, tag, content, attributes) {
  const e = document.createElement(tag);
  if (content !== undefined && content !== null) e.textContent = content;
  for (const k in attributes || {}) e.setAttribute(k, attributes[k]);
  parent.appendChild(e);
  return e;
}
/* The same in a drawing. */
function svgIn(parent, tag, attributes) {
  const e = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const k in attributes) e.setAttribute(k, attributes[k]);
  parent.append(e);
  return e;
}
