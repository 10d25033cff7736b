"""Where things stand on the page: what to do under the verdict, the piece with the sliders beside it, a
phone page of four screens, nothing shown that is hidden. Sizes are those of common screens, CSS pixels."""

import base64
import subprocess
import tempfile
import tomllib

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


def sides(browser, check, job, report):
    """Views of a side: X to the right and Y away, side B mirrored about the flip line; board, dowels, touch
    point, pad and flip line stand where the job states them."""
    with open(job, "rb") as file:
        told = tomllib.load(file)
    at = told["flip"]["at"]
    corner, size = told["board"]["corner"], told["board"]["size"]
    pad = report["pad"]["at_mm"]
    for side in "ab":
        def seen(x, y):
            return [2 * at - x if side == "b" else x, y]  # the gourd's flip line lies along y
        marks = browser.evaluate(f"facts.marks.{side}")
        board = [seen(*corner), seen(corner[0] + size[0], corner[1] + size[1])]
        wanted = [min(p[0] for p in board), corner[1], max(p[0] for p in board), corner[1] + size[1]]
        check(marks["board"] == wanted, f"side {side}: board {marks['board']}, job {wanted}")
        touch = told[f"side_{side}"].get("touch_point")
        if touch:
            check(marks["touch"] == seen(*touch), f"side {side}: touched at {marks['touch']}, job {touch}")
        pins = marks["dowels"]
        check(len(pins) == 2 and abs(abs(pins[0][0] - pins[1][0]) + abs(pins[0][1] - pins[1][1])
                                     - told["flip"]["dowels"]["spacing"]) < 1e-6, f"side {side}: dowels {pins}")
        check(all(p[0] == at for p in marks["flip"]), f"side {side}: flip line {marks['flip']}")
        spots = [board[0], board[1], *pins, [marks["flip"][0][0], marks["flip"][0][1]], seen(*pad[:2])]
        got = browser.evaluate(f"""(function () {{
          document.querySelector('[data-view={side}]').click(), plan.draw();
          const canvas = document.getElementById('plan'), k = canvas.width / canvas.clientWidth, pen = canvas.getContext('2d');
          const ink = p => {{
            const [x, y] = plan.pixel(p[0], p[1]), d = pen.getImageData(Math.round(x * k) - 6, Math.round(y * k) - 6, 13, 13).data;
            return d.filter((v, i) => i % 4 === 3 && v > 200).length;
          }};
          const p = numbers.at, a = plan.pixel(...{seen(0, 0)}), b = plan.pixel({seen(0, 0)[0]} + 10, 10);
          const s = plan.screenOf(7), t = plan.pixel({'2 * %r - p[21]' % at if side == 'b' else 'p[21]'}, p[22]);
          return {{ink: {spots}.map(ink), right: b[0] - a[0], up: a[1] - b[1], off: Math.hypot(s[0] - t[0], s[1] - t[1])}};
        }})()""")
        check(min(got["ink"][:-1]) > 5, f"side {side}: not all is drawn: {got}")
        check(got["right"] > 5 and abs(got["right"] - got["up"]) < 0.01 and got["off"] < 0.6, f"side {side}: {got}")
    browser.evaluate("document.querySelector('[data-view=a]').click()")
    words = browser.evaluate("document.getElementById('view-hint').textContent")
    for word in ("flip line", "board", "dowel", "witness pad"):
        check(word in words, f"the view does not say what a {word} looks like: {words}")


def scrolling(browser, check, name):
    """The wheel scrolls the page until the piece is clicked, and again after Escape or when the mouse has
    left: what the page does not take is the browser's."""
    browser.evaluate("document.querySelector('[data-view=solid]').click();"
                     "document.getElementById('solid').scrollIntoView({block: 'center', behavior: 'instant'})")
    x, y = browser.evaluate("(b => [b.left + 30, b.top + 30])(document.getElementById('solid').getBoundingClientRect())")

    def wheel():
        return browser.evaluate("""(function () {
          const far = () => (solid.drawNow(), Math.hypot(...[0, 1].map(a => solid.screenOf(0)[a] - solid.screenOf(numbers.n >> 1)[a])));
          const before = far(), free = document.getElementById('solid').dispatchEvent(
            new WheelEvent('wheel', {deltaY: -60, cancelable: true, bubbles: true}));
          return [free, Math.abs(far() / before - 1) > 0.01];
        })()""")
    check(wheel() == [True, False], f"{name}: the wheel does not scroll the page")
    for way in ("Escape", "the mouse that left"):
        browser.click(x, y)
        check(wheel() == [False, True], f"{name}: the wheel does not zoom after a click")
        if way == "Escape":
            browser.key("Escape")
        else:
            browser.call("Input.dispatchMouseEvent", {"type": "mouseMoved", "x": 2, "y": 2})
        check(wheel() == [True, False], f"{name}: {way} does not give the wheel back")
    browser.evaluate("solid.home()")


def swipe(browser, check, name):
    """One finger up and down over the piece moves the page, and the hint says so."""
    browser.evaluate("document.getElementById('stage').scrollIntoView({block: 'center', behavior: 'instant'})")
    x, y = browser.evaluate("(b => [b.left + b.width / 2, b.top + b.height / 2])(document.getElementById('solid').getBoundingClientRect())")
    before = browser.evaluate("scrollY")
    browser.call("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for k in range(1, 8):
        browser.call("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [{"x": x, "y": y - 25 * k}]})
    browser.call("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    after = browser.evaluate("scrollY")
    check(after - before > 80, f"{name}: a swipe over the piece moves the page by {after - before}")
    check("up and down scrolls" in browser.evaluate("hints.solid")
          or not browser.evaluate("matchMedia('(pointer: coarse)').matches"), f"{name}: the hint does not say so")


def printed(browser, check, name, words, papers=(("A4", 8.27, 11.69), ("letter", 8.5, 11))):
    """Two sheets of paper at most, with the verdict, the changes and the places on them."""
    for paper, width, height in papers:
        data = browser.call("Page.printToPDF", {"paperWidth": width, "paperHeight": height})["data"]
        with tempfile.NamedTemporaryFile(suffix=".pdf") as file:
            file.write(base64.b64decode(data))
            file.flush()
            told = subprocess.run(["pdftotext", "-layout", file.name, "-"], check=True, capture_output=True,
                                  text=True).stdout
        pages = told.count("\f")
        check(0 < pages <= 2, f"{name}: {pages} pages of {paper}")
        said = " ".join(told.split())
        for word in words:
            check(word in said, f"{name}: '{word}' is not printed on {paper}")


def unstated(browser, check, report):
    """What no one stated can be tried from nothing and is no row of what moves the wall."""
    new = browser.evaluate("""causes.map((c, k) => ({name: c.name, stated: c.stated, low: c.slider[0], size: state.sizes[k]}))
      .filter(c => !c.stated)""")
    for name in ("sanding, side A", "touch plate, side A", "resin pulls board hollow", "sideways overcut of bit, side B",
                 "tip height of bit, side A", "machine out of square", "flip line"):
        check(any(c["name"] == name and c["size"] == 0 for c in new), f"{name} cannot be tried")
    below = browser.evaluate("causes.filter(c => c.slider[0] < 0).map(c => c.name)")
    check(below and all(n.startswith("touch plate") for n in below), f"less than nothing can be tried of {below}")
    rows = browser.evaluate("document.querySelectorAll('#budget-rows tr').length")
    check(rows == len(report["causes"]), f"{rows} causes are shown, {len(report['causes'])} are stated")
    words = browser.evaluate("document.getElementById('not-here').textContent")
    check("uneven board" in words and "leastwall.html" in words, f"what cannot be tried here: {words}")
