"""Where things stand on the page: what to do under the verdict, the piece with the sliders beside it, a
phone page of four screens, nothing shown that is hidden. Sizes are those of common screens, CSS pixels."""

PHONE, DESK, WIDE = (390, 844), (1280, 900), (1920, 1080)


def boxes(browser, *ids):
    """Left, top, right, bottom on the page of each; nothing for what is not shown."""
    return browser.evaluate("""%s.map(id => {
      const e = document.getElementById(id), b = e.getBoundingClientRect();
      return e.checkVisibility({visibilityProperty: true}) ? [b.left, b.top + scrollY, b.right, b.bottom + scrollY] : null;
    })""" % list(ids))


def order(browser, check, name):
    """Verdict, the best changes, the piece; the accepted chance beside the chance."""
    at = boxes(browser, "verdict", "advice", "look", "places", "rest")
    check(all(at) and [b[1] for b in at] == sorted(b[1] for b in at), f"{name}: not in this order: {at}")
    check(at[1][1] - at[0][3] < 20, f"{name}: the changes do not stand right under the verdict")
    count = browser.evaluate("[document.querySelectorAll('#advice li').length, whole.advice.length]")
    check(count[0] == min(2, count[1]), f"{name}: {count} changes")
    check("you accept 1 in 20" in browser.evaluate("document.getElementById('figure-chance').textContent"),
          f"{name}: the accepted chance is not beside the chance")
    # Whatever is marked hidden is hidden, whatever else its style says.
    seen = browser.evaluate("""[...document.querySelectorAll('[hidden]')].filter(e => e.checkVisibility()).map(e => e.id)""")
    check(not seen, f"{name}: shown though hidden: {seen}")


def room(browser, check, name):
    """The piece whole on a desktop with sliders beside it; four screens on a phone; one left edge."""
    browser.size(*DESK)
    stage, first = boxes(browser, "stage", "slider-1")
    second = browser.evaluate("document.querySelector('#sliders .slider:nth-child(2)').getBoundingClientRect().bottom + scrollY")
    check(stage[3] <= DESK[1] and stage[3] - stage[1] > 300, f"{name}: the piece lies at {stage}")
    check(second <= DESK[1] and first[0] > stage[2], f"{name}: sliders at {first}, {second}")
    rows = browser.evaluate("new Set([...document.querySelectorAll('.tools button')].filter(e => e.checkVisibility())"
                            ".map(e => e.getBoundingClientRect().top)).size")
    check(rows == 1, f"{name}: the view's buttons take {rows} rows")
    edges = browser.evaluate("""(function () {
      const p = facts.box, all = [];
      for (let k = 0; k < 8; ++k) all.push([0, 1, 2].map(a => p[k >> a & 1][a]));
      solid.drawNow();
      const n = numbers.n, seen = [];
      for (let i = 0; i < n; i += 1 + (n / 2000 | 0)) seen.push(solid.screenOf(i));
      const s = document.getElementById('solid');
      return [Math.min(...seen.map(q => q[0])), Math.min(...seen.map(q => q[1])),
        s.clientWidth - Math.max(...seen.map(q => q[0])), s.clientHeight - Math.max(...seen.map(q => q[1]))];
    })()""")
    check(min(edges) > 0, f"{name}: the piece hangs out of its view: {edges}")
    browser.size(*WIDE)
    left = browser.evaluate("['h1', '#verdict', '#theme', '#places'].map(q => document.querySelector(q).getBoundingClientRect())"
                            ".map(b => [b.left, b.right])")
    check(abs(left[0][0] - left[1][0]) < 1 and abs(left[2][1] - left[3][1]) < 1, f"{name}: edges {left}")
    browser.size(*PHONE, 2, True)
    tall = browser.evaluate("document.documentElement.scrollHeight")
    check(tall <= 4 * PHONE[1], f"{name}: the phone page has {tall} px, {tall / PHONE[1]:.2f} screens")
    order(browser, check, name + ", phone")
    browser.size(*DESK)


def in_frame(browser, check, page, ready):
    """In the frame of the check in a browser the verdict is not said again until a slider is moved."""
    named = browser.call("Page.addScriptToEvaluateOnNewDocument", {"source": "window.name = 'leastwall'"})
    browser.open(page)
    browser.wait(ready, 60)
    browser.call("Page.removeScriptToEvaluateOnNewDocument", named)
    check([bool(b) for b in boxes(browser, "verdict", "advice", "look")] == [False, False, True],
          "in a frame the verdict is said again")
    browser.evaluate("document.getElementById('slider-1').focus()")
    browser.key("ArrowRight")
    browser.wait("document.getElementById('verdict').checkVisibility()", 20)
