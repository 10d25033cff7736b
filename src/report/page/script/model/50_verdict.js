/* What the walls, the limit and the trials come to. `walls` as model/30_walls.js computes them;
   `chance`: {under, through, trials} in counts, null while it is counted. */
function makeVerdict(facts, text) {
  /* No slider mends a mesh. */
  const unproven = facts.report.verdict === "unproven";
  const judged = limit => limitAsJudged(facts, limit);

  /* Null while it hangs on a count that is not there yet. */
  function computedVerdict(walls, limit, chance) {
    if (unproven) return "unproven";
    if (walls.leastExpected <= 0) return "cut-through";
    if (walls.leastExpected < judged(limit)) return "thin";
    if (facts.basis === "worst-case") return walls.leastWorst >= judged(limit) ? "safe" : "at-risk";
    if (!chance) return null;
    const accepted = Math.floor(facts.accepted_chance * chance.trials * (1 + 4e-16));
    return chance.under <= accepted ? "safe" : "at-risk";
  }

  /* The row of the table of headlines, by the rule of the program's `headline_key`. `now`: least
     walls and shares of the trials as shown, {expected, worst, at, chance}. */
  function headlineKey(verdict, now, limit, sizes) {
    const byChance = facts.basis === "chance";
    if (verdict === "safe") {
      if (!facts.causes.some((c, k) => c.distribution !== "shift" && sizes[k] > 0))
        return "safe-as-drawn";
      const atWorst = now.chance && now.chance.under <= 0 && now.worst >= judged(limit);
      return !byChance || atWorst ? "safe-at-worst" : "safe-by-chance";
    }
    return verdict === "at-risk" ? (byChance ? "at-risk-by-chance" : "at-risk-at-worst") : verdict;
  }

  /* The large words and what they rest on. */
  function headlineOf(verdict, now, limit, sizes) {
    const h = facts.headlines[headlineKey(verdict, now, limit, sizes)], chance = now.chance;
    return {
      banner: facts.of_job ? "THIS WALL: " + h.banner.replace(/^EVERY WALL /, "") : h.banner,
      lead: h.lead,
      ground: text.filled(h.ground, {
        pieces: chance ? text.pieces(chance.under, chance.trials) : "\u2026",
        accepted: text.odds(facts.accepted_chance),
        finding: text.sentence(facts.finding)
      })
    };
  }

  /* A depth whose search was cut short is a lower bound, whatever the sliders say. */
  const atLeast = facts.report.least_wall.may_be_deeper ? facts.words.at_least : "";

  function sentenceOf(verdict, now, limit, sizes) {
    const key = verdict === "at-risk" && !(now.worst > 0)       ? "at-risk-through"
                : verdict === "unproven" && !(now.expected > 0) ? "unproven-cut"
                                                                : verdict;
    return text.filled(facts.words.sentences[key], {
      lead: headlineOf(verdict, now, limit, sizes).lead,
      least: text.walls(now.expected, limit),
      deep: atLeast + text.walls(Math.max(0, -now.expected), Infinity),
      worst: text.walls(Math.abs(now.worst), now.worst > 0 ? limit : Infinity),
      where: text.placeLine(...now.at),
      limit: text.walls(limit, limit)
    });
  }
  return {unproven, atLeast, computedVerdict, headlineOf, sentenceOf};
}
