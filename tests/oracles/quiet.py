"""Nothing that a manual's pages load comes from anywhere but their own folder: quiet.py OUT

Looks at the text of every page, style sheet, script and drawing, so that what no browser loads today is found too.
"""

import re
import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

LOADING = {"src", "poster", "data", "action", "formaction", "background", "cite", "ping", "xlink:href"}
CSS = re.compile(r"""url\(\s*['"]?([^'")]*)|@import\s+['"]?([^'";\s]*)""")
SCRIPT = re.compile(r"\b(fetch|XMLHttpRequest|WebSocket|EventSource|importScripts|sendBeacon|import)\b\s*\(|new\s+Worker")


class Loads(HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.found, self.style = [], False
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        self.style = tag == "style"
        for name, value in attributes:
            if name == "srcset":
                self.found += [candidate.split()[0] for candidate in (value or "").split(",")]
            elif name in LOADING or (name == "href" and tag in {"link", "use", "image", "script", "base"}):
                self.found.append(value or "")
            if name == "style":
                self.found += css(value or "")
            if name.startswith("on"):
                self.found.append(f"script:{name}")

    def handle_data(self, data):
        if self.style:
            self.found += css(data)


def css(text):
    return [a or b for a, b in CSS.findall(re.sub(r"/\*.*?\*/", "", text, flags=re.S))]


def outside(folder, path, address):
    """Whether an address leads out of the manual's folder, or to no file in it."""
    parts = urlsplit(address)
    if parts.scheme == "data":
        return False
    if parts.scheme or parts.netloc or address.startswith(("/", "\\")):
        return True
    if not parts.path:
        return False
    target = (path.parent / unquote(parts.path)).resolve()
    return not (target.is_relative_to(folder.resolve()) and target.is_file())


def main(out):
    files, faults = 0, []
    for folder in sorted(Path(out).glob("*/manual")):
        for path in sorted(p for p in folder.rglob("*") if p.is_file()):
            if path.suffix in {".html", ".svg"}:
                loads = Loads(path.read_text(encoding="utf-8")).found
            elif path.suffix == ".css":
                loads = css(path.read_text(encoding="utf-8"))
            elif path.suffix == ".js":
                loads = [f"script:{m[0]}" for m in SCRIPT.finditer(path.read_text(encoding="utf-8"))]
            else:
                continue
            files += 1
            faults += [f"{path}: {a}" for a in loads if outside(folder, path, a)]
    print(*faults, sep="\n")
    print(f"{files} files, {len(faults)} that load from elsewhere")
    sys.exit(bool(faults) or files == 0)


main(sys.argv[1])
