/* The wall cut through, upright and along its own direction: for the places that come with a section. */
let sectionOpen = false; /* as it was left at the place before */
function showSection(body, at, drawn, worst) {
  const s = facts.sections.find(k => Math.hypot(k.at[0] - at[0], k.at[1] - at[1], k.at[2] - at[2]) <
                                     0.05);
  if (!s) return;
  const fold = put(body, "details", null, {class: "cut"}), px = s.height / 220;
  fold.open = sectionOpen;
  fold.addEventListener("toggle", () => { sectionOpen = fold.open; });
  put(fold, "summary", "Section");
  const figure = put(fold, "figure");
  const svg = svgIn(figure, "svg", {
    viewBox: [-s.width / 2, -s.height / 2, s.width, s.height].join(" "),
    role: "img",
    "aria-label": "The wall here cut through: " + text.wallWords(drawn, state.limit) +
                      " as drawn, at worst " + text.wallWords(worst, state.limit)
  });
  const line = (points, colour, width, by) => {
    let d = "";
    for (let k = 0; k < points.length; k += 4)
      d += "M" + (points[k] + by * s.out[0]) + " " + -(points[k + 1] + by * s.out[1]) + "L" +
           (points[k + 2] + by * s.out[0]) + " " + -(points[k + 3] + by * s.out[1]);
    svgIn(svg, "path",
          {d: d, fill: "none", stroke: colour, "stroke-width": width, "stroke-linecap": "round"});
  };
  line(s.pocket, "#fadea0", 2 * state.limit, 0);
  line(s.skin, "#aa2800", 1.2 * px, worst - drawn);
  line(s.pocket, "#0046a0", 2.5 * px, 0);
  line(s.skin, "#000", 2.5 * px, 0);
  line(s.ends, "#aa2800", 2 * px, 0);
  put(figure, "figcaption",
      "Cut upright through this place, " + text.axis(s.width) + " " + unit.name +
          " wide. Black: " + s.outer + "; blue: " + s.inner + "; shaded: within the limit of the " +
          s.inner + ", where no " + s.outer + " may lie; thin red: the " + s.outer +
          " as near as errors bring it here.",
      {class: "hint"});
}
