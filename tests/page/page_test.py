#!/usr/bin/env python3
"""The page in a headless Chromium: page_test.py PROGRAM WORK_FOLDER [AXE.js [MESH_MAKER]]

Numbers are compared with what the program itself finds for a changed job, contrast with WCAG 2.1
(success criteria 1.4.3 and 1.4.11), names with the browser's own accessibility tree."""

import json
import os
import re
import shutil
import subprocess
import sys
import time

from browser import Browser, serious_faults, shown
from page_cut import line_cut, nearer
from page_layout import in_frame, order, printed, room, scrolling, sides, swipe, unstated

PROGRAM, WORK = sys.argv[1], sys.argv[2]
AXE = sys.argv[3] if len(sys.argv) > 3 and os.path.exists(sys.argv[3]) else None
MESH_MAKER = sys.argv[4] if len(sys.argv) > 4 else None
# On two idle cores, software 3D and all, a browser that is already running shows pages within 2 s; a
# busy machine gets more.
MOST_SECONDS = 40
READY = "document.getElementById('verdict').getAttribute('aria-busy') === 'false'"
faults = []


def check(good, what):
    if not good:
        faults.append(what)
        print("FAULT:", what)


def near(got, wanted, within, what):
    check(abs(got - wanted) <= within, f"{what}: page {got}, program {wanted}")


def run_check(job, out):
    done = subprocess.run([PROGRAM, "check", job, "--out", out, "--quiet"], check=False,
                          capture_output=True, text=True)
    if done.returncode not in (0, 1):
        raise SystemExit(f"{PROGRAM} check {job}: status {done.returncode}: {done.stderr}")
    with open(os.path.join(out, "check.json"), encoding="utf-8") as file:
        return json.load(file)


def start(piece):
    folder = os.path.join(WORK, piece)
    subprocess.run([PROGRAM, "start", folder, "--all", "--piece", piece], check=True,
                   stdout=subprocess.DEVNULL)
    return folder


def changed_job(folder, piece, changes):
    """Job text with a key of a table given another value; the key must be there, with # as a comment."""
    with open(os.path.join(folder, piece + ".toml"), encoding="utf-8") as file:
        text = file.read()
    for table, key, value in changes:
        head = "" if table is None else re.escape(f"[{table}]") + r"\n(?:(?!\n\[).)*?\n"
        text, count = re.subn(rf"(?s)({head}|\A.*?\n){re.escape(key)} = [^\n]*\n" if table is None
                              else rf"(?s)({head}){re.escape(key)} = [^\n]*\n",
                              lambda m: f"{m.group(1)}{key.lstrip('#')} = {value}\n", text, count=1)
        if count != 1:
            raise SystemExit(f"{piece}.toml: no key {key} in {table}")
    path = os.path.join(folder, piece + "_changed.toml")
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    return path


def open_page(browser, path):
    browser.open(path)
    browser.wait(READY, 60)


def open_timed(browser, path, name, times=("again",)):
    """Wall time from the start of the navigation until the piece is in 3D on the screen, with
    verdict and walls (`shown`), and until the trials are counted as well."""
    # Reading a pixel back waits for the picture; it costs what it finds still to be done.
    browser.call("Page.addScriptToEvaluateOnNewDocument", {"source": """
      new PerformanceObserver(list => {
        if (!list.getEntriesByName('drawn').length || performance.getEntriesByName('shown').length) return;
        const gl = document.getElementById('solid').getContext('webgl');
        gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
        performance.mark('shown');
      }).observe({entryTypes: ['mark']});"""})
    for time in times: # the first of all waits for the browser itself
        open_page(browser, path)
        marks = browser.evaluate("""Object.fromEntries(performance.getEntriesByType('mark')
          .map(m => [m.name, m.startTime / 1000]))""")
        check("shown" in marks and "counted" in marks, f"{name}: no picture was finished: {marks}")
        print(f"{name}, {time}: shown after {marks['shown']:.2f} s, all counted after "
              f"{marks['counted']:.2f} s; "
              f"{os.path.getsize(path) / 1e6:.2f} MB; load average {os.getloadavg()[0]:.1f}")
    check(marks["shown"] < MOST_SECONDS, f"{name}: {marks['shown']:.2f} s until it is shown")


def own_trials(browser):
    """The trials run by the page itself, also where it shows the program's count."""
    return browser.evaluate("""new Promise(done => trials.run(state.sizes, judged(state.limit), done))""", 120)


def in_order(effects, report):
    """The page's causes in the order of the report, told apart by name and side; what the report does not
    have stands behind."""
    left, out = list(effects), []
    for cause in report["causes"]:
        found = next((e for e in left if e["name"].startswith(cause["name"])
                      and ("side " not in e["name"] or "side " + cause.get("side", "") in e["name"])), None)
        if found:
            left.remove(found)
            out.append(found)
    return out + left


def compare(browser, report, name):
    """The page's numbers are the program's."""
    page = browser.evaluate("({expected: wallsNow.leastExpected, worst: wallsNow.leastWorst,"
                            " area: wallsNow.areaExpected, risk: wallsNow.areaWorst,"
                            " verdict: document.getElementById('verdict').dataset.verdict})")
    page.update(own_trials(browser))
    near(page["expected"], report["least_wall"]["expected_mm"], 0.001, name + ", expected")
    near(page["worst"], report["least_wall"]["worst_mm"], 0.001, name + ", worst case")
    # A page that says that thin areas are read from fewer places may be a tenth off.
    part = 0.1 if browser.evaluate("facts.thin_merged") else 0.01
    near(page["area"], report["area_under_limit_mm2"],
         0.5 + part * report["area_under_limit_mm2"], name + ", area")
    near(page["risk"], report["area_at_risk_mm2"], 0.5 + part * report["area_at_risk_mm2"],
         name + ", area at worst")
    check(page["verdict"] == report["verdict"],
          f"{name}: verdict {page['verdict']}, program {report['verdict']}")
    trials = report["chance"]["trials"]
    near(page["under"], report["chance"]["under_limit"] * trials, 10, name + ", trials under limit")
    near(page["through"], report["chance"]["cut_through"] * trials, 10, name + ", trials through")
    print(f"{name}: {page}")
    effects = browser.evaluate("""causes.map(function (c, k) {
      const e = effectOf(k, state.sizes, wallsNow.thinnest);
      return {name: c.name, moves: c.distribution === 'shift' ? e.shift : e.half, counts: c.stated || state.sizes[k]};
    }).filter(e => e.counts)""")
    effects = in_order(effects, report)
    check(len(effects) == len(report["causes"]), f"{name}: {len(effects)} causes on the page")
    for effect, cause in zip(effects, report["causes"]):
        near(effect["moves"], cause["at_thinnest_mm"], 0.001, f"{name}, {effect['name']}")


def here_rows(browser, report, name):
    """What is read at the thinnest place is what the program says about it, cause by cause."""
    browser.evaluate("state.goTo(wallsNow.thinnest, 'Thinnest place')")
    rows = browser.evaluate("""[...document.querySelectorAll('#here .effect')].map(e =>
      [e.children[0].textContent, e.children[1].textContent])""")
    names = [e["name"] for e in in_order(browser.evaluate("causes.map(c => ({name: c.name}))"), report)]
    # One-sided errors have a shift and a spread; the program tells the spread.
    wanted = {n: c["at_thinnest_mm"] for n, c in zip(names, report["causes"])}
    check(len(rows) >= min(7, sum(abs(v) >= 0.001 for v in wanted.values())),
          f"{name}: only {len(rows)} causes are shown")
    for cause, words in rows:
        number = re.search(r"([+\u2212\u00b1])([0-9.]+)\u00a0?\s*mm$", words)
        check(bool(number), f"{name}: {cause} reads {words}")
        if number:
            value = float(number.group(2)) * (-1 if number.group(1) == "\u2212" else 1)
            near(value, wanted[cause], 0.001, f"{name}: shown for {cause}")


def thin_places(browser, report, name):
    """At every thin place the page has a sample with the program's walls."""
    check(len(report["regions"]) > 0, f"{name}: no thin place to compare")
    for k, region in enumerate(report["regions"]):
        x, y, z = region["at_mm"]
        walls = browser.evaluate(f"""(function () {{
          const i = nearestSample({x}, {y}, {z});
          return [wallsNow.expected[i], wallsNow.worst[i]];
        }})()""")
        near(walls[0], region["least_wall_mm"], 0.001, f"{name}, place {k + 1}, expected")
        # The worst of a region may lie beside its thinnest place, never above what is there.
        check(walls[1] >= region["worst_mm"] - 0.001,
              f"{name}, place {k + 1}, worst: page {walls[1]}, program {region['worst_mm']}")


def set_slider(browser, name, value):
    """Moves the slider of that name; the page rounds to its step, so the box sets the rest."""
    good = browser.evaluate(f"""(function () {{
      const row = [...document.querySelectorAll('.slider')].find(
        r => r.querySelector('b').textContent === {json.dumps(name)});
      if (!row) return false;
      const box = row.querySelector('input[type=text]');
      box.value = {value};
      box.dispatchEvent(new Event('input', {{bubbles: true}}));
      return true;
    }})()""")
    check(good, f"no slider is named {name}")


def no_complaints(browser, path, name):
    for event in browser.events:
        kind, data = event["method"], event.get("params", {})
        if kind == "Runtime.exceptionThrown":
            check(False, f"{name}: {data['exceptionDetails']}")
        elif kind == "Runtime.consoleAPICalled" and data["type"] in ("error", "warning", "assert"):
            check(False, f"{name}: console: {data['args']}")
        elif kind == "Log.entryAdded" and data["entry"]["level"] == "error":
            check(False, f"{name}: {data['entry']['text']}")
        elif kind == "Network.requestWillBeSent":
            url = data["request"]["url"]
            own = url == "file://" + os.path.abspath(path)
            check(own or url.startswith(("data:", "blob:")), f"{name}: asks for {url[:80]}")


def layout(browser, name):
    """Nothing hangs out at the side, nothing lies over anything else."""
    wide = browser.evaluate("document.documentElement.scrollWidth - innerWidth")
    check(wide <= 0, f"{name}: {wide} px wider than the screen")
    over = browser.evaluate("""(function () {
      const all = [...document.querySelectorAll('h1, h2, button, select, input, p, dt, dd, li, td, th, label, #stage, #scale-bar')]
        .filter(e => e.checkVisibility({visibilityProperty: true}) && !e.closest('.unseen') && !e.closest('#strip') && !e.matches('.skip'));
      const boxes = all.map(e => e.getBoundingClientRect()), out = [];
      for (let i = 0; i < all.length; ++i) for (let j = i + 1; j < all.length; ++j) {
        const a = boxes[i], b = boxes[j];
        if (a.bottom - 1 <= b.top || b.bottom - 1 <= a.top || a.right - 1 <= b.left || b.right - 1 <= a.left) continue;
        if (all[i].contains(all[j]) || all[j].contains(all[i])) continue;
        if (all[i].closest('#stage') && all[j].closest('#stage')) continue;
        out.push(all[i].outerHTML.slice(0, 60) + ' | ' + all[j].outerHTML.slice(0, 60));
      }
      return out;
    })()""")
    check(not over, f"{name}: lies over each other: {over[:3]}")
    small = browser.evaluate("""[...document.querySelectorAll('button, select, input')]
      .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 44)
      .map(e => e.outerHTML.slice(0, 60))""")
    check(not small, f"{name}: too small for a thumb: {small[:3]}")


def colours_of(browser, picture):
    """How many colours (5 bits a channel) a picture of `source` has, and how much it covers."""
    return browser.evaluate(f"""(async function () {{
      let image = {picture};
      if (typeof image === 'string') {{
        const loaded = new Image();
        loaded.src = image;
        await loaded.decode();
        image = loaded;
      }}
      const canvas = document.createElement('canvas');
      canvas.width = image.width, canvas.height = image.height;
      const pen = canvas.getContext('2d');
      pen.drawImage(image, 0, 0);
      const data = pen.getImageData(0, 0, canvas.width, canvas.height).data, seen = new Set();
      let covered = 0;
      for (let i = 0; i < data.length; i += 4) if (data[i + 3] > 200) {{
        ++covered;
        seen.add(data[i] >> 3 << 10 | data[i + 1] >> 3 << 5 | data[i + 2] >> 3);
      }}
      return [seen.size, covered / (canvas.width * canvas.height)];
    }})()""")


def not_blank(browser, name):
    for canvas in ("solid", "plan"):
        if browser.evaluate(f"document.getElementById('{canvas}').hidden"):
            continue
        colours, covered = colours_of(browser, f"document.getElementById('{canvas}')")
        check(colours > 60 and covered > 0.1, f"{name}: {canvas} shows {colours} colours on {covered}")
    import base64
    shot = base64.b64encode(browser.screenshot()).decode()
    colours, _ = colours_of(browser, json.dumps("data:image/png;base64," + shot))
    check(colours > 40, f"{name}: the screen shows {colours} colours")


def taps(browser, name, view):
    """A tap on a place that is seen reads the sample that lies there."""
    browser.evaluate(f"document.querySelector('[data-view={view}]').click();"
                     "document.getElementById('stage').scrollIntoView({block: 'center', behavior: 'instant'})")
    time.sleep(0.3)
    tapped = 0
    for part in (0.03, 0.21, 0.47, 0.62, 0.88):
        canvas = "solid" if view == "solid" else "plan"
        place = browser.evaluate(f"""(function () {{
          let i = Math.floor({part} * numbers.n);
          if ('{view}' === 'solid') {{ solid.home(); solid.face(i); solid.drawNow(); }}
          const box = document.getElementById('{canvas}').getBoundingClientRect();
          const p = ('{view}' === 'solid' ? solid : plan).screenOf(i);
          return [i, Math.round(box.left + p[0]), Math.round(box.top + p[1]), box.left, box.top];
        }})()""")
        i, x, y, left, top = place
        browser.click(x, y)
        if view == "solid":
            # Half a pixel across, and the surface may slope: a few tenths of a millimetre.
            off = browser.evaluate(f"""(function () {{
              const p = numbers.at, a = 3 * state.here, b = 3 * {i};
              return Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
            }})()""")
            check(off <= 0.6, f"{name}: the tap on sample {i} reads one {off:.2f} mm off")
        else:
            # Of all samples none lies nearer to the tap than the one that is read.
            more = browser.evaluate(f"""(function () {{
              const at = plan.placeAt({x} - {left}, {y} - {top}), p = numbers.at;
              const far = i => Math.hypot(p[3 * i] - at[0], p[3 * i + 1] - at[1]);
              let least = Infinity;
              for (let i = 0; i < numbers.n; ++i) least = Math.min(least, far(i));
              return [far(state.here) - least, far({i})];
            }})()""")
            check(more[0] <= 1e-9, f"{name}, {view}: a sample {more[0]:.3f} mm nearer to the tap")
            check(more[1] <= 1, f"{name}, {view}: tapped {more[1]:.2f} mm beside the sample")
        shown = browser.evaluate("document.querySelector('#here-body .big').textContent")
        wall = browser.evaluate("wallsNow.expected[state.here]")
        check(f"{abs(wall):.3f}"[:4] in shown, f"{name}, {view}: {shown} for a wall of {wall}")
        tapped += 1
    check(tapped == 5, "no taps made")


def keyboard(browser, name):
    """Tab reaches everything that can be used; arrows move a slider and the numbers follow."""
    wanted = set(browser.evaluate("""[...document.querySelectorAll('button, select, input, summary, a[href], [tabindex="0"]')]
      .filter(e => e.checkVisibility({visibilityProperty: true}) && !e.disabled)
      .map((e, i) => e.dataset.tab = String(i))"""))
    browser.evaluate("document.activeElement.blur(); window.scrollTo(0, 0)")
    seen = set()
    for _ in range(2 * len(wanted) + 4):
        browser.key("Tab")
        at = browser.evaluate("document.activeElement.dataset.tab || null")
        if at is not None:
            seen.add(at)
        if seen >= wanted:
            break
    missed = wanted - seen
    check(not missed, f"{name}: the Tab key misses " + str([browser.evaluate(
        f"document.querySelector('[data-tab=\"{m}\"]').outerHTML.slice(0, 80)") for m in missed][:3]))
    check(len(wanted) > 25, f"{name}: only {len(wanted)} things to use")
    before = browser.evaluate("document.getElementById('slider-1').focus(); state.limit")
    browser.key("ArrowRight")
    after = browser.evaluate("state.limit")
    near(after, before + 0.01, 1e-9, f"{name}: the limit after an arrow key")
    browser.evaluate("document.getElementById('reset').click()")
    check(browser.evaluate("state.limit") == before, f"{name}: reset did not bring the limit back")
    browser.wait(READY, 60)


def readable(browser, name):
    """Every thing to use has a name; text stands out from what is behind it."""
    nodes = browser.call("Accessibility.getFullAXTree")["nodes"]
    roles = {"button", "slider", "textbox", "combobox", "link", "image", "img", "heading"}
    named = 0
    for node in nodes:
        if node.get("ignored") or node.get("role", {}).get("value") not in roles:
            continue
        named += 1
        check(node.get("name", {}).get("value", "").strip() != "",
              f"{name}: a {node['role']['value']} without a name")
    check(named > 30, f"{name}: only {named} named things")
    twice = browser.evaluate("""[...document.querySelectorAll('[id]')].map(e => e.id)
      .filter((id, i, all) => all.indexOf(id) !== i)""")
    check(not twice, f"{name}: ids used twice: {twice}")
    weak = browser.evaluate("""(function () {
      const part = c => { c /= 255; return c <= 0.04045 ? c / 12.92 : Math.pow((c + 0.055) / 1.055, 2.4); };
      const bright = c => 0.2126 * part(c[0]) + 0.7152 * part(c[1]) + 0.0722 * part(c[2]);
      const rgb = t => t.match(/[0-9.]+/g).map(Number);
      const out = [];
      for (const e of document.querySelectorAll('body *')) {
        if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()) || !e.checkVisibility({visibilityProperty: true})
          || e.closest('script, style, noscript, .unseen')) continue;
        let b = e, back = [0, 0, 0, 0];
        while (b && (back.length === 4 && back[3] === 0)) { back = rgb(getComputedStyle(b).backgroundColor); b = b.parentElement; }
        const style = getComputedStyle(e), x = bright(rgb(style.color)), y = bright(back);
        const ratio = (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
        const large = parseFloat(style.fontSize) >= 24 || (parseFloat(style.fontSize) >= 18.66 && style.fontWeight >= 700);
        if (ratio < (large ? 3 : 4.5)) out.push(e.outerHTML.slice(0, 70) + ' ' + ratio.toFixed(2));
      }
      return out;
    })()""")
    check(not weak, f"{name}: contrast too low: {weak[:3]}")


def axe(browser, name):
    if not AXE:
        return
    found = serious_faults(browser, AXE)
    check(not found, f"{name}: axe: {found}")
    print(name, "axe: serious faults:", len(found))


def inches(browser, name):
    """The switch changes what is read, never what is computed."""
    before = browser.evaluate("[state.limit, ...state.sizes, wallsNow.leastExpected]")
    browser.evaluate("document.querySelector('[data-unit=inch]').click()")
    least = browser.evaluate("wallsNow.leastExpected")
    figure = shown(browser, "figure-expected")
    check(f"{least / 25.4:.4f}" in figure and "in" in figure, f"{name}, inches: {figure} for {least} mm")
    check("mm" not in shown(browser, "sentence"), f"{name}, inches: {shown(browser, 'sentence')}")
    box = browser.evaluate("Number(document.getElementById('slider-1-box').value)")
    near(box, before[0] / 25.4, 6e-6, f"{name}, inches: limit in its box")
    place = browser.evaluate("document.querySelector('#here-body .hint').textContent")
    cut = browser.evaluate("""(function () {
      const before = state.here;
      state.here = wallsNow.thinnest, showHere();
      const found = [document.querySelectorAll('.cut path').length, document.querySelector('.cut svg').getAttribute('aria-label')];
      state.here = before, showHere();
      return found;
    })()""")
    check(cut[0] == 5 and "as drawn" in cut[1], f"{name}: the section of the thinnest place: {cut}")
    x = browser.evaluate("numbers.at[3 * state.here]")
    check(f"{x / 25.4:.3f}" in place, f"{name}, inches: {place} for x {x} mm")
    layout(browser, name + ", inches")
    set_slider(browser, "Limit", 0.03)
    near(browser.evaluate("state.limit"), 0.03 * 25.4, 1e-9, f"{name}: 0.03 in as limit")
    set_slider(browser, "Limit", before[0] / 25.4)
    browser.evaluate("document.querySelector('[data-unit=mm]').click()")
    after = browser.evaluate("[state.limit, ...state.sizes, wallsNow.leastExpected]")
    for a, b in zip(before, after):
        near(b, a, 1e-9, f"{name}: after the way to inches and back")
    browser.wait(READY, 60)


def typed_numbers(browser, name):
    """What carvers type is read; what cannot be read is marked, and nothing is computed from it."""
    limit = browser.evaluate("state.limit")
    banner = shown(browser, "banner")
    quarter_inch = 25.4 / 4
    for own, shown_in, typed, value in (
            ("mm", "mm", "0,6", 0.6), ("mm", "mm", "0.6", 0.6), ("mm", "mm", ",6", 0.6),
            ("mm", "mm", " 0,60 mm ", 0.6), ("mm", "mm", "0,6mm", 0.6), ("mm", "mm", "1/2", 0.5),
            ("mm", "mm", "1/4 in", quarter_inch), ("mm", "mm", "1/4\"", quarter_inch),
            ("mm", "inch", "1/4", quarter_inch), ("mm", "inch", "\u00bc", quarter_inch),
            ("mm", "inch", "1 1/4", 5 * quarter_inch), ("mm", "inch", "1-1/4", 5 * quarter_inch),
            ("mm", "inch", "1\u00bc", 5 * quarter_inch), ("mm", "inch", "0,25", quarter_inch),
            ("mm", "inch", "0.6 mm", 0.6), ("mm", "mm", "20 thou", 0.508), ("mm", "mm", "50 um", 0.05),
            ("mm", "mm", "\u22120,1", -0.1), ("mm", "mm", "-1/8", -0.125), ("mm", "mm", "0", 0),
            ("%", "mm", "0,6 %", 0.6), ("", "inch", "1,5", 1.5), ("mm/m", "inch", "0.2 mm/m", 0.2)):
        got = browser.evaluate(f"""(function () {{
          const was = unit.inch;
          unit.inch = {json.dumps(shown_in == "inch")};
          const value = typed.read({json.dumps(typed)}, {json.dumps(own)});
          unit.inch = was;
          return value;
        }})()""")
        check(got is not None and abs(got - value) < 1e-9, f"{name}: '{typed}' is read as {got}")
    for nonsense in ("", "x", "0,6x", "1.234,5", "1,234.5", "0..6", "0,6,1", "1/0", "1/", "/2", "--1",
                     "mm", "0.6 ft", "1e-3", "1 2", "Infinity", "NaN"):
        got = browser.evaluate(f"typed.read({json.dumps(nonsense)}, 'mm')")
        check(got is None, f"{name}: '{nonsense}' is read as {got}")

    def typed_into(box, words):
        browser.type(box, words)
        browser.key("Tab")
        browser.evaluate("new Promise(done => requestAnimationFrame(() => setTimeout(done, 0)))")
        browser.wait(READY, 60)
        return browser.evaluate(f"""({{limit: state.limit, stands: document.getElementById('{box}').value,
          marked: document.getElementById('{box}').getAttribute('aria-invalid') === 'true',
          note: document.getElementById('slider-1-note').checkVisibility()
            && document.getElementById('slider-1-note').textContent}})""")
    box = "slider-1-box"
    good = typed_into(box, "0,6")
    check(abs(good["limit"] - 0.6) < 1e-12 and not good["marked"] and good["stands"] == "0.6",
          f"{name}: 0,6 typed as the limit: {good}")
    was = shown(browser, "banner"), shown(browser, "sentence")
    # The job reader asks for 0.001 mm at least; the largest is the end of the slider.
    for words in ("0", "0,0", "-1", "99999", "0,6x", "abc", "", "1.2.3", "1/0"):
        bad = typed_into(box, words)
        check(abs(bad["limit"] - 0.6) < 1e-12, f"{name}: '{words}' makes the limit {bad['limit']}")
        check(bad["marked"] and bad["note"] and "0.6 mm still holds" in bad["note"],
              f"{name}: '{words}' is not marked: {bad}")
        check(bad["stands"] == words, f"{name}: '{words}' became '{bad['stands']}'")
        check((shown(browser, "banner"), shown(browser, "sentence")) == was,
              f"{name}: the verdict changed with '{words}'")
    layout(browser, name + ", a number that is refused")
    readable(browser, name + ", a number that is refused")
    browser.evaluate("document.querySelector('[data-unit=inch]').click()")
    check(browser.evaluate(f"document.getElementById('{box}').value") == "1/0",
          f"{name}: the unit switch drops what was typed")
    browser.evaluate("document.querySelector('[data-unit=mm]').click()")
    # Beyond the slider is no nonsense.
    good = typed_into(box, "3,5")
    check(good["limit"] == 3.5 and not good["marked"], f"{name}: beyond the slider: {good}")
    # Half typed, then nonsense: what counted before the typing counts again.
    typed_into(box, "0.5")
    browser.type(box, "0,4x")
    check(browser.evaluate("state.limit") == 0.5, f"{name}: 0,4x leaves {browser.evaluate('state.limit')}")
    good = typed_into(box, str(limit).replace(".", ","))
    check(good["limit"] == limit and not good["marked"] and not good["note"], f"{name}: {good}")
    check(shown(browser, "banner") == banner, f"{name}: the way back ends at {shown(browser, 'banner')}")
    # An error cannot be typed away by a comma.
    second = browser.evaluate("""[...document.querySelectorAll('.slider')].findIndex(r =>
      r.querySelector('b').textContent === 'touch-off of side B') + 1""")
    k = second - 2
    stated = browser.evaluate(f"state.sizes[{k}]")
    typed_into(f"slider-{second}-box", "0,04")
    check(abs(browser.evaluate(f"state.sizes[{k}]") - 0.04) < 1e-12, f"{name}: touch-off 0,04")
    typed_into(f"slider-{second}-box", "-0,04")
    check(abs(browser.evaluate(f"state.sizes[{k}]") - 0.04) < 1e-12, f"{name}: touch-off -0,04")
    browser.evaluate("document.getElementById('reset').click()")
    check(browser.evaluate(f"state.sizes[{k}]") == stated, f"{name}: reset after typing")
    check(browser.evaluate("![...document.querySelectorAll('.refused')].some(e => e.checkVisibility())"),
          f"{name}: a mark is left after the reset")
    browser.wait(READY, 60)


def no_bed(browser, name):
    check("no map" in shown(browser, "bed-words") and "No readings" in shown(browser, "bed-words"),
          f"{name}: the page does not say why there is no bed map")
    check(not browser.evaluate("document.getElementById('bed-plan').checkVisibility()"),
          f"{name}: a bed map without readings")


def bed_and_pad(browser):
    """A job with readings of the bed: the map shows them, the pad does its sum."""
    here = os.path.dirname(os.path.abspath(__file__))
    out = os.path.join(WORK, "bed")
    report = run_check(os.path.join(here, "..", "golden", "piece", "trough.toml"), out)
    check(os.path.exists(os.path.join(out, "bed.png")), "no bed map in the folder")
    page = os.path.join(out, "report.html")
    open_page(browser, page)
    browser.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    browser.wait("document.getElementById('bed-plan').width > 300")
    compare(browser, report, "trough")
    # The readings of the job and, half way between them, what is linear on a cell's edge.
    for x, y, z in ((-80, -50, 0), (80, 50, 0.01), (0, 50, 0.08), (-40, -50, 0.01), (80, 0, 0.005)):
        near(browser.evaluate(f"bedPlan.heightAt({x}, {y})"), z, 2e-3, f"height of the bed at {x}, {y}")
    check(browser.evaluate("bedPlan.heightAt(90, 0)") is None, "a height where nothing was read")
    words = shown(browser, "bed-words")
    check("6 readings" in words and "0.080" in words, f"the bed in words: {words}")
    colours, covered = colours_of(browser, "document.getElementById('bed-plan')")
    check(colours > 60 and covered > 0.15, f"the bed map shows {colours} colours on {covered}")
    rows = browser.evaluate("document.querySelectorAll('#bed-rows tr').length")
    check(rows == 6, f"{rows} readings in the table")

    pad = report["pad"]
    for value in (pad["design_mm"], pad["should_read_mm"], pad["between_mm"][0],
                  -pad["floor_z_mm"], -pad["skin_z_mm"]):
        check(f"{value:.3f}" in shown(browser, "pad-cut") + shown(browser, "pad-read"),
              f"the pad's {value:.3f} is not on the page")

    def reads(value):
        browser.evaluate(f"""(function () {{
          const box = document.getElementById('pad-reading');
          box.value = '{value}';
          box.dispatchEvent(new Event('input', {{bubbles: true}}));
        }})()""")
        return shown(browser, "pad-shift")
    # Design minus reading; positive raises the bit.
    check(f"+{pad['design_mm'] - 0.9:.3f} mm" in reads(0.9) and "higher" in reads(0.9), reads(0.9))
    check(f"\u2212{1.0 - pad['design_mm']:.3f} mm" in reads(1.0) and "lower" in reads(1.0), reads(1.0))
    check("cannot explain" in reads(0.2), reads(0.2))
    check(reads("") == "", "words for a pad that was not read")
    check(reads("0,9") == reads("0.9") and "higher" in reads("0,9"), reads("0,9"))
    for words in ("0", "0,9x", "-1"):
        browser.type("pad-reading", words)
        browser.key("Tab")
        check(shown(browser, "pad-shift") == "" and browser.evaluate(
            "document.getElementById('pad-note').checkVisibility()"), f"a pad that reads {words}")
    browser.type("pad-reading", "")
    browser.key("Tab")
    check(not browser.evaluate("document.getElementById('pad-note').checkVisibility()"), "an empty pad is marked")
    layout(browser, "trough")
    axe(browser, "trough")
    browser.evaluate("document.querySelector('[data-unit=inch]').click()")
    check("in" in shown(browser, "bed-words") and "mm" not in shown(browser, "bed-words"),
          shown(browser, "bed-words"))
    browser.size(360, 740, 2, True)
    time.sleep(0.3)
    layout(browser, "trough, phone, inches")
    browser.size(1280, 900)
    no_complaints(browser, page, "trough")
    inch_out = os.path.join(WORK, "bed_inch")
    subprocess.run([PROGRAM, "check", os.path.join(here, "..", "golden", "piece", "trough.toml"),
                    "--out", inch_out, "--inches", "--quiet"], check=False)
    open_page(browser, os.path.join(inch_out, "report.html"))
    check(browser.evaluate("unit.inch") and shown(browser, "figure-expected").count("in") > 0,
          "--inches does not begin with inches")


def thinned(browser):
    """A million triangles a mesh, both roughing bits: samples are left out, answers are not."""
    folder = os.path.join(WORK, "million")
    os.makedirs(folder)
    subprocess.run([MESH_MAKER, "gourd", folder, "--triangles", "1000000"], check=True,
                   stdout=subprocess.DEVNULL)
    job = os.path.join(folder, "gourd.toml")
    shutil.copy(os.path.join(WORK, "gourd", "gourd.toml"), job)
    roughing = """
[side_a.roughing]
allowance = 0.05
touch_off = {0}
[side_b.roughing]
allowance = {1}
touch_off = {{ standard = 0.08 }}
"""
    with open(job, encoding="utf-8") as file:
        text = file.read()
    for name, values in (("gourd.toml", (0.2, 0.03)), ("gourd_changed.toml", (0.12, 0.03))):
        with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
            file.write(text + roughing.format(*values))
    report = run_check(job, os.path.join(folder, "out"))
    changed = run_check(os.path.join(folder, "gourd_changed.toml"), os.path.join(folder, "changed"))
    page = os.path.join(folder, "out", "report.html")
    check(os.path.getsize(page) < 8_000_000, f"a million triangles: {os.path.getsize(page)} bytes")
    open_timed(browser, page, "a million triangles")
    check(browser.evaluate("facts.samples < 0.7 * facts.samples_measured"), "nothing was left out")
    marks = [c for c in report["causes"] if "roughing" in c["name"]]
    check(len(marks) == 2 and all(abs(c["at_thinnest_mm"]) > 0.01 for c in marks),
          f"no roughing marks to compare: {marks}")
    for cause in marks:
        side = f" of side {cause['side']}"
        name = browser.evaluate(f"""(causes.find(c => c.overcut
          && c.name.includes('side {cause['side']}')) || {{}}).name""")
        check(bool(name), f"no cause of roughing on the page{side}")
        effect = browser.evaluate(f"""effectOf(causes.findIndex(c => c.name === {json.dumps(name)}),
          state.sizes, wallsNow.thinnest)""")
        near(effect["half"], abs(cause["at_thinnest_mm"]), 0.001, f"roughing{side} at the thinnest")
    compare(browser, report, "a million triangles")
    here_rows(browser, report, "a million triangles")
    thin_places(browser, report, "a million triangles")
    name = browser.evaluate("""causes.find(c => c.overcut
      && c.name.includes('side A')).name""")
    set_slider(browser, name, 0.12)
    browser.evaluate("new Promise(done => requestAnimationFrame(() => setTimeout(done, 0)))")
    browser.wait(READY, 60)
    compare(browser, changed, "a million triangles, better roughing")
    here_rows(browser, changed, "a million triangles, better roughing")
    no_complaints(browser, page, "a million triangles")


def from_place_to_place(browser, folder):
    """Errors that vary over the piece: the page draws the program's errors for the same places."""
    with open(os.path.join(folder, "gourd.toml"), encoding="utf-8") as file:
        text = file.read()
    readings = ", ".join(f"[{x}, {y}, {0.03 if abs(x) > 100 else 0}]"
                         for x in (-150, -50, 50, 150) for y in (-100, 0, 100))
    for line, stated in (("#variation = 0.05", "variation = 0.06"),
                         ("#variation_length = 20", "variation_length = 12"),
                         ("#sanding = 0.05", "sanding = 0.08"),
                         ("#sanding_error = 0.02", "sanding_error = 0.05"),
                         ("\nflatness = 0.1\n", f"\nreadings = [{readings}]\n"),
                         ("#reading_error = 0.01", "reading_error = { standard = 0.02 }")):
        if line not in text:
            raise SystemExit(f"gourd.toml: no line {line}")
        text = text.replace(line, stated, 1)
    path = os.path.join(folder, "gourd_places.toml")
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    report = run_check(path, os.path.join(folder, "places"))
    check(report["chance"]["trials"] == 20000, "trials of the page and the program differ")
    open_page(browser, os.path.join(folder, "places", "report.html"))
    check(browser.evaluate("facts.shares.causes.length > 50 && numbers.shares.slots > 4"),
          "no errors that vary over the piece on the page")
    compare(browser, report, "from place to place")
    here_rows(browser, report, "from place to place")


def whole_job(browser, folder):
    """A job of several walls: the job's verdict and table, one wall after the other by the address,
    all of them in space, a slice through everything."""
    out = os.path.join(folder, "whole")
    report = run_check(os.path.join(folder, "gourd-whole.toml"), out)
    page = os.path.join(out, "report.html")
    check(os.path.getsize(page) < 8_000_000, f"whole job: {os.path.getsize(page)} bytes")
    walls = [dict(wall, part=part["name"]) for part in report["parts"] for wall in part["walls"]]
    open_timed(browser, page, "whole job")
    job = browser.evaluate("""({verdict: document.getElementById('job').dataset.verdict,
      rows: [...document.querySelectorAll('#job tbody tr')].map(r => [...r.children].map(c => c.textContent)),
      links: [...document.querySelectorAll('#job a')].map(a => a.getAttribute('href'))})""")
    check(job["verdict"] == report["verdict"], f"whole job: {job['verdict']}")
    check(len(job["rows"]) == len(walls), f"whole job: {len(job['rows'])} rows")
    for row in job["rows"]:
        number = int(row[0].split(".")[0])
        wall = walls[number - 1]
        check(wall["part"] in row[0] and wall["inner"] in row[0], f"whole job: row {row}")
        near(float(row[2]), wall["least_wall"]["expected_mm"], 0.0006, f"wall {number}, expected")
        near(float(row[3]), wall["least_wall"]["worst_mm"], 0.0006, f"wall {number}, at worst")
        near(float(row[4]), wall["limit_mm"], 0.0006, f"wall {number}, limit")
    check(len(job["links"]) == 4, f"whole job: links {job['links']}")
    first = int(job["links"][0].split("-")[1])
    governing = report["governing"]
    check(walls[first - 1]["part"] == governing["part"] and walls[first - 1]["inner"] == governing["inner"],
          f"whole job: wall {first} is shown first, {governing} governs")
    for link in job["links"]:
        number = int(link.split("-")[1])
        browser.evaluate(f"window.before = facts.of_job.number !== {number}; location.hash = '{link}'")
        # While the page loads anew `facts` is still the element of that name.
        browser.wait("!window.before && document.readyState === 'complete' && typeof facts !== 'undefined' && "
                     f"(facts.of_job || {{}}).number === {number}", 60)
        browser.wait(READY, 60)
        name = f"whole job, wall {number}"
        which = browser.evaluate("document.getElementById('which').textContent")
        check(walls[number - 1]["part"] in which and f"Wall {number} of {len(walls)}" in which,
              f"{name}: called {which}")
        compare(browser, walls[number - 1], name)
        here_rows(browser, walls[number - 1], name)
    lists = browser.evaluate("""['warning-list', 'given-list', 'unseen-list'].map(
      l => document.getElementById(l).children.length)""")
    look = browser.evaluate("document.querySelectorAll('.look-first').length")
    check([lists[0] + look, *lists[1:]] == [len(report[k]) for k in ("warnings", "assumptions", "not_checked")],
          f"whole job: lists {lists}")
    browser.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    layout(browser, "whole job")
    readable(browser, "whole job")
    axe(browser, "whole job")
    # All walls in space: more of the picture, and a slice goes through each of them.
    covered, cut = [], []
    for pressed in ("false", "true"):
        browser.evaluate(f"document.querySelector('[data-all={pressed}]').click(); solid.drawNow()")
        not_blank(browser, "whole job, all: " + pressed)
        covered.append(browser.evaluate("solid.triangles()"))
        parts = browser.evaluate("""(function () {
          const axis = document.getElementById('cut-axis');
          axis.value = '0', axis.dispatchEvent(new Event('change'));
          return [Number(document.getElementById('cut-at').min), Number(document.getElementById('cut-at').max), solid.cutPieces()];
        })()""")
        cut.append(parts[2])
        low, high = report["meshes"]["box_mm"]["low"], report["meshes"]["box_mm"]["high"]
        if pressed == "true":
            near(parts[0], low[0], 0.5, "whole job, slice from")
            near(parts[1], high[0], 0.5, "whole job, slice to")
        browser.evaluate("""document.getElementById('cut-axis').value = '',
          document.getElementById('cut-axis').dispatchEvent(new Event('change'))""")
    check(covered[1] > 1.5 * covered[0] > 0, f"whole job: triangles drawn {covered}")
    check(cut[1] > 1.5 * cut[0] > 0, f"whole job: pieces of the section {cut}")
    both = browser.evaluate("otherWalls().length")
    check(both == 3, f"whole job: {both} other walls")
    printed(browser, check, "whole job", ["HOLDS", "8. right half", "Seam", "THIS WALL"], (("letter", 8.5, 11),))
    inches(browser, "whole job")
    no_complaints(browser, page, "whole job")
    browser.size(390, 844, 2, True)
    open_page(browser, page)
    layout(browser, "whole job, phone")
    tall = browser.evaluate("document.documentElement.scrollHeight")
    check(tall <= 4 * 844, f"whole job, phone: {tall} px, {tall / 844:.2f} screens")
    browser.size(1280, 900)


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    os.makedirs(WORK)
    gourd, leaf = start("gourd"), start("leaf")
    out = os.path.join(gourd, "out")
    report = run_check(os.path.join(gourd, "gourd.toml"), out)
    page = os.path.join(out, "report.html")
    check(os.path.getsize(page) < 8_000_000, f"the page has {os.path.getsize(page)} bytes")
    leaf_out = os.path.join(leaf, "out")
    leaf_report = run_check(os.path.join(leaf, "leaf.toml"), leaf_out)
    gourd_changed = run_check(
        changed_job(gourd, "gourd", [("side_a", "#sanding", "0.02"), ("side_b", "#plate_error", "0.02"),
                                     ("board", "#resin_cup", "0.1"), ("flip", "#out_of_square", "0.3"),
                                     ("side_a.bit", "#runout", "0.02"), (None, "limit", "0.66"), ("side_b", "touch_off", "0.02"),
                                     ("side_b", "sanding", "0.09"), ("board", "thickness_error", "0.04"),
                                     ("bed", "flatness", "0.03"), ("flip.dowels", "clearance", "0.1")]),
        os.path.join(WORK, "gourd_changed"))
    leaf_changed = run_check(
        changed_job(leaf, "leaf", [("side_a", "plate_error", "-0.1"), ("side_b", "plate_error", "0.05"),
                                   ("side_a", "touch_off", "{ standard = 0.07 }")]),
        os.path.join(WORK, "leaf_changed"))

    browser = Browser()
    try:
        browser.size(1280, 900)
        browser.theme("light")
        # Time of work on the page's thread, so that a busy machine does not count.
        browser.call("Performance.enable", {"timeDomain": "threadTicks"})
        open_timed(browser, page, "gourd", ("first", "again"))
        metrics = browser.call("Performance.getMetrics")["metrics"]
        work = next(m["value"] for m in metrics if m["name"] == "TaskDuration")
        print(f"gourd: {work:.2f} s of work until all is counted")
        check(work < 2, f"opening and counting takes {work:.2f} s of work")
        compare(browser, report, "gourd as stated")
        here_rows(browser, report, "gourd as stated")
        thin_places(browser, report, "gourd as stated")
        from_place_to_place(browser, gourd)
        open_page(browser, page)
        layout(browser, "desktop")
        order(browser, check, "desktop")
        not_blank(browser, "desktop")
        readable(browser, "light")
        axe(browser, "light")
        taps(browser, "desktop", "solid")
        taps(browser, "desktop", "a")
        not_blank(browser, "desktop, side A")
        taps(browser, "desktop", "b")
        sides(browser, check, os.path.join(gourd, "gourd.toml"), report)
        line_cut(browser, check, READY, "desktop")
        nearer(browser, check, "desktop")
        scrolling(browser, check, "desktop")
        printed(browser, check, "gourd", ["AT RISK", "you accept 1 in 20", "What moves the wall", "What was not checked",
                                          "0.672 mm; at worst 0.130 mm", "More changes that would help"])
        unstated(browser, check, report)
        keyboard(browser, "desktop")
        typed_numbers(browser, "desktop")
        for name, value in (("Limit", 0.66), ("touch-off of side B", 0.02), ("sanding, side B", 0.09),
                            ("board thickness", 0.04), ("bed flatness under side A", 0.03),
                            ("bed flatness under side B", 0.03), ("play of dowel 1", 0.1),
                            ("play of dowel 2", 0.1), ("sanding, side A", 0.02), ("touch plate, side B", 0.02),
                            ("resin pulls board hollow", 0.1), ("machine out of square", 0.3),
                            ("sideways overcut of bit, side A", 0.02)):
            set_slider(browser, name, value)
        browser.evaluate("new Promise(done => requestAnimationFrame(() => setTimeout(done, 0)))")
        browser.wait(READY, 60)
        compare(browser, gourd_changed, "gourd changed")
        here_rows(browser, gourd_changed, "gourd changed")
        check(browser.evaluate("!document.getElementById('changed').hidden"),
              "the page does not say that a slider was moved")
        inches(browser, "gourd")
        browser.evaluate("document.getElementById('reset').click()")
        browser.wait("document.getElementById('changed').hidden && " + READY, 60)
        no_complaints(browser, page, "gourd")
        open_page(browser, page) # as it is first seen
        room(browser, check, "gourd")
        no_complaints(browser, page, "gourd")
        no_bed(browser, "gourd")

        browser.size(390, 844, 2, True)
        browser.theme("dark")
        leaf_page = os.path.join(leaf_out, "report.html")
        open_page(browser, leaf_page)
        compare(browser, leaf_report, "leaf as stated")
        here_rows(browser, leaf_report, "leaf as stated")
        thin_places(browser, leaf_report, "leaf as stated")
        layout(browser, "phone")
        browser.evaluate("document.getElementById('look').scrollIntoView({behavior: 'instant'})")
        time.sleep(0.3)
        not_blank(browser, "phone")
        readable(browser, "dark")
        axe(browser, "dark")
        taps(browser, "phone", "a")
        for name, value in (("touch plate, side A", -0.1), ("touch plate, side B", 0.05),
                            ("touch-off of side A", 0.07)):
            set_slider(browser, name, value)
        browser.evaluate("new Promise(done => requestAnimationFrame(() => setTimeout(done, 0)))")
        browser.wait(READY, 60)
        compare(browser, leaf_changed, "leaf changed")
        browser.size(360, 740, 2, True)
        time.sleep(0.3)
        layout(browser, "small phone")
        swipe(browser, check, "small phone")
        browser.call("Emulation.setEmulatedMedia", {"media": "print"})
        check(browser.evaluate("!document.getElementById('try').checkVisibility()"),
              "sliders are printed")
        no_complaints(browser, leaf_page, "leaf")
        browser.call("Emulation.setEmulatedMedia", {"media": ""})
        in_frame(browser, check, leaf_page, READY)
    finally:
        browser.close()

    browser = Browser()
    try:
        browser.size(1280, 900)
        browser.theme("light")
        bed_and_pad(browser)
        whole_job(browser, gourd)
        if MESH_MAKER:
            thinned(browser)
    finally:
        browser.close()

    browser = Browser(with_3d=False)
    try:
        # An older browser, too, reads the numbers.
        browser.call("Page.addScriptToEvaluateOnNewDocument",
                     {"source": "delete Uint8Array.fromBase64"})
        browser.size(1280, 900)
        open_page(browser, page)
        check(browser.evaluate("solid === null"), "WebGL is there though it was switched off")
        browser.evaluate("document.querySelector('[data-view=solid]').click()")
        check(browser.evaluate("document.getElementById('no-solid').checkVisibility()"),
              "the page does not say that WebGL is missing")
        taps(browser, "no WebGL", "a")
        not_blank(browser, "no WebGL")
        compare(browser, report, "gourd without WebGL")
        no_complaints(browser, page, "no WebGL")
    finally:
        browser.close()
    if not AXE:
        print("axe-core was not there: its rules were not tried")
    print("faults:", len(faults))
    sys.exit(1 if faults else 0)


main()
