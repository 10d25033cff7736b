/* The witness pad and the bed in words. */
function showPad() {
  const pad = facts.report.pad;
  by("pad").hidden = !pad;
  if (!pad) return;
  const under = z => text.walls(facts.report.meshes.top_z_mm - z, Infinity), size = pad.size_mm,
        hopeless = pad.not_cut !== undefined;
  by("pad-row").hidden = hopeless;
  if (hopeless) {
    by("pad-cut").textContent = pad.not_cut;
    by("pad-read").textContent = "";
    return;
  }
  by("pad-cut").textContent =
      "Cut a flat pad in the waste with the same two programs, " + Number(text.axis(size)) +
      " by " + Number(text.axis(size)) + " " + unit.name + ", its middle at " +
      text.placeLine(pad.at_mm[0], pad.at_mm[1]) + ": pocket floor " + under(pad.floor_z_mm) +
      " and skin " + under(pad.skin_z_mm) + " under the pocket face, so " +
      text.walls(pad.design_mm, Infinity) + " thick.";
  by("pad-read").textContent =
      "Stop before side B is finished and measure it. It should read " +
      text.walls(pad.should_read_mm, Infinity) + "; under " +
      text.walls(Math.max(0, pad.between_mm[0]), Infinity) + " or over " +
      text.walls(pad.between_mm[1], Infinity) +
      " something else is wrong. Z shift = " + text.length(pad.design_mm) +
      " \u2212 reading; with it typed in the verdict for the set-up as stated is " +
      facts.words.verdicts[pad.verdict] + ".";
  padField.unitChanged();
  showShift();
}
function showShift() {
  const pad = facts.report.pad, read = state.padReading, out = by("pad-shift");
  if (read === null || pad.not_cut !== undefined) out.textContent = "";
  else if (read <= 0 || read < pad.between_mm[0] || read > pad.between_mm[1])
    out.textContent = "The stated errors cannot explain that: stop and find what is wrong.";
  else {
    const shift = pad.design_mm - read, words = text.length(Math.abs(shift));
    out.textContent =
        Number(words) === 0
            ? "No shift needed."
            : "Type in a Z shift of " + (shift > 0 ? "+" : "\u2212") + words + " " + unit.name +
                  ": " + (shift > 0 ? "bit higher, wall thicker." : "bit lower, wall thinner.");
  }
}
state.padReading = facts.report.pad && facts.report.pad.reading_mm !== undefined
                       ? facts.report.pad.reading_mm
                       : null;
const padField = typed.field(by("pad-reading"), by("pad-note"), {
  own: "mm",
  low: 1e-6,
  high: Infinity,
  name: "The reading",
  empty: true,
  use: function(v) {
    state.padReading = v;
    showShift();
  }
});
padField.show(state.padReading);

function showBed() {
  const bed = facts.bed, words = by("bed-words");
  by("bed-shown").hidden = !bed.readings;
  const what = "The bed is the spoilboard the work lies on. ";
  if (!bed.readings) {
    words.textContent = what +
                        (bed.count ? "Fewer than three readings of the bed were given"
                                   : "No readings of the bed were given") +
                        (bed.flatness !== undefined
                             ? ", only that it is flat within " + text.walls(bed.flatness, Infinity)
                             : "") +
                        ": there is no map of it to draw.";
    return;
  }
  const at = r => text.walls(r[2], Infinity) + " at " + text.placeLine(r[0], r[1]);
  words.textContent = what + bed.count + " readings: flat within " +
                      text.walls(bed.highest[2] - bed.lowest[2], Infinity) + " as they stand, " +
                      text.walls(bed.zone, Infinity) + " with the tilt taken out. Highest " +
                      at(bed.highest) + ", lowest " + at(bed.lowest) + ".";
  by("bed-plan")
      .setAttribute("aria-label", "The bed from above, coloured by height. " + words.textContent);
  const rows = by("bed-rows");
  rows.textContent = "";
  for (const r of bed.readings) {
    const row = put(rows, "tr");
    put(row, "td", text.axis(r[0]), {class: "n", "data-label": "x"});
    put(row, "td", text.axis(r[1]), {class: "n", "data-label": "y"});
    put(row, "td", text.length(r[2]), {class: "n", "data-label": "height, " + unit.name});
  }
}
