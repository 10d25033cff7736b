#!/usr/bin/env python3
"""leastwall.html in a browser other than Chromium: the short way through.

other_browser_test.py firefox|webkit PROGRAM SOURCE_DIR BROWSER_BUILD WORK_DIR

Debian's Firefox by its own remote protocol (Marionette: JSON over TCP, each message led by its length); WebKit's
MiniBrowser by WebDriver (W3C recommendation: JSON over HTTP), on a screen that nobody sees (Xvfb). The demo, an
advice tried and undone, two meshes given through the file fields. What is shown must be what the program finds.
Status 77 (left out) where the browser or the page is not there.
"""
import base64
import glob
import json
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request

KIND = sys.argv[1]
PROGRAM, SOURCE, BUILD, WORK = (os.path.abspath(p) for p in sys.argv[2:6])
PAGE = os.path.join(BUILD, "leastwall.html")
PIECE = os.path.join(SOURCE, "tests/golden/piece")
FIREFOX = shutil.which("firefox-esr") or shutil.which("firefox")
DRIVER, SCREEN = shutil.which("WebKitWebDriver"), shutil.which("Xvfb")
MINI = next(iter(sorted(glob.glob("/usr/lib/*/webkit2gtk-4*/MiniBrowser"))), None)
faults = []


def check(good, what):
    if not good:
        faults.append(what)
        print("WRONG:", what)


def free_port():
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return free.getsockname()[1]


def end(process):
    process.terminate()
    try:
        process.wait(20)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


class Browser:
    """What is asked of either."""

    def wait(self, expression, seconds=180):
        until = time.time() + seconds
        while time.time() < until:
            if self.evaluate(expression):
                return
            time.sleep(0.05)
        raise RuntimeError(f"did not come true: {expression}")

    def pages_of_tab(self, selector, seconds=30):
        """How many pages of paper the tab has that the button opens; back at the first window."""
        first, = self.handles()
        self.press(selector)
        until, pages = time.time() + seconds, 0
        while not pages and time.time() < until:
            time.sleep(0.2)
            for handle in self.handles():
                if handle == first:
                    continue
                self.look_at(handle)
                if self.evaluate("document.readyState === 'complete' && location.protocol === 'blob:'"):
                    pages = self.evaluate("document.querySelectorAll('.page > svg').length")
            self.look_at(first)
        return pages

    def type(self, element, text):
        self.evaluate(f"(document.getElementById('{element}').value = {json.dumps(text)}, "
                      f"document.getElementById('{element}').dispatchEvent(new Event('input', {{bubbles: true}})))")


class Firefox(Browser):
    """One window, without a screen."""

    def __init__(self):
        self.profile = tempfile.mkdtemp(prefix="leastwall-firefox-")
        port = free_port()
        with open(os.path.join(self.profile, "user.js"), "w", encoding="utf-8") as file:
            file.write(f'user_pref("marionette.port", {port});\n'
                       'user_pref("datareporting.policy.dataSubmissionEnabled", false);\n'
                       'user_pref("browser.shell.checkDefaultBrowser", false);\n')
        home = os.path.join(self.profile, "home")
        os.makedirs(home)
        self.process = subprocess.Popen([FIREFOX, "--headless", "--marionette", "--no-remote", "--profile", self.profile],
                                        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                                        env={**os.environ, "HOME": home, "MOZ_HEADLESS": "1"})
        until = time.time() + 90
        while True:
            try:
                self.link = socket.create_connection(("127.0.0.1", port), timeout=180)
                break
            except OSError:
                if time.time() > until or self.process.poll() is not None:
                    raise RuntimeError("Firefox does not answer") from None
                time.sleep(0.2)
        self.number, self.buffer = 0, b""
        self.message()  # who it is
        self.call("WebDriver:NewSession", {})

    def message(self):
        while True:
            head, colon, rest = self.buffer.partition(b":")
            if colon and len(rest) >= int(head):
                self.buffer = rest[int(head):]
                return json.loads(rest[:int(head)])
            more = self.link.recv(1 << 16)
            if not more:
                raise RuntimeError("Firefox has ended")
            self.buffer += more

    def call(self, name, values):
        self.number += 1
        data = json.dumps([0, self.number, name, values]).encode()
        self.link.sendall(str(len(data)).encode() + b":" + data)
        _, _, error, answer = self.message()
        if error:
            raise RuntimeError(f"{name}: {error['message']}")
        return answer["value"] if isinstance(answer, dict) and set(answer) == {"value"} else answer

    def open(self, url):
        self.call("WebDriver:Navigate", {"url": url})

    def evaluate(self, expression):
        return self.call("WebDriver:ExecuteScript", {"script": f"return ({expression});", "args": []})

    def give(self, element, path):
        """As the file picker does."""
        found = self.call("WebDriver:FindElement", {"using": "css selector", "value": "#" + element})
        self.call("WebDriver:ElementSendKeys", {"id": next(iter(found.values())), "text": path})

    def press(self, selector):
        """As a person does: what it opens is asked for."""
        found = self.call("WebDriver:FindElement", {"using": "css selector", "value": selector})
        self.call("WebDriver:ElementClick", {"id": next(iter(found.values()))})

    def handles(self):
        return self.call("WebDriver:GetWindowHandles", {})

    def look_at(self, handle):
        self.call("WebDriver:SwitchToWindow", {"handle": handle})

    def screenshot(self):
        return base64.b64decode(self.call("WebDriver:TakeScreenshot", {"full": False}))

    def close(self):
        self.link.close()
        end(self.process)
        shutil.rmtree(self.profile, ignore_errors=True)


class WebKit(Browser):
    """One window of MiniBrowser."""

    def __init__(self):
        self.home = tempfile.mkdtemp(prefix="leastwall-webkit-")
        number = next(n for n in range(90, 190) if not os.path.exists(f"/tmp/.X11-unix/X{n}"))
        self.screen = subprocess.Popen([SCREEN, f":{number}", "-screen", "0", "1280x1024x24", "-nolisten", "tcp"],
                                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        until = time.time() + 20
        while not os.path.exists(f"/tmp/.X11-unix/X{number}") and time.time() < until:
            time.sleep(0.1)
        self.address = f"http://127.0.0.1:{free_port()}"
        # Its own sandbox asks for name spaces that a container does not give; what is opened is our page alone.
        self.process = subprocess.Popen(
            [DRIVER, "--port=" + self.address.rsplit(":", 1)[1]], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            env={**os.environ, "HOME": self.home, "DISPLAY": f":{number}", "GDK_BACKEND": "x11",
                 "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1", "LIBGL_ALWAYS_SOFTWARE": "1"})
        until = time.time() + 30
        while True:
            try:
                self.ask("/status")
                break
            except OSError:
                if time.time() > until:
                    raise RuntimeError("WebKitWebDriver does not answer") from None
                time.sleep(0.2)
        made = self.ask("/session", {"capabilities": {"alwaysMatch": {
            "webkitgtk:browserOptions": {"binary": MINI, "args": ["--automation"]}}}})
        self.session = "/session/" + made["sessionId"]

    def ask(self, path, values=None):
        data = None if values is None else json.dumps(values).encode()
        request = urllib.request.Request(self.address + path, data, {"Content-Type": "application/json"})
        try:
            with urllib.request.urlopen(request, timeout=180) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as error:
            raise RuntimeError(f"{path}: {error.read().decode()[:300]}") from None

    def open(self, url):
        self.ask(self.session + "/url", {"url": url})

    def evaluate(self, expression):
        return self.ask(self.session + "/execute/sync", {"script": f"return ({expression});", "args": []})

    def give(self, element, path):
        """As the file picker does."""
        found = self.ask(self.session + "/element", {"using": "css selector", "value": "#" + element})
        self.ask(f"{self.session}/element/{next(iter(found.values()))}/value", {"text": path})

    def press(self, selector):
        """As a person does: what it opens is asked for."""
        found = self.ask(self.session + "/element", {"using": "css selector", "value": selector})
        self.ask(f"{self.session}/element/{next(iter(found.values()))}/click", {})

    def handles(self):
        return self.ask(self.session + "/window/handles")

    def look_at(self, handle):
        self.ask(self.session + "/window", {"handle": handle})

    def screenshot(self):
        return base64.b64decode(self.ask(self.session + "/screenshot"))

    def close(self):
        end(self.process)
        end(self.screen)
        shutil.rmtree(self.home, ignore_errors=True)


def shown(browser, element):
    return browser.evaluate(f"document.getElementById('{element}').textContent")


def wait_answer(browser):
    browser.wait("!document.getElementById('answer').hidden || !document.getElementById('fault').hidden || "
                 "!document.getElementById('note-meshes').hidden")
    check(browser.evaluate("!document.getElementById('answer').hidden"),
          f"no answer: {shown(browser, 'fault-text')} {shown(browser, 'note-meshes')}")


def found_by_program(job, folder):
    """What the program's JSON says of a job."""
    out = os.path.join(WORK, "check.json")
    run = subprocess.run([PROGRAM, "check", job, "--json", out, "--quiet"], cwd=folder, capture_output=True,
                         text=True, check=False)
    check(run.returncode < 2, f"{job}: {run.stderr}")
    with open(out, encoding="utf-8") as file:
        return json.load(file)


def same(browser, name, report):
    banner, sentence = shown(browser, "banner"), shown(browser, "sentence")
    check(banner and banner in report["headline"], f"{name}: {banner!r} is not in {report['headline']!r}")
    least = f"{report['least_wall']['expected_mm']:.3f}"
    check(least in sentence or least in shown(browser, "figures"), f"{name}: {least} is not in {sentence!r}")


def walk(browser):
    browser.open("file://" + PAGE)
    check(not browser.evaluate("!document.getElementById('unfit').hidden"), "the page says that it cannot run here")
    began = time.time()
    browser.evaluate("document.getElementById('demo').click()")
    wait_answer(browser)
    print(f"demo: {time.time() - began:.1f} s in {KIND}; {shown(browser, 'timing')}")
    demo = os.path.join(WORK, "demo")
    subprocess.run([PROGRAM, "start", demo], check=True, capture_output=True)
    same(browser, "demo", found_by_program("gourd.toml", demo))
    with open(os.path.join(WORK, "demo.png"), "wb") as file:
        file.write(browser.screenshot())
    # An advice, and back.
    before = shown(browser, "banner")
    browser.evaluate("document.querySelector('#advice button').click()")
    browser.wait("!document.getElementById('compare').hidden")
    check(shown(browser, "compared").startswith("Verdict"), "advice: before and after are not shown")
    check(shown(browser, "banner") != before, "advice: it changed nothing")
    browser.evaluate("document.getElementById('undo').click()")
    browser.wait(f"document.getElementById('banner').textContent === {json.dumps(before)}")
    # The sheet opens in a tab of its own: two sides, the thinnest place, two overlays.
    pages = browser.pages_of_tab("[data-print='setup-sheet']")
    check(pages == 5, f"the sheet has {pages} pages")
    # Two meshes; first one number too few.
    browser.give("pocket", os.path.join(PIECE, "pocket.stl"))
    browser.give("skin", os.path.join(PIECE, "skin.stl"))
    browser.type("limit", "0,8 mm")
    browser.type("touch_off", "0.03")
    browser.type("thickness", "12")
    browser.type("flatness", "")
    browser.evaluate("document.querySelector('#meshes button.main').click()")
    browser.wait("!document.getElementById('note-flatness').hidden")
    browser.type("flatness", "0.05")
    browser.evaluate("document.querySelector('#meshes button.main').click()")
    browser.wait("document.getElementById('note-flatness').hidden")
    wait_answer(browser)
    check("0.800" in shown(browser, "sentence"), f"two meshes: {shown(browser, 'sentence')!r}")
    check(shown(browser, "piece") == "skin", f"two meshes: {shown(browser, 'piece')!r}")
    requests = browser.evaluate("performance.getEntriesByType('resource').filter(e => /^http/.test(e.name)).length")
    check(requests == 0, f"{requests} requests")


def main():
    there = {"firefox": [FIREFOX], "webkit": [DRIVER, SCREEN, MINI]}[KIND]
    if not all(there) or not os.path.exists(PAGE):
        print(f"left out: {KIND} is not installed, or the page for browsers was not built")
        sys.exit(77)
    shutil.rmtree(WORK, ignore_errors=True)
    os.makedirs(WORK)
    browser = Firefox() if KIND == "firefox" else WebKit()
    try:
        walk(browser)
    finally:
        browser.close()
    if faults:
        sys.exit(f"{len(faults)} faults")
    print(f"{KIND} shows what the program finds")


if __name__ == "__main__":
    main()
