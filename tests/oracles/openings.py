"""How the steps of the paged manuals lie on their pages, read from the finished files by PDFium.

    openings.py FOLDER MOST_MANUAL MOST_SHOP

FOLDER is that of a configuration; the numbers are the most pages that `manual.pdf` and `shop-copy.pdf` may have. Of each
it is looked at, with the outline for where steps begin:

- the work ("Do this") begins on the page of the step's title, or on the next, in at least 95 of 100 steps; where two large
  figures come first, on the one after that; never further away;
- no page begins with the values of an action that stands on the page before;
- of a list of actions, what is left for a last page is more than its last action;
- pages that are less than two fifths full, ends of steps and of chapters left out, are at most one in a hundred.

Prints the figures; ends with 1 where one of them does not hold.
"""

import re
import sys
from pathlib import Path

import pypdfium2

# Above and below stand the running lines, in points.
TOP, BOTTOM = 56, 52
VALUES = re.compile(r"(Fit|Torque|Drill|Match-drill|Ream|Open up|Press|Bend|Glue|Wire) (\d|drag|No\.|[A-Z]{2,3}-?\d)|Cut ([A-Z]{2}-\d|mitre,|saddle,|square)")
ACTION = re.compile(r"(\d+)\. ")


def lines(page):
    """The lines of a page between its running lines, from top to bottom, each with its lower edge from the page's top."""
    text, height = page.get_textpage(), page.get_height()
    found = {}
    for i in range(text.count_rects()):
        left, bottom, right, top = text.get_rect(i)
        if height - top < TOP - 12 or bottom < BOTTOM - 8:
            continue
        found.setdefault(round(height - bottom), []).append((left, text.get_text_bounded(left, bottom, right, top)))
    return [(at, [words for _, words in sorted(runs)]) for at, runs in sorted(found.items())]


def look(path, most, faults):
    pdf = pypdfium2.PdfDocument(path)
    pages = [lines(page) for page in pdf]
    height = pdf[0].get_height()
    toc = [(entry.get_title(), entry.get_dest().get_index()) for entry in pdf.get_toc()]
    steps = [(at, title, page) for at, (title, page) in enumerate(toc) if re.match(r"\d+\.\d+ ", title)]
    starts = {page for _, page in toc}
    away, carried, lonely = [], 0, 0
    for at, title, page in steps:
        # The next may begin where this one ends.
        last = next((p for _, p in toc[at + 1:]), len(pages) - 1)
        work = [p for p in range(page, last + 1) if any("Do this" in words for _, runs in pages[p] for words in runs)]
        if not work:
            faults.append(f"{path.name}: step {title} has no work on pages {page + 1} to {last + 1}")
            continue
        away.append(work[0] - page)
        if work[0] - page > 2:
            faults.append(f"{path.name}: the work of step {title} begins {work[0] - page} pages behind its title")
        for p in range(work[0] + 1, last + (last not in starts)):
            words = [" ".join(runs) for _, runs in pages[p]]
            if words and VALUES.match(words[0]):
                carried += 1
                faults.append(f"{path.name}: page {p + 1} begins with values of an action of the page before: {words[0]}")
            numbers = [int(m.group(1)) for m in (ACTION.match(w) for _, runs in pages[p] for w in runs) if m]
            before = [int(m.group(1)) for m in (ACTION.match(w) for _, runs in pages[p - 1] for w in runs) if m]
            if len(numbers) == 1 and before and numbers[0] == before[-1] + 1 and numbers[0] > 2:
                lonely += 1
                faults.append(f"{path.name}: page {p + 1} has nothing of the work but action {numbers[0]}")
    body = height - TOP - BOTTOM
    part_empty = [p + 1 for p, found in enumerate(pages)
                  if p + 1 not in starts and p + 1 < len(pages) and found and (found[-1][0] - TOP) / body < 0.4]
    same = sum(a == 0 for a in away)
    print(f"{path.name}: {len(pages)} pages (at most {most}), {len(steps)} steps; the work begins on the page of the title in "
          f"{same}, on the next in {sum(a == 1 for a in away)}; part empty {part_empty}")
    far = sum(a > 1 for a in away)
    if far * 20 > len(steps):
        faults.append(f"{path.name}: the work of {far} steps begins two pages behind the title")
    if len(pages) > most:
        faults.append(f"{path.name}: {len(pages)} pages are more than {most}")
    if len(part_empty) * 100 > len(pages):
        faults.append(f"{path.name}: part empty are pages {part_empty}")
    if len(steps) < 40:
        faults.append(f"{path.name}: only {len(steps)} steps were found in the outline")


def main():
    folder, faults = Path(sys.argv[1]), []
    look(folder / "manual.pdf", int(sys.argv[2]), faults)
    look(folder / "shop-copy.pdf", int(sys.argv[3]), faults)
    print("\n".join(faults))
    sys.exit(bool(faults))


main()
