"""The section along a line that is drawn over the plan, and the plan seen from nearer."""

import json
import time


def section(browser):
    """What the page shows of the section: title, caption, size of the drawing; none where it is shut."""
    return json.loads(browser.evaluate("""JSON.stringify((function () {
      const f = document.getElementById('line-figure'), svg = f.querySelector('svg');
      const words = id => document.getElementById(id).textContent.replace(/\\s/g, ' ');
      return f.checkVisibility() ? { title: words('line-title'), caption: words('line-caption'),
        width: svg && Number(svg.getAttribute('width')), height: svg && Number(svg.getAttribute('height')),
        least: lineCut.least && lineCut.least.wall, at: lineCut.least && lineCut.least.at, line: lineCut.line } : null;
    })())"""))


def settled(browser, ready):
    """Whatever a slider started is computed."""
    browser.evaluate("new Promise(done => requestAnimationFrame(() => setTimeout(done, 0)))")
    browser.wait(ready, 60)


def drag(browser, canvas, start, end):
    """A line drawn with the mouse, in pixels of the canvas."""
    left, top = browser.evaluate(f"""(function () {{
      const b = document.getElementById('{canvas}').getBoundingClientRect(); return [b.left, b.top]; }})()""")
    points = [start, [(start[0] + end[0]) / 2, (start[1] + end[1]) / 2], end]
    for k, (x, y) in enumerate(points):
        kind = "mousePressed" if k == 0 else "mouseMoved"
        browser.call("Input.dispatchMouseEvent", {"type": kind, "x": left + x, "y": top + y, "button": "left",
                                                  "buttons": 1, "clickCount": 1})
    browser.call("Input.dispatchMouseEvent", {"type": "mouseReleased", "x": left + points[-1][0], "y": top + points[-1][1],
                                              "button": "left", "buttons": 0, "clickCount": 1})
    time.sleep(0.2)


# The least expected wall over all places where cells of the skin cross the upright plane through p and q, found
# by halving the crossing edges rather than by the rule of three.
BY_HALVING = """(function (p, q) {
  const at = numbers.at, c = numbers.cells, length = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const ux = (q[0] - p[0]) / length, uy = (q[1] - p[1]) / length;
  let least = Infinity;
  const value = (a, b, f) => [0, 1, 2].map(k => at[3 * a + k] * (1 - f) + at[3 * b + k] * f).concat(wallsNow.expected[a] * (1 - f) + wallsNow.expected[b] * f);
  const off = v => ux * (v[1] - p[1]) - uy * (v[0] - p[0]), along = v => ux * (v[0] - p[0]) + uy * (v[1] - p[1]);
  for (let k = 0; k < c.length; ++k) {
    const a = c[k], b = c[k %% 3 === 2 ? k - 2 : k + 1], low = off(value(a, b, 0)), high = off(value(a, b, 1));
    if (low * high > 0) continue;
    let from = 0, to = 1;
    for (let n = 0; n < 60; ++n) { const m = (from + to) / 2; if ((off(value(a, b, m)) > 0) === (low > 0)) from = m; else to = m; }
    const v = value(a, b, from), t = along(v);
    if (t >= 0 && t <= length) least = Math.min(least, v[3]);
  }
  return least;
})(%s, %s)"""


def line_cut(browser, check, ready, name):
    """Cut along x, along y and along a line that is drawn; the section follows sliders and units."""
    browser.evaluate("document.getElementById('reset').click(); document.querySelector('[data-view=solid]').click()")
    browser.wait(ready, 60)
    check(not browser.evaluate("document.getElementById('line-draw').checkVisibility()"), f"{name}: lines are offered over the solid")
    browser.evaluate("document.querySelector('[data-view=a]').click(); state.goTo(wallsNow.thinnest, 'Thinnest place');"
                     "document.getElementById('stage').scrollIntoView({block: 'center', behavior: 'instant'})")
    check(section(browser) is None, f"{name}: a section before any line")
    browser.evaluate("document.querySelector('[data-cut=x]').click()")
    seen, least = section(browser), browser.evaluate("wallsNow.leastExpected")
    # The line passes through the sample with the least wall of all.
    check(abs(seen["least"] - least) < 1e-6, f"{name}: least on the line along x {seen['least']}, not {least}")
    check(f"{least:.3f} mm" in seen["caption"] and "follows the sliders" in seen["caption"], f"{name}: {seen['caption']}")
    check(seen["width"] > 900, f"{name}: the section is {seen['width']} px wide: half a millimetre is not seen")
    drawn = browser.evaluate("document.querySelectorAll('#line-scroll path').length")
    check(drawn == 6, f"{name}: {drawn} lines in the section")
    # Typed into the limit and the sanding, it follows.
    browser.evaluate("""(function () {
      const row = [...document.querySelectorAll('.slider')].find(r => r.querySelector('b').textContent.startsWith('sanding, side B'));
      const box = row.querySelector('input[type=text]'); box.value = '0.25'; box.dispatchEvent(new Event('input', { bubbles: true })); })()""")
    settled(browser, ready)
    now = section(browser)
    check(abs(now["least"] - browser.evaluate("wallsNow.leastExpected")) < 1e-6 and now["least"] < seen["least"] - 0.1,
          f"{name}: with more sanding the line tells {now['least']}")
    browser.evaluate("document.getElementById('reset').click()")
    settled(browser, ready)
    browser.evaluate("document.querySelector('[data-cut=y]').click()")
    check(abs(section(browser)["least"] - least) < 1e-6, f"{name}: least on the line along y")
    # A line drawn across: its ends lie where the mouse was, on both sides of the board.
    for view in ("a", "b"):
        browser.evaluate(f"document.querySelector('[data-view={view}]').click(); document.getElementById('line-draw').click();"
                         "document.getElementById('stage').scrollIntoView({block: 'center', behavior: 'instant'})")
        size = browser.evaluate("[document.getElementById('plan').clientWidth, document.getElementById('plan').clientHeight]")
        start, end = [0.3 * size[0], 0.3 * size[1]], [0.7 * size[0], 0.62 * size[1]]
        wanted = browser.evaluate(f"[plan.placeAt({start[0]}, {start[1]}), plan.placeAt({end[0]}, {end[1]})]")
        drag(browser, "plan", start, end)
        cut = section(browser)
        check(cut is not None, f"{name}, {view}: no section of the line that was drawn")
        off = max(abs(a - b) for p, q in zip(cut["line"], wanted) for a, b in zip(p, q))
        check(off < 1, f"{name}, {view}: the line ends {off:.2f} mm beside the mouse")
        exact = browser.evaluate(BY_HALVING % (cut["line"][0], cut["line"][1]))
        check(abs(cut["least"] - exact) < 1e-6, f"{name}, {view}: least on the line {cut['least']}, by halving {exact}")
        check(browser.evaluate("!lineCut.drawing"), f"{name}, {view}: still drawing")
    here = browser.evaluate("state.here === wallsNow.thinnest")
    check(here, f"{name}: drawing a line read another place")
    wide = section(browser)["width"]
    browser.evaluate("document.getElementById('line-near').click()")
    check(abs(section(browser)["width"] - 2 * wide) < 1, f"{name}: nearer makes {section(browser)['width']} of {wide}")
    browser.evaluate("document.querySelector('[data-unit=inch]').click()")
    check(" in (" in section(browser)["caption"] or " in " in section(browser)["caption"], f"{name}: {section(browser)['caption']}")
    browser.evaluate("document.querySelector('[data-unit=mm]').click(); document.getElementById('line-close').click()")
    check(section(browser) is None, f"{name}: the section did not close")


def nearer(browser, check, name):
    """The plan is seen from nearer, about the place that is read; a tap reads what is seen there."""
    browser.evaluate("document.querySelector('[data-view=a]').click(); state.goTo(wallsNow.thinnest, 'Thinnest place');"
                     "document.getElementById('stage').scrollIntoView({block: 'center', behavior: 'instant'})")
    apart = "(function () { const a = plan.pixel(0, 0), b = plan.pixel(10, 0); return b[0] - a[0]; })()"
    before = browser.evaluate(apart)
    browser.evaluate("document.getElementById('plan-near').click(); document.getElementById('plan-near').click()")
    check(abs(browser.evaluate(apart) / before - 4) < 0.01, f"{name}: twice nearer is {browser.evaluate(apart) / before} times")
    at = browser.evaluate("(function () { const s = plan.screenOf(state.here), c = document.getElementById('plan');"
                          "return [s[0] - c.clientWidth / 2, s[1] - c.clientHeight / 2]; })()")
    check(max(abs(v) for v in at) < 2, f"{name}: the place lies {at} px off the middle")
    browser.evaluate("document.getElementById('plan-far').click(); document.getElementById('plan-far').click()")
    check(browser.evaluate("document.getElementById('plan-far').disabled"), f"{name}: farther than the whole")
    check(abs(browser.evaluate(apart) - before) < 1e-6, f"{name}: not back to the whole")
