"""Reads the templates of a PDF with pdfplumber: the line to cut along and the edge of the bore of every sleeve, and the
strips, in inches as they are printed, whether they stand on one sheet or on several."""

import re

import pdfplumber

THICK, THIN = 0.5 / 25.4 * 72, 0.25 / 25.4 * 72
TITLE = re.compile(r"^([A-Z]+-\S+) (.*?)(?:, sheet (\d+) of (\d+))?$")
END = re.compile(r", end ([AB])$")
ROW = re.compile(r", holes (.+) from end ([AB])$")


def is_wide(item, width):
    return abs(item["linewidth"] - width) < 0.05


class Sheet:
    """A sheet of a template: its place on the page and what is drawn on it, in points from its top left corner."""

    def __init__(self, part, what, number, of, page, top, bottom):
        self.part, self.what, self.number, self.of, self.page = part, what, number, of, page
        self.top, self.bottom = top, bottom
        here = lambda item: top <= item["top"] and item["bottom"] <= bottom
        self.curves = [c for c in page.curves if here(c)]
        self.lines = [l for l in page.lines if here(l)]
        self.words = [{**w, "text": w["text"].strip()} for w in page.extract_words(keep_blank_chars=True) if top <= w["top"] < bottom]

    def matches(self, axis):
        """The match lines by their number: places across (axis x) or down (axis y)."""
        found = {}
        for word in self.words:
            label = re.match(r"match (\w+)$", word["text"])
            if not label or label[1].isdigit() != (axis == "x"):
                continue
            dashes = [l for l in self.lines if is_wide(l, THIN) and abs(l["x0"] - l["x1"] if axis == "x" else l["top"] - l["bottom"]) < 0.01]
            at = lambda l: l["x0"] if axis == "x" else l["top"]
            # The label stands right of its line at the left of a sheet, left of it at the right, or above it.
            if axis == "y":
                off = lambda l: abs(at(l) - word["bottom"])
            elif word["x0"] < 80:
                off = lambda l: abs(word["x0"] - at(l) - 2.3)
            else:
                off = lambda l: abs(at(l) - word["x1"] - 2.8)
            near = min(dashes, key=off)
            assert off(near) < 3, (self.part, self.number, label[1])
            found[label[1]] = at(near)
        return found

    def check_lines(self):
        across = max((l["x1"] - l["x0"] for l in self.lines if abs(l["top"] - l["bottom"]) < 0.01 and l["top"] > self.foot()), default=0)
        upright = self.upright()
        return across, upright["bottom"] - upright["top"]

    def upright(self):
        """The line to measure down: one with a tick of 4 mm across each end, below the sleeve or beside it."""
        ticks = [l for l in self.lines if abs(l["top"] - l["bottom"]) < 0.01 and abs(l["x1"] - l["x0"] - 4 / 25.4 * 72) < 0.5]
        ticked = lambda x, y: any(abs((t["x0"] + t["x1"]) / 2 - x) < 0.3 and abs(t["top"] - y) < 0.3 for t in ticks)
        level = [l for l in self.lines if abs(l["x0"] - l["x1"]) < 0.01 and ticked(l["x0"], l["top"]) and ticked(l["x0"], l["bottom"])]
        assert len(level) == 1, (self.part, self.number, level)
        return level[0]

    def foot(self):
        return next(w["top"] for w in self.words if w["text"].startswith("Measure both before")) - 25


def sheets(path):
    with pdfplumber.open(path) as pdf:
        for page in pdf.pages:
            titles = []
            for line in page.extract_text_lines():
                found = TITLE.match(line["text"])
                if found and (END.search(found[2]) or ROW.search(found[2])):
                    titles.append((line["top"], found))
            for i, (top, found) in enumerate(titles):
                bottom = titles[i + 1][0] - 1 if i + 1 < len(titles) else page.height - 50
                yield Sheet(found[1], found[2], int(found[3] or 1), int(found[4] or 1), page, top, bottom)


def joined(path):
    """Every template with its sheets, each with what is to be added to its places so that all go together."""
    whole = []
    for sheet in sheets(path):
        if sheet.number == 1:
            whole.append([])
        whole[-1].append(sheet)
    for group in whole:
        assert [s.number for s in group] == list(range(1, group[0].of + 1)), (path, group[0].part, group[0].what)
        yield group, places(group)


def places(group):
    """Where each sheet lies when match lines of one number are laid on one another."""
    marks = [(s.matches("x"), {k: y - body_top(s) for k, y in s.matches("y").items()}) for s in group]
    # Sheets of a row have their level lines at the same height, sheets of a column their upright ones at the same place.
    alike = lambda a, b: set(a) == set(b) and all(abs(a[k] - b[k]) < 2 for k in a)
    at = {0: (0.0, 0.0)}
    while len(at) < len(group):
        before = len(at)
        for i, (across, down) in enumerate(marks):
            if i in at:
                continue
            for j, (x, y) in list(at.items()):
                tops = body_top(group[j]) - body_top(group[i])
                same_x, same_y = set(across) & set(marks[j][0]), set(down) & set(marks[j][1])
                if same_x and alike(down, marks[j][1]):
                    key = min(same_x)
                    at[i] = (x + marks[j][0][key] - across[key], y + tops)
                    break
                if same_y and alike(across, marks[j][0]):
                    key = min(same_y)
                    at[i] = (x, y + tops + marks[j][1][key] - down[key])
                    break
        assert len(at) > before, (group[0].part, group[0].what, "sheets that do not meet")
    return [at[i] for i in range(len(group))]


def body_top(sheet):
    """The top of what is drawn, the same for all sheets of a row: below the head of 17 mm."""
    return sheet.top


def pooled(group, at, width, least):
    """Points of all runs of a line width, put together, in inches from the top left of the first sheet."""
    points = []
    for sheet, (dx, dy) in zip(group, at):
        for curve in sheet.curves:
            if is_wide(curve, width) and len(curve["pts"]) > least:
                points += [((x + dx) / 72, (y + dy) / 72) for x, y in curve["pts"]]
    return sorted(points)
