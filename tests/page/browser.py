"""Chromium driven over its DevTools pipe: file descriptors 3 and 4, JSON ended by a zero byte.

Nothing but the standard library and the Debian package chromium."""

import base64
import json
import os
import select
import shutil
import subprocess
import tempfile
import time

FLAGS = [
    "--headless=new", "--no-sandbox", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-dev-shm-usage", "--hide-scrollbars", "--mute-audio", "--remote-debugging-pipe",
]
SOFTWARE_3D = ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
NO_3D = ["--disable-gpu", "--disable-3d-apis"]
# How Chromium words it that the page asked is gone before it answered.
LEFT = ["navigated or closed", "context was destroyed", "Cannot find context", "Cannot find default"]


class Left(RuntimeError):
    """The page was left before it answered: another loads."""


class Browser:
    """One Chromium with one page. `events` holds what the page reported."""

    def __init__(self, with_3d=True):
        self.profile = tempfile.mkdtemp(prefix="leastwall-page-")
        to_read, self.to_browser = os.pipe()
        self.from_browser, to_write = os.pipe()
        # The browser wants its ends as 3 and 4; copies above that range cannot be overwritten.
        ends = [os.dup2(to_read, 60, inheritable=True), os.dup2(to_write, 61, inheritable=True)]
        os.close(to_read)
        os.close(to_write)
        command = " ".join(["exec", "chromium", *FLAGS, *(SOFTWARE_3D if with_3d else NO_3D),
                            f"--user-data-dir={self.profile}", "about:blank", "3<&60", "4>&61"])
        self.process = subprocess.Popen(["bash", "-c", command], pass_fds=ends,
                                        stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                                        stderr=subprocess.DEVNULL)
        for end in ends:
            os.close(end)
        self.number = 0
        self.buffer = b""
        self.events = []
        target = next(t for t in self.call("Target.getTargets")["targetInfos"]
                      if t["type"] == "page")
        self.session = self.call("Target.attachToTarget",
                                 {"targetId": target["targetId"], "flatten": True})["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.call(domain + ".enable")

    def close(self):
        try:
            self.session = None
            self.call("Browser.close", timeout=10)
            self.process.wait(10)
        except (OSError, RuntimeError, subprocess.TimeoutExpired):
            self.process.kill()
            self.process.wait()
        os.close(self.to_browser)
        os.close(self.from_browser)
        shutil.rmtree(self.profile, ignore_errors=True)

    def _message(self, until):
        while b"\0" not in self.buffer:
            ready, _, _ = select.select([self.from_browser], [], [], max(0, until - time.time()))
            if not ready:
                raise RuntimeError("the browser did not answer in time")
            more = os.read(self.from_browser, 1 << 20)
            if not more:
                raise RuntimeError("the browser ended")
            self.buffer += more
        message, self.buffer = self.buffer.split(b"\0", 1)
        return json.loads(message)

    def call(self, method, params=None, timeout=60):
        self.number += 1
        message = {"id": self.number, "method": method, "params": params or {}}
        if getattr(self, "session", None):
            message["sessionId"] = self.session
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self.to_browser, data):]
        until = time.time() + timeout
        while True:
            answer = self._message(until)
            if answer.get("id") == self.number:
                if "error" in answer:
                    text = answer["error"]["message"]
                    kind = Left if any(words in text for words in LEFT) else RuntimeError
                    raise kind(f"{method}: {text}")
                return answer["result"]
            if "method" in answer:
                self.events.append(answer)

    def size(self, width, height, scale=1, mobile=False):
        self.call("Emulation.setDeviceMetricsOverride", {
            "width": width, "height": height, "deviceScaleFactor": scale, "mobile": mobile})

    def theme(self, value):
        self.call("Emulation.setEmulatedMedia",
                  {"features": [{"name": "prefers-color-scheme", "value": value}]})

    def open(self, path):
        """Opens a file and waits for its load event; returns the seconds that took."""
        self.events.clear()
        start = time.time()
        self.call("Page.navigate", {"url": "file://" + os.path.abspath(path)})
        while not any(e["method"] == "Page.loadEventFired" for e in self.events):
            try:
                self.evaluate("1")
            except Left:
                pass
            time.sleep(0.01)
        return time.time() - start

    def evaluate(self, expression, timeout=60):
        result = self.call("Runtime.evaluate", {"expression": expression, "returnByValue": True,
                                                "awaitPromise": True}, timeout)
        if "exceptionDetails" in result:
            detail = result["exceptionDetails"]
            raise RuntimeError(detail.get("exception", {}).get("description", detail["text"]))
        return result["result"].get("value")

    def wait(self, expression, seconds=30):
        """Waits until the expression is true. A page that is left while it is asked has not answered
        yet: the next page is asked."""
        until = time.time() + seconds
        while time.time() < until:
            try:
                if self.evaluate(expression):
                    return
            except Left:
                pass
            time.sleep(0.02)
        raise RuntimeError(f"did not come true: {expression}")

    def click(self, x, y):
        for kind in ("mouseMoved", "mousePressed", "mouseReleased"):
            self.call("Input.dispatchMouseEvent", {
                "type": kind, "x": x, "y": y, "button": "none" if kind == "mouseMoved" else "left",
                "buttons": 1 if kind == "mousePressed" else 0, "clickCount": 1})

    def key(self, name, code=None):
        codes = {"Tab": 9, "Enter": 13, "ArrowLeft": 37, "ArrowUp": 38, "ArrowRight": 39,
                 "ArrowDown": 40, "Escape": 27}
        for kind in ("keyDown", "keyUp"):
            self.call("Input.dispatchKeyEvent", {"type": kind, "key": name, "code": code or name,
                                                 "windowsVirtualKeyCode": codes[name]})

    def type(self, element, text):
        """Writes into a box as hands do: all that stood there is replaced, key by key."""
        self.evaluate(f"document.getElementById('{element}').focus();"
                      f"document.getElementById('{element}').select()")
        if text == "":
            self.evaluate("document.execCommand('delete')")
        for letter in text:
            self.call("Input.dispatchKeyEvent", {"type": "keyDown", "key": letter, "text": letter})
            self.call("Input.dispatchKeyEvent", {"type": "keyUp", "key": letter})

    def screenshot(self, path=None, whole=False):
        data = base64.b64decode(self.call(
            "Page.captureScreenshot", {"format": "png", "captureBeyondViewport": whole})["data"])
        if path:
            with open(path, "wb") as file:
                file.write(data)
        return data


def shown(browser, element):
    return browser.evaluate(f"document.getElementById('{element}').textContent")


def serious_faults(browser, axe, options=""):
    """What the rules for accessible pages in the file `axe` find, serious and critical."""
    with open(axe, encoding="utf-8") as file:
        browser.evaluate(file.read() + "; 1")
    return browser.evaluate(f"axe.run({options}).then(r => r.violations.filter(v => "
                            "['serious', 'critical'].includes(v.impact))"
                            ".map(v => v.id + ': ' + v.nodes[0].html.slice(0, 90)))", 120)
