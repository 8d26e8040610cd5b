"""The words of each step in manual.pdf, as pdftotext reads them, against those of its HTML page.

    words.py OUT

OUT holds a folder for each configuration. The step pages are the files whose body has the class `page-step`; the
words of one are the text inside <main>, a word ending wherever an element ends that is no part of a line of text.
In the PDF a step begins where the outline entry with the same number and title leads, and ends where the next entry
leads. What the PDF itself marks as an artifact (running heads, repeated table heads) is no text of the step; nor is the letter at a
change bar, in the margin.

A figure or drawing, with its caption and legend, stays together and inside its step; on paper the text may go ahead of
it where the picture does not fit on the page. So the words of a figure stand in one piece, in the order of the HTML page, and all other
words in that order around them.

Three things are alike by rule: the number before an item of a numbered list, which a browser draws and keeps out of
the text, is put in; a word that the PDF breaks at a line's end after a hyphen, slash or dash counts as one, and so does a minus sign with the fraction behind it; and the
words of the step's head (number, title, hand, section, facts) may stand in another order, since the two lay it out
each in their own way.
"""

import collections
import ctypes
import html
import re
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium

INLINE = {"a", "abbr", "b", "bdi", "code", "em", "i", "small", "span", "strong", "sub", "sup"}
VOID = {"area", "base", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"}
SOFT_HYPHEN = "\u00ad"
BULLETS = {"•", "–"}
# The outer margin, in points.
MARGIN = 46
# Around the words of a figure; no document holds them.
BEGIN, END = "\ue000", "\ue001"
# Around what is pulled: in a narrow column the PDF says the same words in another order, without the heads of the tables and
# with a word before each place.
PULL, PULLED = "\ue002", "\ue003"
PLACES = {"\u00d7", "bag", "crate", "bin"}


class Page(HTMLParser):
    """The text inside <main>, with a space wherever something other than a piece of a line begins or ends."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.depth, self.skipped, self.text, self.lists, self.heading = 0, 0, [], [], None
        self.body, self.head, self.title, self.open = "", 0, "", []
        self.drawing = False
        self.mark = 0
        # What is pulled folds to a line that repeats it in short, which is left out. On paper it may stand in a narrow column.
        self.pull, self.column, self.short, self.heads = 0, 0, 0, []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        attributes = dict(attributes)
        if tag == "body":
            self.body = attributes.get("class", "")
        if tag == "main":
            self.depth = 1
        if tag == "figure":
            self.drawing = "drawing" in attributes.get("class", "").split()
            if self.depth:
                self.text.append(f" {BEGIN} ")
        # The lettering of the compiler's own drawings is text in both; other pictures are drawn without text.
        if tag == "details" and "region-pull" in attributes.get("class", "").split():
            self.pull = 1
            self.text.append(f" {PULL} ")
        if tag == "summary" and self.pull:
            self.skipped += 1
        self.column += tag == "thead"
        if tag in {"script", "style"} or tag == "svg" and not self.drawing:
            self.skipped += 1
        if not self.depth or self.skipped:
            return
        if "change-mark" in attributes.get("class", "").split() or self.mark:
            self.mark += tag not in VOID
            return
        if tag == "ol":
            self.lists.append(int(attributes.get("start", 1)))
        if tag == "ul":
            self.lists.append(None)
        classes = attributes.get("class", "").split()
        if tag not in VOID:
            self.open.append("step-head" in classes)
        # A mark in a figure stands by itself, placed over the picture.
        self.edge("div" if "mark" in classes else tag)
        if tag == "li" and self.lists and self.lists[-1] is not None:
            self.text.append(f" {self.lists[-1]}. ")
            self.lists[-1] += 1
        if tag == "h1":
            self.heading = len(self.text)

    def handle_endtag(self, tag):
        if tag == "summary" and self.pull:
            self.skipped -= 1
            return
        if tag == "details" and self.pull:
            self.pull = 0
            self.text.append(f" {PULLED} ")
        self.column -= tag == "thead"
        if tag in {"script", "style"} or tag == "svg" and not self.drawing:
            self.skipped -= 1
            return
        if tag == "figure" and self.depth:
            self.text.append(f" {END} ")
        if tag == "main":
            self.depth = 0
        if not self.depth or self.skipped:
            return
        if self.mark:
            self.mark -= tag not in VOID
            return
        if tag in {"ol", "ul"}:
            self.lists.pop()
        if tag == "h1":
            self.title = " ".join("".join(self.text[self.heading :]).split())
        if tag not in VOID and self.open.pop():
            self.head = len(self.words())
        self.edge(tag)

    def edge(self, tag):
        if tag not in INLINE:
            self.text.append(" ")

    def handle_data(self, data):
        if self.depth and not self.skipped and not self.mark:
            self.text.append(data)
            if self.pull and self.column:
                self.heads += data.split()

    def words(self):
        return [w for w in "".join(self.text).split() if w not in {BEGIN, END, PULL, PULLED}]

    def rest(self):
        """The words behind the step's head, without bullets: the text, and each figure by itself."""
        text, figures, inside, pulls, seen = [], [], False, False, 0
        for word in "".join(self.text).split():
            if word in {BEGIN, END}:
                inside = word == BEGIN
                if inside:
                    figures.append([])
                continue
            if word in {PULL, PULLED}:
                pulls = word == PULL
                if pulls:
                    text.append([])
                continue
            seen += 1
            if seen > self.head and word not in BULLETS:
                if pulls:
                    text[-1].append(word)
                else:
                    (figures[-1] if inside else text).append(word)
        return text, [f for f in figures if f]


def step_pages(folder):
    pages = (Page(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.html")))
    return [page for page in pages if "page-step" in page.body.split()]


def outline(pdf):
    """Where each entry of the outline leads: page from 0, distance from the top in points, title."""
    for entry in pdf.get_toc():
        leads = entry.get_dest()
        page = leads.get_index()
        _, (_, y, _) = leads.get_view()
        yield page, pdf[page].get_height() - y, entry.get_title()


def is_artifact(thing):
    """Whether a piece of text stands in marked content (ISO 32000-1, 14.6) that is an artifact."""
    name, length = ctypes.create_string_buffer(64), ctypes.c_ulong()
    for i in range(pdfium.FPDFPageObj_CountMarks(thing)):
        pdfium.FPDFPageObjMark_GetName(
            pdfium.FPDFPageObj_GetMark(thing, i), ctypes.cast(name, ctypes.POINTER(ctypes.c_ushort)), 64, length
        )
        if name.raw[: length.value].decode("utf-16-le").rstrip("\0") == "Artifact":
            return True
    return False


def artifacts(page):
    """The places of its artifacts, from the top, as PDFium reads them. It measures the letters drawn, which reach less
    high and low than a line does."""
    high = page.get_height()
    for thing in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
        if is_artifact(thing.raw):
            left, bottom, right, top = thing.get_bounds()
            yield left - 0.1, high - top - 4, right + 0.1, high - bottom + 4


WORD = re.compile(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)</word>')


def pdf_words(path, pdf):
    """Each page's words in the order in which they are drawn, with their middle from the top, artifacts left out."""
    text = subprocess.run(
        ["pdftotext", "-raw", "-bbox", str(path), "-"], check=True, capture_output=True, encoding="utf-8"
    ).stdout
    sheets = text.split("<page ")[1:]
    assert len(sheets) == len(pdf)
    pages = []
    for page, sheet in zip(pdf, sheets):
        boxes, width = list(artifacts(page)), page.get_width()
        words = []
        for x0, y0, x1, y1, word in WORD.findall(sheet):
            x, y = (float(x0) + float(x1)) / 2, (float(y0) + float(y1)) / 2
            if float(x0) < width - MARGIN and not any(a <= x <= c and b <= y <= d for a, b, c, d in boxes):
                words.append((y, html.unescape(word)))
        pages.append(words)
    return pages


def steps_of_pdf(path):
    with pypdfium2.PdfDocument(path) as pdf:
        entries = list(outline(pdf))
        pages = pdf_words(path, pdf)
        ends = [*entries[1:], (len(pages), 0.0, None)]
        found = {}
        for (page, top, title), (last, bottom, _) in zip(entries, ends):
            words = []
            for i in range(page, min(last, len(pages) - 1) + 1):
                for y, word in pages[i]:
                    if (i > page or y >= top) and (i < last or y < bottom):
                        words.append(word)
            number = title.split()[0]
            if number[0].isdigit() and "." in number:
                found[number] = title, joined(words)
        return found


def joined(words):
    """Words cut by the PDF's own hyphenation put together."""
    out = []
    for word in words:
        if word in BULLETS:
            continue
        if out and out[-1].endswith(SOFT_HYPHEN):
            out[-1] = out[-1].rstrip(SOFT_HYPHEN) + word
        else:
            out.append(word)
    return [w.replace(SOFT_HYPHEN, "") for w in out]


def word_end(word, pdf, j):
    """Where a word of the HTML page that begins at pdf[j] ends there, or none. The PDF may break it after a hyphen."""
    found = ""
    while j < len(pdf):
        found, j = found + pdf[j], j + 1
        if found == word:
            return j
        if not (word.startswith(found) and found.endswith(("-", "/", "–", "\u2212", "…", "."))):
            return None
    return None


def letters(words):
    """The letters of some words without what joins them."""
    return collections.Counter("".join(words).translate(str.maketrans("", "", ";,-\u00d7\u2026")))


def pulled_end(words, heads, pdf, j):
    """Where what is pulled ends that begins at pdf[j], or none: the same letters, with the heads of the tables or without, and
    with the words before places."""
    wanted = letters(words)
    bare = wanted - letters(heads)
    most = sum(wanted.values()) + 5 * len(words)
    found, spare = collections.Counter(), collections.Counter()
    for end in range(j, len(pdf) + 1):
        if found == wanted or (found - spare == bare or found == bare):
            # Words before places that stand at the very end belong to it.
            if end == len(pdf) or pdf[end] not in PLACES:
                return end
        if end == len(pdf) or sum(found.values()) > most:
            return None
        token = letters([pdf[end]])
        found += token
        if pdf[end] in PLACES:
            spare += token
    return None


def piece_end(words, pdf, j):
    for word in words:
        j = word_end(word, pdf, j)
        if j is None:
            return None
    return j


def difference(text, figures, heads, pdf):
    """The furthest place to which the words agree, or none where they agree to the end."""
    open_ways = [(0, 0, tuple(range(len(figures))))]
    furthest = (0, 0)
    while open_ways:
        i, j, pending = open_ways.pop()
        while True:
            if j >= furthest[1]:
                furthest = i, j
            if i == len(text) and j == len(pdf) and not pending:
                return None
            ways = []
            if i < len(text) and isinstance(text[i], list):
                end = pulled_end(text[i], heads, pdf, j)
            else:
                end = word_end(text[i], pdf, j) if i < len(text) else None
            if end is not None:
                ways.append((i + 1, end, pending))
            for f in pending:
                if (end := piece_end(figures[f], pdf, j)) is not None:
                    ways.append((i, end, tuple(p for p in pending if p != f)))
                    break
            if not ways:
                break
            (i, j, pending), *others = reversed(ways)
            open_ways += others
    i, j = furthest
    said = [w if isinstance(w, str) else f"[{' '.join(w)}]" for w in text]
    return f"HTML: …{' '.join(said[max(0, i - 6) : i + 8])}…\n     PDF: …{' '.join(pdf[max(0, j - 6) : j + 8])}…"


def compare(page, title, pdf):
    if not page.title.startswith(title):
        return f"the page is called {page.title!r}, the outline's entry {title!r}"
    head = page.words()[: page.head]
    if not head or sorted(head) != sorted(pdf[: len(head)]):
        return f"HTML head: {' '.join(head)}\n     PDF head: {' '.join(pdf[: len(head)])}"
    return difference(*page.rest(), page.heads, pdf[len(head) :])


def main(out):
    faults, steps, words = [], 0, 0
    for folder in sorted(p for p in Path(out).iterdir() if (p / "manual.pdf").is_file()):
        pages, pdf = step_pages(folder / "manual"), steps_of_pdf(folder / "manual.pdf")
        if len(pages) != len(pdf):
            faults.append(f"{folder.name}: {len(pages)} step pages, {len(pdf)} steps in the PDF's outline")
        for page in pages:
            number = page.title.split()[0]
            steps, words = steps + 1, words + len(page.words())
            if number not in pdf:
                faults.append(f"{folder.name}: the PDF's outline has no step {number}")
            elif found := compare(page, *pdf[number]):
                faults.append(f"{folder.name}: {page.title}\n    {found}")
    print(*faults, sep="\n")
    print(f"{steps} steps, {words} words, {len(faults)} that differ")
    sys.exit(bool(faults) or steps == 0)


main(sys.argv[1])
