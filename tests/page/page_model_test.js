/* The page's model against what the program itself finds: reads the fixtures that the C++ tests
   write (tests/report/page/page_model_test.cpp), runs the model's files alone, without a page.
   Arguments: the program of the unit tests, the folder of the build, the folder of the model. */
"use strict";
const {execFileSync} = require("child_process");
const {readdirSync, readFileSync, rmSync} = require("fs");
const {join} = require("path");
const [tests, build, folder] = process.argv.slice(2);

const source =
    readdirSync(folder).sort().map(f => readFileSync(join(folder, f), "utf8")).join("\n");
const model = new Function(source + `
  return { numbersOf, makeUnit, makeText, roundUnder, makeWalls, makeTrials, makeVerdict, makeTypedNumber,
    bedHeightAt, bedLevels, sectionAlong, limitAsJudged };`)();

let checks = 0;
const faults = [];
function check(holds, words) {
  ++checks;
  if (!holds) faults.push(words);
}
const near = (got, wanted, within, words) =>
    check(Math.abs(got - wanted) <= within, words + ": " + got + ", not " + wanted);
const same = (got, wanted, words) =>
    check(got === wanted, words + ": \"" + got + "\", not \"" + wanted + "\"");

/* The columns come in 16 bits: 1/65534 of the largest sensitivity of each, times sizes that add up
   to less than 2 mm over all causes. */
const WALL_WITHIN = 0.0002;
/* Of 2000 trials; with other random numbers some 20 fall the other way. */
const TRIALS_WITHIN = 2;

function sameWalls(name, fixture) {
  const {facts} = fixture, numbers = model.numbersOf(fixture.numbers, facts);
  const walls = model.makeWalls(facts, numbers), trials = model.makeTrials(facts, numbers);
  check(numbers.n === 1271 && facts.causes.length > 20, name + ": " + numbers.n + " samples");
  let some = 0;
  for (const found of fixture.found) {
    const where = name + ", " + found.name;
    walls.computeWalls(found.sizes);
    let least = Infinity;
    for (let i = 0; i < numbers.n; ++i) {
      near(walls.wallsNow.expected[i], found.expected[i], WALL_WITHIN, where + ", expected " + i);
      near(walls.wallsNow.worst[i], found.worst[i], WALL_WITHIN, where + ", worst " + i);
      least = Math.min(least, found.expected[i]);
    }
    near(walls.wallsNow.leastExpected, least, WALL_WITHIN, where + ", least");
    near(walls.wallsNow.leastWorst, Math.min(...found.worst), WALL_WITHIN, where + ", least worst");
    near(found.expected[walls.wallsNow.thinnest], least, WALL_WITHIN, where + ", thinnest place");
    walls.computeAreas(0.6);
    near(walls.wallsNow.areaExpected, found.area_expected, 2, where + ", area expected");
    near(walls.wallsNow.areaWorst, found.area_worst, 2, where + ", area at worst");
    const thinning = Math.max(...found.worst.map((w, i) => numbers.wall[i] - w));
    near(walls.wallsNow.thinning, thinning, WALL_WITHIN, where + ", thinning");
    for (const row of found.effects)
      row.of.forEach(function(wanted, k) {
        const got = walls.effectOf(k, found.sizes, row.sample);
        const cause = where + ", " + facts.causes[k].name + " at " + row.sample;
        near(got.shift, wanted[0], WALL_WITHIN, cause + ", shift");
        near(got.half, wanted[1], WALL_WITHIN, cause + ", half");
        if (got.u !== null) near(got.u, wanted[2], WALL_WITHIN, cause + ", u");
      });
    for (const wanted of found.counts) {
      const run = trials.begin(found.sizes, wanted.limit);
      while (run.some(333)) /* in parts, as the page asks */
        ;
      near(run.counts.under, wanted.under, TRIALS_WITHIN, where + ", under " + wanted.limit);
      near(run.counts.through, wanted.through, TRIALS_WITHIN, where + ", through");
      same(run.counts.trials, 2000, where + ", trials");
      if (wanted.under > 100 && wanted.under < 1900) ++some;
    }
  }
  if (name.includes("cut"))
    check(fixture.found[0].counts[0].through > 50, name + ": not cut through");
  check(some >= 3, name + ": " + some + " counts that other random numbers would change");
  return {facts, numbers, walls};
}

/* Slanted cells of known size: the area under a level is that of a trapezium. Of the page's merged
   thin cells the sizes count by what the program told. */
function areas() {
  /* A strip of 10 by 4 mm that rises 3 mm over its width, cut into two triangles. */
  const at = Float32Array.from([0, 0, 0, 10, 0, 0, 10, 4, 3, 0, 4, 3]), n = 4;
  const numbers =
      {n, at, cells: Uint16Array.from([0, 1, 2, 0, 2, 3]), columns: [], wall: new Float32Array(n)};
  const facts = {
    causes: [],
    limit_mm: 0.5,
    limit_tolerance_mm: 0,
    scale: {top_mm: 3, knee_mm: 1, knee_place: 0.6}
  };
  const walls = model.makeWalls(facts, numbers), whole = 10 * 5, ramp = [0, 1, 1, 0];
  near(walls.areaUnder([0.4, 0.4, 0.4, 0.4], 0.5), whole, 1e-4, "all under");
  same(walls.areaUnder([0.5, 0.5, 0.5, 0.5], 0.5), 0, "none under");
  for (const limit of [0.1, 0.25, 0.5, 0.9])
    near(walls.areaUnder(ramp, limit), limit * whole, 1e-4, "part " + limit);
  /* One corner under: a triangle, its sides cut at 1/4. */
  near(walls.areaUnder([2, 0, 4, 9], 1), whole / 2 * (1 / 2) * (1 / 4), 1e-4, "a corner");
  near(walls.areaUnder([0, 4, 2, 9], 3),
       whole / 2 * (1 - 1 / 4 * 1 / 2) + whole / 2 * (1 - 6 / 9 * 6 / 7), 1e-4, "but a corner");
  numbers.wall = Float32Array.from([0.4, 0.6, 0.6, 0.4]);
  const told = {area_under_limit_mm2: 30, area_at_risk_mm2: 0};
  const merged = model.makeWalls({...facts, thin_merged: true, report: told}, numbers);
  merged.computeWalls([]), merged.computeAreas(0.5);
  near(merged.wallsNow.areaExpected, 30, 1e-4, "area as told");
  near(merged.wallsNow.areaWorst, 25, 1e-4, "area that was not told");
  merged.computeAreas(0.45);
  near(merged.wallsNow.areaExpected, 15, 1e-4, "half of the area as told");
  [[1, 0.5, 0.2, 0], [9, 1, 0, 1], [8, 4.4, 2.6, 2], [-5, 9, 3, 3], [0, 0.2, 2.9, 0]].forEach(
      function([x, y, z, i]) {
        same(walls.nearestSample(x, y, z), i, "nearest to " + [x, y, z]);
      });
}

/* Verdicts by the words of DESIGN: expected through, expected thin, then chance or worst case. */
function verdicts(facts) {
  const text = model.makeText(facts, model.makeUnit(false));
  const of = (changes, walls, chance) =>
      model.makeVerdict({...facts, ...changes}, text).computedVerdict(walls, 0.6, chance);
  const told = {report: {...facts.report, verdict: "safe"}, basis: "chance", accepted_chance: 0.05};
  const walls = (leastExpected, leastWorst) => ({leastExpected, leastWorst});
  const chance = under => ({under, through: 0, trials: 2000});
  same(of(told, walls(0, -1), chance(0)), "cut-through", "a wall of nothing");
  same(of(told, walls(0.59, 0.5), chance(0)), "thin", "under the limit");
  same(of(told, walls(0.6, 0.5), chance(100)), "safe", "as many as accepted");
  same(of(told, walls(0.6, 0.6), chance(101)), "at-risk", "one more than accepted");
  same(of(told, walls(0.6, 0.5), null), null, "not counted yet");
  const worst = {...told, basis: "worst-case"};
  same(of(worst, walls(0.7, 0.6), null), "safe", "at worst at the limit");
  same(of(worst, walls(0.7, 0.599), null), "at-risk", "at worst under it");
  same(of({...told, report: {...told.report, verdict: "unproven"}}, walls(9, 9), chance(0)),
       "unproven", "what no slider mends");
  const merciful = {...told, report: {...told.report}};
  same(of(merciful, walls(0.6 - facts.limit_tolerance_mm, 0.5), chance(0)), "safe",
       "within the tolerance");
  same(of(merciful, walls(1e-9, 0), chance(0)), "thin", "hardly a wall");

  /* The rows of the table of headlines as verdict_text.h words them. */
  const shift = {distribution: "shift"}, error = {distribution: "rectangle"},
        now = (worst, under) =>
            ({expected: 0.8, worst, at: [0, 0, 0], chance: {under, through: 0, trials: 2000}});
  const headline = (changes, verdict, shown, sizes) =>
      model.makeVerdict({...facts, ...told, causes: [shift, error], ...changes}, text)
          .headlineOf(verdict, shown, 0.6, sizes);
  same(headline({}, "safe", now(0.9, 0), [0.2, 0]).banner, "HOLDS AS DRAWN", "a shift is no error");
  same(headline({}, "safe", now(0.6, 0), [0, 0.1]).banner, "EVERY WALL HOLDS", "holds at worst");
  same(headline({}, "safe", now(0.5, 0), [0, 0.1]).banner, "HOLDS", "not at worst");
  const some = headline({}, "safe", now(0.7, 0.04), [0, 0.1]);
  same(some.banner + ": " + some.ground, "HOLDS: 1 in 25 pieces too thin, you accept 1 in 20",
       "some pieces");
  same(headline({basis: "worst-case"}, "safe", now(0.5, 0.5), [0, 0.1]).banner, "EVERY WALL HOLDS",
       "by worst case");
  same(headline({}, "at-risk", now(0.5, 0.5), [0, 0.1]).ground,
       "50 in 100 pieces too thin, you accept 1 in 20", "at risk");
  same(headline({basis: "worst-case"}, "at-risk", now(0.5, 0.5), [0, 0.1]).ground,
       "too thin with every error at its worst", "at worst");
  same(headline({of_job: {}}, "safe", now(0.6, 0), [0, 0.1]).banner, "THIS WALL: HOLDS",
       "of a job");
  same(headline({}, "safe", {...now(0.7, 0), chance: null}, [0, 0.1]).ground.includes("\u2026"),
       true, "not counted");
}

/* Signs as the tables show them: a true minus, plus and minus for a spread. */
function moves(facts) {
  const mm = model.makeText(facts, model.makeUnit(false)),
        inch = model.makeText(facts, model.makeUnit(true));
  same(mm.move(0.1, 0), "+0.100", "a known shift");
  same(mm.move(-0.1, 0.02), "\u22120.100 \u00b10.020", "both");
  same(mm.move(0, 0.02), "\u00b10.020", "a spread");
  same(mm.move(0, 0), "\u00b10.000", "nothing");
  same(inch.move(-2.54, 0), "\u22120.1000", "in inches");
  same(mm.wallWords(0.7, 0.6), "0.700\u00a0mm", "a wall");
  same(mm.wallWords(0, 0.6), "hole, 0.000\u00a0mm too deep", "none");
  same(inch.wallWords(-0.254, 0.6), "hole, 0.0100\u00a0in too deep", "a hole");
  same(mm.odds(0, 2000), "not once in 2000", "never");
  same(inch.area(645.16), "1.000 in\u00b2", "a square inch");
  same(inch.area(0.1), "under 0.001 in\u00b2", "a small one");
  same(inch.placeLine(25.4, -12.7, 0), "x\u00a01.000 y\u00a0-0.500 z\u00a00.000\u00a0in",
       "a place");
  same(mm.place(1, 2), "x\u00a01.0  y\u00a02.0", "a place of the plan");
}

function words(facts, wanted) {
  const mm = model.makeText(facts, model.makeUnit(false)),
        inch = model.makeText(facts, model.makeUnit(true));
  for (const [wall, limit, inMm, inInch] of wanted.walls) {
    same(mm.wall(wall, limit), inMm, "wall in mm");
    same(inch.wall(wall, limit), inInch, "wall in inches");
  }
  for (const [fraction, odds, pieces] of wanted.odds) {
    same(mm.odds(fraction, 20000), odds, "odds");
    same(mm.pieces(fraction, 20000), pieces, "pieces");
  }
  same(mm.pieces(0, 20000), wanted.odds_of_none, "no piece");
  const walls = model.makeWalls(facts, {n: 0, at: [], cells: [], columns: [], wall: []});
  for (const [wall, place] of wanted.scale) {
    near(walls.scalePlace(wall), place, 1e-12, "place on the scale of " + wall);
    if (wall >= 0 && wall <= 3) near(walls.scaleWall(place), wall, 1e-12, "wall at place " + place);
  }
  for (const [area, inMm] of wanted.areas) same(mm.area(area), inMm + " mm\u00b2", "area");
  for (const s of wanted.sentences) {
    const told = {...facts.report, verdict: s.verdict};
    told.least_wall = {...told.least_wall, may_be_deeper: s.verdict === "cut-through"};
    const rules = model.makeVerdict({...facts, report: told, basis: "chance"}, mm);
    const now = {
      expected: s.expected,
      worst: s.worst,
      at: s.at,
      chance: {under: 1, through: 0, trials: 20000}
    };
    /* The lead hangs on errors and chance, which the made-up report says otherwise. */
    const plain = t =>
        t.replace(/\u00a0/g, " ").replace(/^Every wall holds[^:]*:/, "Every wall holds:");
    same(plain(rules.sentenceOf(s.verdict, now, s.limit, facts.causes.map(c => c.size))),
         plain(s.text), s.verdict);
  }
  check(wanted.sentences.length >= 7, wanted.sentences.length + " sentences");
  const [first] = Object.keys(facts.in_inches);
  check(inch.sentence(first) !== first && mm.sentence(first) === first, "a sentence in inches");
  same(inch.sentence("nothing of that kind"), "nothing of that kind", "a sentence without lengths");
}

/* Hand-made: an inch is 25.4 mm by definition, a thou its thousandth. */
function typedNumbers() {
  const mm = model.makeTypedNumber(model.makeUnit(false)),
        inch = model.makeTypedNumber(model.makeUnit(true));
  for (const [words, own, wanted] of [
           ["0,6", "mm", 0.6], [".6", "mm", 0.6], ["5/8", "mm", 0.625], ["1 1/2 in", "mm", 38.1],
           ["1-1/2\"", "mm", 38.1], ["2 thou", "mm", 0.0508], ["\u22120.5", "mm", -0.5],
           ["1\u00bd", "mm", 1.5], ["1 cm", "mm", 10], ["30 \u00b5m", "mm", 0.03],
           ["0.4 %", "%", 0.4], ["0.4", "%", 0.4], ["2", "", 2], ["- 3/4", "mm", -0.75]])
    near(mm(words, own), wanted, 1e-12, words);
  near(inch("1/4", "mm"), 6.35, 1e-12, "a quarter in inches");
  near(inch("2 mm", "mm"), 2, 1e-12, "mm beside inches");
  for (const nonsense of ["", "x", "1/0", "1,2,3", "0x1", "1e3", "5 mm mm", "--1"])
    same(mm(nonsense, "mm"), null, nonsense);
}

/* A plane is met by bilinear heights to rounding; a level is a round number. */
function bed() {
  const plane = (x, y) => 0.25 + 0.001 * x - 0.002 * y, values = [];
  for (let j = 0; j < 3; ++j)
    for (let i = 0; i < 4; ++i) values.push(plane(10 + 30 * i, -20 + 15 * j));
  const grid = {box: [10, -20, 100, 10], nx: 4, ny: 3, values};
  for (const [x, y] of [[10, -20], [100, 10], [33, 1], [70.5, -12.25]])
    near(model.bedHeightAt(grid, x, y), plane(x, y), 1e-12, "bed at " + x);
  same(model.bedHeightAt(grid, 9.9, 0), null, "beside the bed");
  same(model.bedHeightAt(grid, 50, 10.1), null, "behind the bed");
  const hole = {...grid, values: values.map((v, k) => k === 5 ? null : v)};
  same(model.bedHeightAt(hole, 41, -4), null, "where nothing was read");
  near(model.bedHeightAt(hole, 12, -19), values[0], 1e-12, "beside it the nearest that was read");
  const levels = model.bedLevels(-0.03, 0.09, model.makeUnit(false));
  same(levels.at.map(v => v.toFixed(levels.places)).join(" "), "-0.02 0.00 0.02 0.04 0.06 0.08",
       "levels");
  same(model.bedLevels(0.1, 0.1, model.makeUnit(false)).at.length, 0, "levels of a flat bed");
  for (const [most, round] of [[7.3, 5], [4.99, 2], [1.99, 1], [0.05, 0.05], [1000, 1000]])
    near(model.roundUnder(most), round, 1e-12 * round, "round under " + most);
}

/* Two triangles of a plate that rises by x / 10, wall 1 mm straight down, at worst 0.4 thinner. */
function section() {
  const at = [0, 0, 0, 40, 0, 4, 40, 30, 4, 0, 30, 0], numbers = {
    at: Float32Array.from(at),
    cells: Uint16Array.from([0, 1, 2, 0, 2, 3]),
    wall: new Float32Array(4).fill(1),
    through: Int8Array.from([0, 0, 127, 0, 0, 127, 0, 0, 127, 0, 0, 127])
  };
  const walls = {
    expected: Float64Array.from([0.9, 0.9, 0.8, 0.8]),
    worst: new Float64Array(4).fill(0.6)
  };
  const cut = model.sectionAlong(numbers, walls, [5, 12], [35, 12]);
  near(cut.length, 30, 1e-9, "length of the cut");
  same(cut.skin.length, 8, "two pieces");
  for (let k = 0; k < cut.skin.length; k += 2) {
    near(cut.skin[k + 1], (cut.skin[k] + 5) / 10, 1e-6, "skin");
    near(cut.pocket[k + 1], cut.skin[k + 1] - 1, 1e-6, "pocket");
    near(cut.worst[k + 1], cut.skin[k + 1] - 0.4, 1e-6, "skin at worst");
  }
  /* y = 12 of 30: 0.9 - 0.1 * 12 / 30; the edge between the triangles lies at x = 16. */
  near(cut.least.wall, 0.86, 1e-6, "least wall on the line");
  near(cut.least.at[0], 16, 1e-5, "where it is");
  same(model.sectionAlong(numbers, walls, [5, 40], [35, 40]).least, null, "beside the plate");
}

const made = join(build, "page_model");
rmSync(made, {recursive: true, force: true});
execFileSync(tests, ["--test-case=fixtures of the page's model hold every kind of cause"],
             {stdio: "inherit"});
const fixtures = readdirSync(made).sort();
check(fixtures.length === 5, fixtures.length + " fixtures");
for (const file of fixtures) {
  const fixture = JSON.parse(readFileSync(join(made, file), "utf8")),
        name = file.replace(".json", "");
  sameWalls(name, fixture);
  verdicts(fixture.facts);
  words(fixture.facts, fixture.words);
  moves(fixture.facts);
}
areas();
typedNumbers();
bed();
section();
for (const f of faults.slice(0, 30)) console.log(f);
console.log(checks + " checks, " + faults.length + " faults");
process.exit(faults.length ? 1 : 0);
