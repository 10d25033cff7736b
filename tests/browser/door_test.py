#!/usr/bin/env python3
"""leastwall.html in a headless Chromium, the way a person goes through it.

door_test.py PROGRAM SOURCE_DIR BROWSER_BUILD WORK_DIR [AXE]

What is saved is compared with what the program writes for the job that is saved. Status 77 (left out) where
the page was not built. Screenshots for people go to WORK_DIR.
"""
import base64
import json
import os
import shutil
import subprocess
import sys
import time

PROGRAM, SOURCE, BUILD, WORK = (os.path.abspath(p) for p in sys.argv[1:5])
AXE = sys.argv[5] if len(sys.argv) > 5 and os.path.exists(sys.argv[5]) else None
sys.path.insert(0, os.path.join(SOURCE, "tests/page"))
from browser import Browser, serious_faults, shown  # noqa: E402

PAGE = os.path.join(BUILD, "leastwall.html")
PIECE = os.path.join(SOURCE, "tests/golden/piece")
MOST_PAGE_BYTES = 1_600_000
faults = []


def check(good, what):
    if not good:
        faults.append(what)
        print("WRONG:", what)


def seen(browser, element):
    return browser.evaluate(f"!document.getElementById('{element}').hidden && "
                            f"document.getElementById('{element}').checkVisibility()")


def focus(browser):
    return browser.evaluate("document.activeElement.id")


def choose(browser, element, files):
    """As the file picker does."""
    document = browser.call("DOM.getDocument")
    node = browser.call("DOM.querySelector", {"nodeId": document["root"]["nodeId"], "selector": "#" + element})
    browser.call("DOM.setFileInputFiles", {"nodeId": node["nodeId"], "files": files})


def drop(browser, element, files):
    """Lets files, {name: bytes}, fall on the place of `element`."""
    packed = {name: base64.b64encode(data).decode() for name, data in files.items()}
    browser.evaluate(f"""(function () {{
      const transfer = new DataTransfer();
      for (const [name, text] of Object.entries({json.dumps(packed)}))
        transfer.items.add(new File([Uint8Array.from(atob(text), c => c.charCodeAt(0))], name));
      const at = document.getElementById('{element}').closest('.drop');
      for (const kind of ['dragover', 'drop'])
        at.dispatchEvent(new DragEvent(kind, {{dataTransfer: transfer, bubbles: true, cancelable: true}}));
    }})()""")


def bytes_of(path):
    with open(path, "rb") as file:
        return file.read()


def wait_answer(browser, seconds=120):
    browser.wait("!document.getElementById('answer').hidden || !document.getElementById('fault').hidden "
                 "|| !document.getElementById('note-meshes').hidden", seconds)


def saved(browser, what, name, folder):
    """What the button for `what` saves."""
    path = os.path.join(folder, name)
    if os.path.exists(path):
        os.remove(path)
    browser.evaluate(f"document.querySelector('[data-save=\"{what}\"]').click()")
    until = time.time() + 20
    while time.time() < until:
        if os.path.exists(path) and not os.path.exists(path + ".crdownload"):
            time.sleep(0.1)
            return bytes_of(path)
        browser.evaluate("1")
        time.sleep(0.05)
    check(False, f"{name} was not saved")
    return b""


def same_as_program(browser, name, folder, beside):
    """Saves everything and lets the program check the job that was saved, with the files `beside` it."""
    down = os.path.join(folder, "down")
    os.makedirs(down, exist_ok=True)
    browser.call("Page.setDownloadBehavior", {"behavior": "allow", "downloadPath": down})
    job = browser.evaluate("held.shown.job.name")
    saved(browser, "job", job, down)
    files = {n: saved(browser, n, n, down) for n in ("report.html", "check.json", "check.txt", "skin.glb")}
    for path, called in beside.items():
        shutil.copy(path, os.path.join(down, called))
    out = os.path.join(folder, "out")
    run = subprocess.run([PROGRAM, "check", job, "--out", out], cwd=down, capture_output=True, check=False,
                         env={**os.environ, "LC_ALL": "C.UTF-8"})
    check(run.returncode < 2, f"{name}: the program refuses the saved job: {run.stderr.decode()}")
    for file in ("report.html", "check.json", "skin.glb"):
        check(files[file] == bytes_of(os.path.join(out, file)), f"{name}: {file} is not the program's")
    check(run.stdout.startswith(files["check.txt"]) and files["check.txt"], f"{name}: the text is not the program's")
    report = json.loads(files["check.json"])
    check(shown(browser, "banner") in report["headline"], f"{name}: {shown(browser, 'banner')} is not in "
          f"{report['headline']}")
    if report["advice"]:
        check(report["advice"][0]["change"].rstrip(".") in shown(browser, "advice"),
              f"{name}: advice {shown(browser, 'advice')}")
    unstated = sum(" is not stated; " in line for line in report["assumptions"])
    check(shown(browser, "unstated").startswith(f"No one stated {unstated} value"), f"{name}: {shown(browser, 'unstated')}, "
          f"{unstated} in the JSON")
    check(seen(browser, "given") == bool(report["assumptions"]), f"{name}: what is taken as given")
    check(len(report["warnings"]) == browser.evaluate("document.querySelectorAll('#notices li').length"),
          f"{name}: {len(report['warnings'])} messages")
    return report


def printed(browser, what):
    """HTML of the tab that the button for `what` opens; the tab is closed again."""
    session = browser.session
    before = {t["targetId"] for t in browser.call("Target.getTargets")["targetInfos"]}
    browser.call("Runtime.evaluate", {"expression": f"document.querySelector('[data-print=\"{what}\"]').click()",
                                      "userGesture": True})
    browser.session = None
    html, until = "", time.time() + 20
    try:
        while not html and time.time() < until:
            time.sleep(0.1)
            for tab in browser.call("Target.getTargets")["targetInfos"]:
                if tab["targetId"] in before or tab["type"] != "page" or not tab["url"].startswith("blob:"):
                    continue
                browser.session = browser.call("Target.attachToTarget",
                                               {"targetId": tab["targetId"], "flatten": True})["sessionId"]
                html = browser.evaluate("document.readyState === 'complete' ? document.documentElement.outerHTML : ''")
                browser.session = None
                if html:
                    browser.call("Target.closeTarget", {"targetId": tab["targetId"]})
    finally:
        browser.session = session
    return html


def prints_sheets(browser, name):
    """Sheet and card of what is shown, for both papers; no word of the page says that it has none."""
    said = " ".join(browser.evaluate("document.body.textContent").split())
    footer = said[said.find("one thread in this browser"):]
    check("setup sheet and large meshes" not in footer and "as PDF" in footer, f"{name}: footer: {footer[:200]!r}")
    check("thin edges" not in said, f"{name}: thin places are called thin edges")
    for what, words in (("setup-sheet", "POCKET FACE UP, CUT FIRST"), ("setup-card", "BOTH SET-UPS AT A GLANCE")):
        for paper, wide in (("a4", "210mm"), ("letter", "215.9mm")):
            browser.evaluate(f"document.getElementById('paper').value = '{paper}'")
            html = printed(browser, what)
            check(words in html and f'width="{wide}"' in html, f"{name}: {what} on {paper}: {html[:300]!r}")


def in_frame(browser, expression):
    """Evaluates in the frame with the page, which Chromium keeps in a process of its own."""
    page, browser.session = browser.session, None
    try:
        for target in browser.call("Target.getTargets")["targetInfos"]:
            if target["type"] == "iframe" and target["url"].startswith("blob:"):
                browser.session = browser.call("Target.attachToTarget", {
                    "targetId": target["targetId"], "flatten": True})["sessionId"]
                result = browser.call("Runtime.evaluate", {"expression": expression, "returnByValue": True})
                return result["result"].get("value")
    except RuntimeError:  # it shows another page by now
        pass
    finally:
        browser.session = page
    return None


def frame_says(browser, name):
    """The page in the frame works and is kept apart."""
    until = time.time() + 20
    while time.time() < until and not in_frame(browser, "document.querySelectorAll('#sliders input').length > 2"):
        time.sleep(0.1)
    check(in_frame(browser, "document.getElementById('banner').textContent") == shown(browser, "banner"),
          f"{name}: the page in the frame says something else")
    check(in_frame(browser, "document.querySelectorAll('#sliders input').length > 2"),
          f"{name}: the page in the frame has no sliders")
    check(not in_frame(browser, "document.getElementById('verdict').checkVisibility()"),
          f"{name}: the page in the frame says the verdict again")
    check(in_frame(browser, "origin") == "null", f"{name}: the frame is not kept apart")
    apart = in_frame(browser, "(function () { try { return parent.document.title } catch (e) { return 'apart' } })()")
    check(apart == "apart", f"{name}: the frame sees the page around it")


def layout(browser, name):
    wide = browser.evaluate("document.documentElement.scrollWidth - innerWidth")
    check(wide <= 0, f"{name}: {wide} px wider than the screen")
    small = browser.evaluate("""[...document.querySelectorAll('button, select, input[type=text]')]
      .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43).map(e => e.id || e.textContent)""")
    check(not small, f"{name}: too small for a finger: {small}")


def quiet(browser, name):
    """No fault, nothing refused by the policy, nothing asked of any network."""
    for event in browser.events:
        kind, data = event["method"], event["params"]
        if kind == "Runtime.exceptionThrown":
            check(False, f"{name}: {data['exceptionDetails']}")
        elif kind == "Runtime.consoleAPICalled" and data["type"] in ("error", "assert"):
            check(False, f"{name}: console: {data['args']}")
        elif kind == "Log.entryAdded" and data["entry"]["level"] == "error":
            check(False, f"{name}: {data['entry']['text']}")
        elif kind == "Network.requestWillBeSent":
            url = data["request"]["url"]
            check(url.startswith(("data:", "blob:", "file://" + PAGE)), f"{name}: asks for {url[:90]}")
    browser.events.clear()


def accessible(browser, name):
    if not AXE:
        return
    found = serious_faults(browser, AXE, "document, {iframes: false}")
    check(not found, f"{name}: axe: {found}")


def demo_by_keyboard(browser):
    browser.evaluate("document.body.tabIndex = -1; document.body.focus()")
    for _ in range(6):
        browser.key("Tab")
        if focus(browser) == "demo":
            break
    check(focus(browser) == "demo", f"keyboard: the first door is not reached, but {focus(browser)}")
    began = time.time()
    browser.call("Input.dispatchKeyEvent", {"type": "keyDown", "key": "Enter", "code": "Enter", "text": "\r",
                                            "windowsVirtualKeyCode": 13})
    browser.call("Input.dispatchKeyEvent", {"type": "keyUp", "key": "Enter", "code": "Enter",
                                            "windowsVirtualKeyCode": 13})
    wait_answer(browser)
    print(f"demo, from the key to the verdict: {time.time() - began:.2f} s; {shown(browser, 'timing')}")
    check(seen(browser, "answer"), f"demo: {shown(browser, 'fault-text')}")
    check(focus(browser) == "answer", f"demo: the focus is on {focus(browser)}")
    demo = os.path.join(WORK, "demo")
    subprocess.run([PROGRAM, "start", demo], check=True, capture_output=True)
    beside = {os.path.join(demo, n): n for n in ("gourd_pocket.stl", "gourd_skin.stl")}
    report = same_as_program(browser, "demo", os.path.join(WORK, "demo-saved"), beside)
    check(bytes_of(os.path.join(WORK, "demo-saved/down/gourd.toml")) == bytes_of(os.path.join(demo, "gourd.toml")),
          "demo: the job is not the program's")
    check(report["verdict"] == "at-risk", f"demo: {report['verdict']}")
    check(browser.evaluate("document.getElementById('paper').value") == "a4", "demo: the paper")
    prints_sheets(browser, "demo")
    frame_says(browser, "demo")


def press(browser, selector):
    browser.evaluate(f"document.querySelector({json.dumps(selector)}).click()")


def compared(browser):
    """The rows of before and after: {name: [before, now]}."""
    rows = json.loads(browser.evaluate(
        "JSON.stringify([...document.querySelectorAll('#compared tr')].map(row => "
        "[...row.children].map(cell => cell.textContent)))"))
    return {row[0]: row[1:] for row in rows}


def advice_tried(browser):
    """The demo is on the screen: its best advice tried, taken back, tried again and kept."""
    before = {what: shown(browser, what) for what in ("banner", "ground", "figures", "sentence")}
    advice = browser.evaluate("document.querySelector('#advice li span').textContent")
    press(browser, "#advice button")
    wait_answer(browser)
    check(seen(browser, "compare") and focus(browser) == "compare",
          f"advice: {shown(browser, 'fault-text')}, focus on {focus(browser)}")
    check(shown(browser, "tried") == advice, f"advice: {shown(browser, 'tried')} was tried, not {advice}")
    rows = compared(browser)
    print("  tried:", rows)
    check(rows["Verdict"] == ["AT RISK", "HOLDS"], f"advice: {rows}")
    check(rows["Limit"][0] == rows["Limit"][1], f"advice: {rows}")
    check(all(rows[what][0] != rows[what][1] for what in ("At worst", "Under the limit")),
          f"advice: {rows}")
    check(shown(browser, "banner") == "HOLDS" and rows["At worst"][1] in shown(browser, "figures"),
          f"advice: {shown(browser, 'figures')} below {rows}")
    place = browser.evaluate("document.getElementById('compare').getBoundingClientRect().top")
    check(-2 < place < 100, f"advice: before and after begin {place} px down")
    press(browser, "#back")
    check(not seen(browser, "compare") and not seen(browser, "changed"), "advice: taken back, it stands there")
    check(before == {what: shown(browser, what) for what in before}, "advice: taken back, the answer is another")
    # Stopped: the answer of before is there, and so is the advice.
    press(browser, "#advice button")
    browser.wait("!document.getElementById('work').hidden")
    press(browser, "#stop")
    browser.wait("!document.getElementById('fault').hidden", 10)
    check("was not tried" in shown(browser, "fault-text") and seen(browser, "answer") and
          shown(browser, "banner") == "AT RISK", f"advice: stopped, {shown(browser, 'fault-text')}")
    press(browser, "#advice button")
    wait_answer(browser)
    press(browser, "#keep")
    press(browser, "#undo")
    check(shown(browser, "banner") == "AT RISK" and not seen(browser, "changed"), "advice: kept, it cannot be undone")
    press(browser, "#advice button")
    wait_answer(browser)
    press(browser, "#keep")
    check(not seen(browser, "compare") and shown(browser, "banner") == "HOLDS" and shown(browser, "changes") == advice,
          f"advice: kept, {shown(browser, 'banner')}, {shown(browser, 'changes')}")
    demo = os.path.join(WORK, "demo")
    report = same_as_program(browser, "kept advice", os.path.join(WORK, "kept-saved"),
                             {os.path.join(demo, n): n for n in ("gourd_pocket.stl", "gourd_skin.stl")})
    check(report["verdict"] == "safe", f"advice: kept, the program says {report['verdict']}")
    tries = saved(browser, "tries.txt", "tries.txt", os.path.join(WORK, "kept-saved/down")).decode()
    check([line for line in tries.splitlines() if line[0] != " "] ==
          [f"{i}. Gourd lantern, left half, basswood: {word}" for i, word in
           ((1, "AT RISK"), (2, "HOLDS"), (3, "HOLDS"), (4, "HOLDS"))] and tries.count("With: " + advice) == 3 and
          f"At worst {rows['At worst'][1]}" in tries, f"tries: {tries}")
    old = bytes_of(os.path.join(demo, "gourd.toml")).splitlines()
    new = bytes_of(os.path.join(WORK, "kept-saved/down/gourd.toml")).splitlines()
    check(len([line for line in new if line not in old]) <= 4 and len(new) >= len(old) - 2,
          "advice: kept, the saved job differs in more than a few lines")
    # A change that the text cannot take is told, and the answer stays.
    browser.evaluate("tryOut({text: 'a key of a part', set: {'part.name': 'x'}})")
    browser.wait("!document.getElementById('fault').hidden", 60)
    check("by hand" in shown(browser, "fault-text") and shown(browser, "banner") == "HOLDS" and
          shown(browser, "changes") == advice, f"advice: {shown(browser, 'fault-text')}")


def type_in(browser, path, text):
    """As if it were typed into the field of that key, and left."""
    browser.evaluate(f"""(function () {{
      const at = document.getElementById('key-{path.replace(".", "-")}');
      if (at.tagName === 'FIELDSET') return [...at.querySelectorAll('input')].find(i => i.value === {json.dumps(text)}).click();
      at.value = {json.dumps(text)};
      at.dispatchEvent(new Event('change', {{bubbles: true}}));
    }})()""")
    browser.wait("judging.then(() => true)", 30)


def field(browser, path, what="value"):
    at = f"document.getElementById('key-{path.replace('.', '-')}')"
    if what == "note":
        return browser.evaluate(f"document.getElementById('note-key-{path.replace('.', '-')}').textContent")
    return browser.evaluate(f"({at}.querySelector('input:checked') || {at}).value")


def form_changed(browser):
    """The demo with its advice kept is on the screen: its set-up changed by the form."""
    demo = os.path.join(WORK, "demo")
    beside = {os.path.join(demo, n): n for n in ("gourd_pocket.stl", "gourd_skin.stl")}
    for path, value in (("limit", "0.5"), ("accepted_chance", "1 in 20"), ("side_a.zero", "top"),
                        ("board.corner", "-120, -65"), ("side_a.bit.ball_radius", "1.5"), ("board.measured", ""),
                        ("flip.line", "along y")):
        check(field(browser, path) == value, f"form: {path} shows {field(browser, path)!r}, not {value!r}")
    check(browser.evaluate("document.querySelectorAll('#first .field').length") == 15, "form: not the dozen first")
    press(browser, "#setup-form [type=submit]")
    check("Nothing is changed" in shown(browser, "note-setup"), f"form: {shown(browser, 'note-setup')}")
    # A wrong value says so at its field, in the words of the reader; nothing is checked with it.
    type_in(browser, "side_a.touch_off", "five")
    check("is not a length" in field(browser, "side_a.touch_off", "note"),
          f"form: {field(browser, 'side_a.touch_off', 'note')}")
    type_in(browser, "side_b.sanding", "200")
    check("is out of range; it must be from 0 mm to 10 mm" in field(browser, "side_b.sanding", "note"),
          f"form: {field(browser, 'side_b.sanding', 'note')}")
    press(browser, "#setup-form [type=submit]")
    browser.wait("document.activeElement.id === 'key-side_a-touch_off'", 30)
    check(not seen(browser, "work") and seen(browser, "note-setup"), "form: checked with a wrong value")
    # Mended; a word by its drawing, a length in inches, bed readings pasted as a table.
    type_in(browser, "side_a.touch_off", "2 thou")
    type_in(browser, "side_b.sanding", "0,08")
    type_in(browser, "board.species", "American basswood")
    type_in(browser, "board.grain", "tangential")
    type_in(browser, "bed.flatness", "")
    check("not known would count as 0" in field(browser, "bed.flatness", "note"),
          f"form: {field(browser, 'bed.flatness', 'note')}")
    check("4 changes" in shown(browser, "unchecked") or "5 changes" in shown(browser, "unchecked"),
          f"form: {shown(browser, 'unchecked')}")
    type_in(browser, "bed.readings", "-130\t-70\t0.02\n130\t-70\t0.05\n-130\t70\t0.01\n130\t70\t0.03")
    type_in(browser, "bed.origin", "0 0")
    type_in(browser, "bed.seating", "pressed")
    check("2 columns" in field(browser, "bed.readings", "note"), f"form: {field(browser, 'bed.readings', 'note')}")
    banner = shown(browser, "banner")
    press(browser, "#setup-form [type=submit]")
    browser.wait("!document.getElementById('work').hidden || !document.getElementById('note-setup').hidden", 30)
    wait_answer(browser)
    check(seen(browser, "compare"), f"form: {shown(browser, 'fault-text')} {shown(browser, 'note-setup')}")
    tried = shown(browser, "tried")
    check("Side A: error of a touch-off, plus or minus: 0.05 \u2192 2 thou" in tried and "4 lines" in tried and
          "Grain: left out \u2192 tangential" in tried, f"form: tried {tried}")
    check(compared(browser)["Verdict"][0] == banner, f"form: {compared(browser)}")
    press(browser, "#keep")
    check(field(browser, "side_a.touch_off") == "2 thou" and field(browser, "board.grain") == "tangential" and
          field(browser, "bed.readings").count("\n") == 3 and field(browser, "bed.flatness") == "",
          "form: the kept values are not in the fields")
    same_as_program(browser, "form", os.path.join(WORK, "form-saved"), beside)
    job = bytes_of(os.path.join(WORK, "form-saved/down/gourd.toml")).decode()
    check('touch_off = "2 thou"' in job and 'sanding = "0,08"' in job and "[-130, -70, 0.02]" in job and
          "#flatness" in job, "form: the saved job does not hold what was typed")
    # What contradicts something else is told at its field too, and what was typed is still there.
    type_in(browser, "flip.located_by", "edges")
    press(browser, "#setup-form [type=submit]")
    browser.wait("!document.getElementById('note-setup').hidden", 60)
    check("dowels are stated too" in shown(browser, "note-setup") and
          field(browser, "flip.located_by") == "edges" and seen(browser, "answer"),
          f"form: {shown(browser, 'note-setup')} {shown(browser, 'fault-text')}")
    for path in ("spacing", "clearance"):
        type_in(browser, "flip.dowels." + path, "")
    press(browser, "#setup-form [type=submit]")
    browser.wait("document.activeElement.id === 'key-flip-line_error'", 60)
    check("flip.line_error is missing" in field(browser, "flip.line_error", "note"),
          f"form: {field(browser, 'flip.line_error', 'note')}")
    type_in(browser, "flip.line_error", "0.02")
    press(browser, "#setup-form [type=submit]")
    browser.wait("!document.getElementById('compare').hidden", 60)
    check("Turning the board over: Line error: left out \u2192 0.02" in shown(browser, "tried"), f"form: {shown(browser, 'tried')}")
    press(browser, "#back")
    type_in(browser, "flip.located_by", "edges")
    press(browser, "#put-back")
    check(field(browser, "flip.located_by") == "dowels" and field(browser, "flip.line_error", "note") == "",
          "form: put back, it is not as the job says")
    press(browser, "#undo")
    check(field(browser, "side_a.touch_off") == "0.05", "form: undone, the field shows the change")
    # A door that changed since: no change in the form answers for it.
    browser.evaluate("chooseMesh('skin', new File(['x'], 'other.stl'))")
    type_in(browser, "limit", "0.4")
    press(browser, "#setup-form [type=submit]")
    browser.wait("!document.getElementById('compare').hidden", 60)
    check(seen(browser, "old") and browser.evaluate("document.getElementById('verdict').dataset.verdict") == "old" and
          browser.evaluate("document.title").startswith("leastwall"),
          "form: the answer passes for that of another mesh")
    browser.evaluate("chooseMesh('skin', null)")


def two_meshes(browser):
    drop(browser, "pocket", {"pocket.stl": bytes_of(os.path.join(PIECE, "pocket.stl"))})
    drop(browser, "skin", {"skin.stl": bytes_of(os.path.join(PIECE, "skin.stl"))})
    browser.wait("document.querySelector('[data-for=skin]').classList.contains('given')")
    check("pocket.stl" in browser.evaluate("document.querySelector('[data-for=pocket]').textContent"),
          "meshes: the name of the pocket is not shown")
    for field, wrong in (("limit", "abc"), ("touch_off", "-0.05"), ("thickness", "")):
        for name, value in {"limit": "0,8", "touch_off": "2 thou", "flatness": "0.15 mm", "thickness": "12"}.items():
            browser.type(name, wrong if name == field else value)
        browser.evaluate("document.getElementById('meshes').requestSubmit()")
        browser.wait("!document.getElementById('work').hidden || !document.getElementById('note-meshes').hidden")
        wait_answer(browser)
        check(seen(browser, "note-" + field) and shown(browser, "note-" + field) and focus(browser) == field,
              f"meshes: {field} = {wrong!r}: note {shown(browser, 'note-' + field)!r}, focus {focus(browser)}, "
              f"{shown(browser, 'fault-text')!r}")
        check(not seen(browser, "answer"), f"meshes: {field} = {wrong!r} gives an answer")
        print(f"  {field} = {wrong!r}: {shown(browser, 'note-' + field)}")
    browser.screenshot(os.path.join(WORK, "wrong_value.png"))
    browser.type("thickness", "12")
    browser.evaluate("document.getElementById('meshes').requestSubmit()")
    browser.wait("document.getElementById('note-meshes').hidden")
    wait_answer(browser)
    report = same_as_program(browser, "meshes", os.path.join(WORK, "meshes-saved"),
                             {os.path.join(PIECE, n): n for n in ("pocket.stl", "skin.stl")})
    check(abs(report["limit_mm"] - 0.8) < 1e-9, f"meshes: limit {report['limit_mm']}, 0,8 was typed")
    check("0.051 mm" in json.dumps(report["causes"]), "meshes: 2 thou are not 0.051 mm")
    # A mesh that is none: the note stands at its place.
    drop(browser, "skin", {"skin.stl": b"solid nothing"})
    browser.evaluate("document.getElementById('meshes').requestSubmit()")
    browser.wait("!document.getElementById('note-skin').hidden")
    print("  broken skin:", shown(browser, "note-skin"))


def jobs(browser):
    names = ["trough.toml", "pocket.stl", "skin.stl"]
    choose(browser, "job", [os.path.join(PIECE, n) for n in names])
    browser.wait("!document.getElementById('check-job').disabled")
    browser.evaluate("document.getElementById('check-job').click()")
    browser.wait("!document.getElementById('answer').hidden || !document.getElementById('fault').hidden", 120)
    same_as_program(browser, "job", os.path.join(WORK, "job-saved"),
                    {os.path.join(PIECE, n): n for n in names[1:]})
    text = bytes_of(os.path.join(PIECE, "trough.toml"))
    meshes = {n: bytes_of(os.path.join(PIECE, n)) for n in names[1:]}

    def ask(files):
        browser.evaluate("document.getElementById('fault').hidden = document.getElementById('answer').hidden = true")
        drop(browser, "job", files)
        browser.wait(f"document.querySelectorAll('#job-files li').length === {min(len(files), 30)}")
        if browser.evaluate("document.getElementById('check-job').disabled"):
            return shown(browser, "note-job")
        browser.evaluate("document.getElementById('check-job').click()")
        browser.wait("!document.getElementById('answer').hidden || !document.getElementById('fault').hidden || "
                     "!document.getElementById('note-job').hidden", 60)
        return shown(browser, "note-job") or shown(browser, "fault-text") if not seen(browser, "answer") else "answer"

    elsewhere = text.replace(b'"skin.stl"', b'"..\\\\meshes\\\\Skin.STL"').replace(b'"pocket.stl"', b"'/home/me/pocket.stl'")
    check(ask({"trough.toml": elsewhere, **meshes}) == "answer", "job: files named elsewhere are not found by name")
    used = shown(browser, "used")
    check(all(word in used for word in ("Skin.STL", "file skin.stl", "/home/me/pocket.stl", "file pocket.stl")),
          f"job: files that stand in are not told: {used}")
    check(ask({"trough.toml": text, **meshes}) == "answer" and not seen(browser, "used"),
          f"job: {shown(browser, 'used')} where every file lies as it is named")

    def ask_for(paths):
        """As a drop of these files, [(path, bytes)], of folders or of two with one path."""
        packed = [(path, base64.b64encode(data).decode()) for path, data in paths]
        browser.evaluate("document.getElementById('fault').hidden = true; clearAnswer(); chooseJob("
                         f"{json.dumps(packed)}.map(([path, text]) => ({{path, file: new File("
                         "[Uint8Array.from(atob(text), c => c.charCodeAt(0))], path.split('/').pop())})));"
                         "document.getElementById('check-job').click()")
        browser.wait("!asking && (!document.getElementById('answer').hidden || "
                     "!document.getElementById('fault').hidden || !document.getElementById('note-job').hidden)", 60)
        return "answer" if seen(browser, "answer") else shown(browser, "note-job") or shown(browser, "fault-text")

    said = ask_for([("trough.toml", text), ("pocket.stl", meshes["pocket.stl"]), ("skin.stl", meshes["skin.stl"]),
                    ("skin.stl", meshes["pocket.stl"])])
    check("two of the files are called skin.stl" in said, f"job: two files with one path: {said}")
    # In a folder nothing stands in for a file that is not where the job says.
    inside = [("piece/trough.toml", text), ("piece/pocket.stl", meshes["pocket.stl"])]
    said = ask_for([*inside, ("piece/old/skin.stl", meshes["skin.stl"])])
    check("skin.stl" in said and "no such file" in said, f"job: a file of another folder was read: {said}")
    check(ask_for([*inside, ("piece/skin.stl", meshes["skin.stl"])]) == "answer", "job: a folder is not read")
    # What no job is, is refused at once.
    for hostile in (b'x = "' + b'\\"' * 40000, b"'" * 400000, b'x = ["a",\n' * 80000):
        began = time.time()
        said = ask_for([("a.toml", hostile), *[(f"{i}.stl", b"") for i in range(40)]])
        check("a.toml" in said and time.time() - began < 5, f"job: {time.time() - began:.1f} s, {said[:80]}")
    said = ask({"trough.toml": text, "pocket.stl": meshes["pocket.stl"]})
    check("skin" in said and "no such file" in said, f"job without a mesh: {said}")
    check("No job file" in ask(meshes), "job: no job file is not told")
    check("name it trough.toml" in ask({"trough.toml.txt": text, **meshes}), "job: a hidden .txt is not told")
    check("2 job files" in ask({"a.toml": text, "b.toml": text}), "job: two job files are not told")
    both = text.replace(b'"skin.stl"', b'"a/same.stl"').replace(b'"pocket.stl"', b'"b/same.stl"')
    said = ask({"trough.toml": both, "same.stl": meshes["skin.stl"]})
    check("a/same.stl" in said and "b/same.stl" in said and "folder" in said, f"job: one file for two names: {said}")
    # Names and texts of files are shown as text, whatever they hold.
    evil = "<img src=x onerror=alert(1)>.toml"
    title = b'title = "<script>document.title=1</script><img src=x onerror=document.title=2>"\n'
    said = ask({evil: title + text.split(b"\n", 1)[1], **meshes})
    check(said == "answer", f"hostile names: {said}")
    check("<script>" in shown(browser, "piece"), "hostile title: not shown as it is")
    check(browser.evaluate("document.querySelectorAll('main img, main script').length") == 0,
          "hostile names became elements")
    frame_says(browser, "hostile title")
    said = ask({evil: b"limit = <b>&", **meshes})
    check("<b>" in said or "line" in said or ":1:" in said, f"hostile job: {said}")
    check(browser.evaluate("document.querySelectorAll('main b').length") ==
          browser.evaluate("document.querySelectorAll('#intro b, .drop b').length"), "a hostile job became elements")


def what_is_shown(browser):
    """An answer never stands unmarked beside what it is not of, and a file written anew can be chosen again."""
    folder = os.path.join(WORK, "again")
    os.makedirs(folder, exist_ok=True)
    for name in ("pocket.stl", "skin.stl"):
        shutil.copy(os.path.join(PIECE, name), folder)
    meshes = [os.path.join(folder, name) for name in ("pocket.stl", "skin.stl")]
    for field, value in {"limit": "0.8", "touch_off": "0.05", "flatness": "0.1", "thickness": "12"}.items():
        browser.type(field, value)

    def look():
        choose(browser, "pocket", [meshes[0]])
        choose(browser, "skin", [meshes[1]])
        browser.evaluate("document.getElementById('meshes').requestSubmit()")
        browser.wait("!asking && (!document.getElementById('answer').hidden || "
                     "!document.getElementById('fault').hidden || !document.getElementById('note-meshes').hidden)", 60)

    look()
    check(seen(browser, "answer") and not seen(browser, "old"), f"again: {shown(browser, 'fault-text')}")
    with open(meshes[1], "ab") as file:
        file.write(b"\n")
    browser.evaluate("document.getElementById('meshes').requestSubmit()")
    browser.wait("!document.getElementById('fault').hidden", 20)
    check(not seen(browser, "answer") and "could not be read" in shown(browser, "fault-text"),
          f"again: a file that has changed: {shown(browser, 'fault-text')}")
    look()
    check(seen(browser, "answer"), f"again: chosen anew: {shown(browser, 'fault-text')}")
    # Anything chosen or typed since marks the answer.
    for change in ("by('limit').value = '0.9'; by('limit').dispatchEvent(new Event('input', {bubbles: true}))",
                   "by('units').dispatchEvent(new Event('change'))", "chooseMesh('skin', chosen.pocket)", "chooseJob([])"):
        look()
        check(browser.evaluate("by('verdict').dataset.verdict") != "old", "again: marked as old at once")
        browser.evaluate(change)
        check(seen(browser, "old") and browser.evaluate("by('verdict').dataset.verdict") == "old",
              f"again: not marked after {change}")
    # One request at a time, from the click on.
    browser.evaluate("by('limit').value = '0.8'")
    look()
    browser.evaluate("""(function () {
      by('meshes').requestSubmit();
      by('limit').value = '0.1';
      by('meshes').requestSubmit();
      by('demo').click();
    })()""")
    browser.wait("!asking && !document.getElementById('answer').hidden", 60)
    check("0.800 mm" in shown(browser, "figures") and "Gourd" not in shown(browser, "piece"),
          f"again: two requests: {shown(browser, 'figures')}")
    # What is not known is asked for, never counted as 0 unseen.
    browser.type("flatness", "")
    browser.evaluate("document.getElementById('meshes').requestSubmit()")
    check(seen(browser, "note-flatness") and focus(browser) == "flatness" and not seen(browser, "answer"),
          f"again: a bed that no one knows: {shown(browser, 'note-flatness')}")
    browser.type("flatness", "0.1")
    look()
    check(not seen(browser, "used"), "again: changes are said to be lost, and there were none")
    browser.evaluate("tryOut({text: 'a better touch', set: {'side_a.touch_off': 0.01}})")
    browser.wait("!asking && !document.getElementById('compare').hidden", 60)
    press(browser, "#keep")
    look()
    check("The change kept before is not in this answer" in shown(browser, "used"),
          f"again: a kept change is gone without a word: {shown(browser, 'used')}")
    # Names beyond the first plane of Unicode, and those that the job itself has.
    for names in (("p\U0001F600.stl", "skin.stl"), ("piece.toml", "skin-piece.toml"), ("x.stl", "x.stl")):
        drop(browser, "pocket", {names[0]: bytes_of(meshes[0])})
        drop(browser, "skin", {names[1]: bytes_of(meshes[1])})
        browser.wait(f"chosen.pocket.name === {json.dumps(names[0])} && chosen.skin.name === {json.dumps(names[1])}")
        browser.evaluate("by('limit').value = '0.8'; by('meshes').requestSubmit()")
        browser.wait("!asking", 60)
        said = shown(browser, "fault-text") + shown(browser, "note-pocket") + shown(browser, "note-skin")
        stl = names[1].endswith(".stl")
        check(seen(browser, "answer") == stl and (stl or "toml" in said), f"again: {names}: {said}")
    drop(browser, "skin", {"x.stl": b"solid nothing"})
    browser.wait("chosen.skin.size === 13")
    browser.evaluate("by('meshes').requestSubmit()")
    browser.wait("!asking", 60)
    check(seen(browser, "note-skin") and not seen(browser, "note-pocket"),
          f"again: two of one name: {shown(browser, 'note-pocket')}, {shown(browser, 'note-skin')}")
    browser.type("limit", "0,8")


DAMAGED = 200


def boxes(kind, low, high):
    """A closed box as a text file."""
    corners = [(x, y, z) for z in (low[2], high[2]) for y in (low[1], high[1]) for x in (low[0], high[0])]
    quads = [(0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5)]
    facets = [f for a, b, c, d in quads for f in ((a, b, c), (a, c, d))]
    if kind == "stl":
        lines = ["solid box"]
        for facet in facets:
            lines += ["facet normal 0 0 0", "outer loop", *("vertex %g %g %g" % corners[i] for i in facet),
                      "endloop", "endfacet"]
        lines.append("endsolid box")
    elif kind == "obj":
        lines = ["v %g %g %g" % c for c in corners] + ["f %d %d %d" % tuple(i + 1 for i in f) for f in facets]
    elif kind == "off":
        lines = ["OFF", "8 12 0"] + ["%g %g %g" % c for c in corners] + ["3 %d %d %d" % f for f in facets]
    else:
        lines = ["ply", "format ascii 1.0", "element vertex 8", "property float x", "property float y",
                 "property float z", "element face 12", "property list uchar int vertex_indices", "end_header"]
        lines += ["%g %g %g" % c for c in corners] + ["3 %d %d %d" % f for f in facets]
    return ("\n".join(lines) + "\n").encode()


def damaged(random, data):
    """Bytes changed, lost, doubled, or cut short."""
    data = bytearray(data)
    for _ in range(random.randint(1, 4)):
        at = random.randrange(len(data))
        way = random.randrange(4)
        if way == 0:
            data[at] = random.randrange(256)
        elif way == 1:
            del data[at:at + random.randint(1, 40)]
        elif way == 2:
            data[at:at] = data[at:at + random.randint(1, 60)]
        else:
            data = data[:max(1, at)]
    return bytes(data)


def damaged_files(browser):
    """Damaged meshes and jobs, one after the other through the page: an answer or a line each, and it lives on."""
    random = __import__("random").Random(20)
    tasks = []
    for i in range(DAMAGED):
        kind = ("stl", "obj", "off", "ply", "job")[i % 5]
        mesh = "stl" if kind == "job" else kind
        files = {f"pocket.{mesh}": boxes(mesh, (-20, -15, -8), (20, 15, 0)),
                 f"skin.{mesh}": boxes(mesh, (-22, -17, -10), (22, 17, 0)),
                 "job.toml": (f'units = "mm"\nlimit = 0.5\n[board]\nthickness = 20\n[side_a]\nzero = "top"\n'
                              f'touch_off = 0.05\n[side_b]\nzero = "top"\ntouch_off = 0.05\n[bed]\nflatness = 0.1\n'
                              f'[[part]]\nskin = "skin.{mesh}"\n[part.placing]\nunits = "mm"\n[[part.pocket]]\n'
                              f'mesh = "pocket.{mesh}"\n').encode()}
        hit = "job.toml" if kind == "job" else list(files)[i // 5 % 2]
        files[hit] = damaged(random, files[hit])
        tasks.append({name: base64.b64encode(data).decode() for name, data in files.items()})
    began = time.time()
    ends = []
    for start in range(0, len(tasks), 20):
        ends += json.loads(browser.evaluate(f"""(async function () {{
          const ends = [];
          for (const files of {json.dumps(tasks[start:start + 20])}) {{
            const all = Object.entries(files).map(([path, text]) =>
              ({{path, bytes: Uint8Array.from(atob(text), c => c.charCodeAt(0)).buffer}}));
            const {{answer, fault}} = await work.run({{work: 'job', folder: '', name: 'job.toml', sets: [], files: all}},
              all.map(({{bytes}}) => bytes));
            ends.push(fault ? [-1, fault] : [answer.status, answer.message]);
          }}
          return JSON.stringify(ends);
        }})()""", 120))
    for i, (status, message) in enumerate(ends):
        good = status in (0, 1) or status in (2, 3) and message.startswith("leastwall: ") and "\n" not in message
        check(good, f"damaged file {i}: status {status}, {message[:200]}")
    counted = {status: sum(1 for one, _ in ends if one == status) for status in (0, 1, 2, 3, -1)}
    print(f"  {len(ends)} damaged files: {counted}, {time.time() - began:.0f} s")
    check(len(ends) == DAMAGED and counted[2] > DAMAGED / 3, f"damaged files: {counted}")
    browser.evaluate("document.getElementById('demo').click()")
    wait_answer(browser)
    check(shown(browser, "banner") == "AT RISK", f"after damaged files: {shown(browser, 'banner')}")


def stop_and_faults(browser):
    browser.evaluate("document.getElementById('demo').click()")
    browser.wait("!document.getElementById('work').hidden")
    check(focus(browser) == "stop", f"stop: the focus is on {focus(browser)}")
    began = time.time()
    browser.evaluate("document.getElementById('stop').click()")
    browser.wait("!document.getElementById('fault').hidden", 10)
    check("Stopped" in shown(browser, "fault-text") and time.time() - began < 2,
          f"stop: {shown(browser, 'fault-text')}")
    check(browser.evaluate("document.getElementById('limit').value") == "0,8", "stop: what was typed is gone")
    # A fault of the module is told, and the page goes on.
    browser.evaluate("ask(() => ({message: {work: 'nothing'}, bytes: []}))")
    browser.wait("document.getElementById('fault-text').textContent.includes('inside the module')", 20)
    print("  fault:", shown(browser, "fault-text"))
    browser.evaluate("document.getElementById('demo').click()")
    browser.wait("!document.getElementById('work').hidden")
    wait_answer(browser)
    check(seen(browser, "answer"), "after a fault the next check gives no answer")
    # Larger than any browser holds: told before it is read.
    browser.evaluate("""(function () {
      const huge = new File(['x'], 'huge.stl');
      Object.defineProperty(huge, 'size', {value: 3e9});
      chooseMesh('skin', huge);
    })()""")
    check("memory" in shown(browser, "note-skin"), f"too large: {shown(browser, 'note-skin')}")
    browser.evaluate("document.getElementById('meshes').requestSubmit()")
    browser.wait("!document.getElementById('note-meshes').hidden")
    check("GB" in shown(browser, "note-meshes") or "MB" in shown(browser, "note-meshes"),
          f"too large: {shown(browser, 'note-meshes')}")


def pictures(browser):
    """Every width and both themes, with an answer on the screen."""
    for width, height, name in ((390, 844, "phone"), (820, 1180, "tablet"), (1440, 900, "desktop")):
        for theme in ("light", "dark"):
            browser.size(width, height, 2 if width < 500 else 1, width < 900)
            browser.theme(theme)
            browser.open(PAGE)
            browser.wait("!!document.getElementById('demo')")
            layout(browser, f"{name}, {theme}, first screen")
            accessible(browser, f"{name}, {theme}, first screen")
            browser.screenshot(os.path.join(WORK, f"{name}_{theme}.png"), whole=True)
            if name == "tablet":
                continue
            browser.evaluate("document.getElementById('demo').click()")
            browser.wait("!document.getElementById('work').hidden")
            layout(browser, f"{name}, {theme}, at work")
            browser.screenshot(os.path.join(WORK, f"{name}_{theme}_work.png"))
            wait_answer(browser)
            time.sleep(1.5)  # the solid view in the frame is drawn
            layout(browser, f"{name}, {theme}, answer")
            accessible(browser, f"{name}, {theme}, answer")
            browser.screenshot(os.path.join(WORK, f"{name}_{theme}_answer.png"))
            check(browser.evaluate("document.getElementById('setup-all').open") == (width >= 800),
                  f"{name}: the form is folded or not")
            browser.evaluate("document.getElementById('setup-all').open = true; "
                             "document.getElementById('setup').scrollIntoView(); "
                             "document.querySelector('#others details').open = true")
            layout(browser, f"{name}, {theme}, form")
            accessible(browser, f"{name}, {theme}, form")
            browser.screenshot(os.path.join(WORK, f"{name}_{theme}_form.png"))
            browser.evaluate("document.getElementById('page').scrollIntoView()")
            time.sleep(0.5)
            browser.screenshot(os.path.join(WORK, f"{name}_{theme}_page.png"))
            press(browser, "#advice button")
            wait_answer(browser)
            time.sleep(1.5)
            layout(browser, f"{name}, {theme}, tried")
            accessible(browser, f"{name}, {theme}, tried")
            browser.screenshot(os.path.join(WORK, f"{name}_{theme}_tried.png"))
            quiet(browser, f"{name}, {theme}")


def main():
    if not os.path.exists(PAGE) or not shutil.which("chromium"):
        print("left out: the page for browsers was not built (scripts/browser.sh builds it)")
        sys.exit(77)
    shutil.rmtree(WORK, ignore_errors=True)
    os.makedirs(WORK)
    bytes_held = os.path.getsize(PAGE)
    print(f"leastwall.html: {bytes_held} bytes")
    check(bytes_held < MOST_PAGE_BYTES, f"the page holds {bytes_held} bytes, at most {MOST_PAGE_BYTES}")
    browser = Browser()
    try:
        browser.call("DOM.enable")
        browser.size(1280, 900)
        seconds = browser.open(PAGE)
        began = time.time()
        browser.evaluate("work.ready()")
        print(f"loaded in {seconds:.2f} s, the engine ready {time.time() - began:.2f} s later")
        for step in (demo_by_keyboard, advice_tried, form_changed, two_meshes, jobs, what_is_shown, stop_and_faults, damaged_files):
            print(step.__name__)
            step(browser)
            quiet(browser, step.__name__)
        pictures(browser)
    finally:
        browser.close()
    if not AXE:
        print("axe-core was not there: its rules were not tried")
    print(f"{len(faults)} faults")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
