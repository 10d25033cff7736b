/* From here on the page is the scripts'. In the frame of the check in a browser the verdict stands
   above already, until a slider is moved. */
root.classList.add("js");
root.classList.toggle("framed", window.name === "leastwall");
document.querySelectorAll(".still").forEach(e => e.remove());
setUnit(facts.inches);

const wantsDark = window.matchMedia("(prefers-color-scheme: dark)");
function setTheme(theme) {
  root.dataset.theme = theme;
  by("theme").textContent = theme === "dark" ? "Light" : "Dark";
  plan.draw();
  bedPlan.draw();
}
setTheme(wantsDark.matches ? "dark" : "light");
wantsDark.addEventListener("change", e => setTheme(e.matches ? "dark" : "light"));
by("theme").addEventListener("click",
                             () => setTheme(root.dataset.theme === "dark" ? "light" : "dark"));

setView(solid ? "solid" : "a");
compute();
if (solid) solid.face(state.here);
by("bed-more").addEventListener("toggle", bedPlan.draw);
let resizing = 0;
new ResizeObserver(function() {
  clearTimeout(resizing);
  resizing = setTimeout(function() {
    plan.resize();
    bedPlan.draw();
    if (solid) solid.draw();
  }, 80);
}).observe(by("stage"));
