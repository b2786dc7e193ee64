"""The page of `report` in a browser: at the widths of a phone, a tablet and a desk, in light and in
dark, nothing is wider than the screen, no label is cut or runs into its neighbour, nothing is
fetched and the console stays empty; in print what was folded is open.

report_browser.py PROGRAM SOURCE_DIR
Needs chromium and chromedriver; exit status 77 without. It speaks the W3C WebDriver protocol itself.
"""

import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import urllib.request

SKIPPED = 77
WIDTHS = (390, 800, 1280)
FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run"
    " --disable-background-networking --disable-component-update --disable-sync"
).split()

# Half a pixel is rounding.
FAULTS = """
const faults = [];
const width = window.innerWidth + 0.5;
if (document.scrollingElement.scrollWidth > width) {
  faults.push('the page is ' + document.scrollingElement.scrollWidth + ' pixels wide');
}
for (const svg of document.querySelectorAll('svg[role=img]')) {
  let before = null;
  for (const text of svg.querySelectorAll('text')) {
    const box = text.getBoundingClientRect();
    if (box.left < 0 || box.right > width) faults.push('cut: ' + text.textContent);
    if (before && box.left < before.right && box.right > before.left &&
        box.top < before.bottom - 2 && box.bottom > before.top + 2) {
      faults.push('over its neighbour: ' + text.textContent);
    }
    before = box;
  }
}
for (const entry of performance.getEntriesByType('resource')) faults.push('fetched: ' + entry.name);
return faults;
"""

FOLDED = """
return [...document.querySelectorAll('details > :not(summary)')]
    .filter(inside => !inside.checkVisibility()).length;
"""


class Driver:
    """A browser of its own behind chromedriver."""

    def __init__(self, home):
        self.process = subprocess.Popen(
            ["chromedriver", "--port=0"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
        )
        port = None
        while port is None:
            line = self.process.stdout.readline()
            assert line, "chromedriver did not start"
            port = re.search(r"started successfully on port (\d+)", line)
        self.base = f"http://127.0.0.1:{port[1]}/session"
        options = {"args": [*FLAGS, f"--user-data-dir={home}"], "binary": shutil.which("chromium")}
        wanted = {"goog:chromeOptions": options, "goog:loggingPrefs": {"browser": "ALL"}}
        answer = self.ask("", {"capabilities": {"alwaysMatch": wanted}})
        self.base += "/" + answer["sessionId"]

    def ask(self, path, body, method="POST"):
        request = urllib.request.Request(self.base + path, json.dumps(body).encode(), method=method)
        request.add_header("Content-Type", "application/json")
        opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
        with opener.open(request, timeout=60) as response:
            return json.load(response)["value"]

    def command(self, name, **parameters):
        return self.ask("/goog/cdp/execute", {"cmd": name, "params": parameters})

    def run(self, script):
        return self.ask("/execute/sync", {"script": script, "args": []})

    def show(self, page, width, media):
        self.command(
            "Emulation.setDeviceMetricsOverride",
            width=width, height=900, deviceScaleFactor=1, mobile=False,
        )
        self.command("Emulation.setEmulatedMedia", **media)
        self.ask("/url", {"url": page.as_uri()})

    def stop(self):
        try:
            self.ask("", {}, method="DELETE")
        finally:
            self.process.terminate()
            self.process.wait()


def screen(scheme):
    return {"media": "screen", "features": [{"name": "prefers-color-scheme", "value": scheme}]}


def faults_of(driver, page):
    """What is wrong with a page, in words."""
    faults = []
    for width in WIDTHS:
        for scheme in ("light", "dark"):
            driver.show(page, width, screen(scheme))
            faults += [f"{width} px, {scheme}: {fault}" for fault in driver.run(FAULTS)]
    if driver.run(FOLDED) == 0:
        faults.append("nothing is folded on the screen")
    driver.show(page, 800, {"media": "print"})
    if driver.run(FOLDED) != 0:
        faults.append("something stays folded in print")
    faults += ["console: " + entry["message"] for entry in driver.ask("/se/log", {"type": "browser"})]
    return [f"{page.stem}: {fault}" for fault in faults]


def write_pages(program, source, folder):
    """A page an example, and one with a long name where there is little room."""
    runs = {
        path.stem: [str(path)]
        for path in pathlib.Path(source, "examples").glob("*.json")
        if "amptally-site/1" in path.read_text(encoding="utf-8")
    }
    long_name = "Wassernebelpumpenverteilerschlauchventil " * 3 + "Unterglasbewässerung" * 6
    runs["long"] = ["--demo"]
    for path in ("name", "loads[0].name", "wiring[1].feeds", "wiring[0].name", "water.lines[0].name"):
        runs["long"] += ["--set", f"{path}={long_name}"]
    for name, arguments in runs.items():
        page = folder / f"{name}.html"
        status = subprocess.run([program, "report", *arguments, "--years", "10", "-o", page], check=False).returncode
        assert status in (0, 1), status
        yield page


def main(program, source):
    if not (shutil.which("chromium") and shutil.which("chromedriver")):
        print("skipped: chromium or chromedriver is not installed")
        sys.exit(SKIPPED)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        driver = Driver(pathlib.Path(folder, "home"))
        try:
            pages = list(write_pages(program, source, pathlib.Path(folder)))
            faults = [fault for page in pages for fault in faults_of(driver, page)]
        finally:
            driver.stop()
    if faults:
        sys.exit("\n".join(faults))
    print(f"{len(pages)} pages at {len(WIDTHS)} widths, light and dark, and in print: good")


if __name__ == "__main__":
    main(*sys.argv[1:])
