#!/usr/bin/env python3
"""The setup sheet and the card for browsers, printed by a headless Chromium, against the PDF of the program.

sheet_print_test.py PROGRAM SOURCE_DIR WORK_DIR

Both go through Poppler: as many pages, of one size, the same words at the same places, and the same ink. So
the line of 100 mm, the outlines at full size and every number are where the PDF has them.
"""
import base64
import os
import re
import shutil
import subprocess
import sys

PROGRAM, SOURCE, WORK = (os.path.abspath(p) for p in sys.argv[1:4])
sys.path.insert(0, os.path.join(SOURCE, "tests/page"))
from browser import Browser  # noqa: E402

# Jobs with their options; WHOLE is the one of the demo.
CASES = [("piece/trough.toml", ["--paper", "a4"]), ("piece/trough.toml", ["--paper", "letter"]),
         ("WHOLE", ["--paper", "a4"])]
MOST_OFF_MM = 0.35      # of a word: in the PDF each letter is as wide as a whole thousandth of its size
MOST_INK_OFF = 0.004    # part of the dark pixels, at 100 dpi, without another beside them
faults = []


def check(good, what):
    if not good:
        faults.append(what)
        print("WRONG:", what)


def run(*command):
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


def sizes_mm(pdf):
    """Of every page."""
    found = re.findall(r"Page\s+\d+ size:\s+([\d.]+) x ([\d.]+) pts", run("pdfinfo", "-l", "99", pdf))
    return [(float(w) * 25.4 / 72, float(h) * 25.4 / 72) for w, h in found]


def words_mm(pdf):
    """Page, left edge, baseline or so, and text of every word."""
    found, page = [], 0
    for line in run("pdftotext", "-bbox", pdf, "-").splitlines():
        if "<page " in line:
            page += 1
        word = re.search(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*)</word>', line)
        if word:
            left, top, right, bottom = (float(v) * 25.4 / 72 for v in word.groups()[:4])
            found.append((page, left, top, right, bottom, word.group(5)))
    return found


def pixels(pdf, page, turn):
    """Grey pixels of a page at 100 dpi: width, height, rows; turned by a quarter where asked."""
    data = subprocess.run(["pdftoppm", "-r", "100", "-f", str(page), "-l", str(page), "-gray", pdf],
                          capture_output=True, check=True).stdout
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    width, height = int(head.group(1)), int(head.group(2))
    rows = [data[head.end() + width * r:head.end() + width * (r + 1)] for r in range(height)]
    if turn:
        rows = [bytes(rows[height - 1 - c][r] for c in range(height)) for r in range(width)]
        width, height = height, width
    return width, height, rows


def far_ink(one, other):
    """Part of the dark pixels of `one` that have none dark within two pixels in `other`."""
    dark, missed = 0, 0
    width, height = min(one[0], other[0]), min(one[1], other[1])
    for y in range(height):
        row = one[2][y]
        for x in range(width):
            if row[x] >= 64:
                continue
            dark += 1
            if not any(other[2][v][u] < 160 for v in range(max(0, y - 2), min(height, y + 3))
                       for u in range(max(0, x - 2), min(width, x + 3))):
                missed += 1
    return missed / max(1, dark), dark


def compare(name, pdf, printed):
    is_mm, made_mm = sizes_mm(printed), sizes_mm(pdf)
    check(len(is_mm) == len(made_mm), f"{name}: {len(is_mm)} pages are printed, the PDF has {len(made_mm)}")
    if len(is_mm) != len(made_mm):
        return
    first = made_mm[0]
    lying = []
    for k, (made, got) in enumerate(zip(made_mm, is_mm)):
        lying.append(abs(made[0] - first[0]) > 1)
        check(abs(got[0] - first[0]) < 0.3 and abs(got[1] - first[1]) < 0.3,
              f"{name}: page {k + 1} is printed {got[0]:.2f} x {got[1]:.2f} mm")
    made, got = words_mm(pdf), words_mm(printed)
    check(len(made) > 60, f"{name}: the PDF has only {len(made)} words")
    for page in range(1, len(made_mm) + 1):
        # Turned text is read in another order and its boxes lie otherwise: those pages are told by their ink.
        if lying[page - 1]:
            continue
        mine = sorted((w[5], round(w[1]), round(w[2]), w) for w in made if w[0] == page)
        theirs = sorted((w[5], round(w[1]), round(w[2]), w) for w in got if w[0] == page)
        check([w[0] for w in mine] == [w[0] for w in theirs], f"{name}: page {page} has other words")
        left = [w[3] for w in theirs]
        for word in (w[3] for w in mine):
            near = [w for w in left if w[5] == word[5] and abs(w[1] - word[1]) < MOST_OFF_MM
                    and abs(w[3] - word[3]) < MOST_OFF_MM
                    and abs((w[2] + w[4]) / 2 - (word[2] + word[4]) / 2) < MOST_OFF_MM]
            check(near, f"{name}: page {page}: {word[5]!r} is not at {word[1]:.2f} {word[2]:.2f}")
            if near:
                left.remove(near[0])
    for page in range(1, len(made_mm) + 1):
        mine, theirs = pixels(pdf, page, False), pixels(printed, page, lying[page - 1])
        for one, other, which in ((mine, theirs, "is missing"), (theirs, mine, "is too much")):
            part, dark = far_ink(one, other)
            check(dark > 2000, f"{name}: page {page} is nearly empty")
            check(part < MOST_INK_OFF, f"{name}: page {page}: {100 * part:.2f} % of the ink {which}")


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    os.makedirs(WORK)
    browser = Browser()
    try:
        subprocess.run([PROGRAM, "start", os.path.join(WORK, "demo")], check=True, capture_output=True)
        for number, (job, options) in enumerate(CASES):
            file = os.path.join(WORK, "demo/gourd-whole.toml") if job == "WHOLE" \
                else os.path.join(SOURCE, "tests/golden", job)
            for kind in ("sheet", "card"):
                name = f"{kind} {number} of {os.path.basename(file)} {options[-1]}"
                html, pdf, printed = (os.path.join(WORK, f"{kind}-{number}{end}")
                                      for end in (".html", ".pdf", "-printed.pdf"))
                for target in (html, pdf):
                    got = subprocess.run([PROGRAM, "check", file, f"--{kind}", target, "--quiet", *options],
                                         capture_output=True, text=True)
                    check(got.returncode in (0, 1), f"{name}: status {got.returncode}: {got.stderr}")
                browser.open(html)
                wide = browser.evaluate("document.documentElement.scrollWidth <= innerWidth")
                check(wide, f"{name}: is wider than the window")
                data = browser.call("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": True})["data"]
                with open(printed, "wb") as out:
                    out.write(base64.b64decode(data))
                compare(name, pdf, printed)
        browser.size(390, 844, 2, True)
        browser.open(os.path.join(WORK, "sheet-0.html"))
        check(browser.evaluate("document.documentElement.scrollWidth <= innerWidth"), "on a phone: wider than it")
        with open(os.path.join(WORK, "phone.png"), "wb") as out:
            out.write(base64.b64decode(browser.call("Page.captureScreenshot")["data"]))
    finally:
        browser.close()
    if faults:
        sys.exit(f"{len(faults)} faults")
    print("the sheets print as the program writes them")


if __name__ == "__main__":
    main()
