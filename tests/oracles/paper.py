"""The paged documents as outside programs see them: paper.py OUT PAPER

- every PDF is sound (qpdf --check, not even a warning);
- no page of a shop copy or of pick lists has colour, and some page of a manual has (mutool draw -s f);
- every page has the size of PAPER, upright: letter is 8 1/2 by 11 in (ANSI/ASME Y14.1, size A), a4 is 210 by 297 mm
  (ISO 216), and has text, as PDFium reads it;
- every font is embedded (pdffonts).
"""

import re
import subprocess
import sys
from pathlib import Path

import pypdfium2

POINTS = {"letter": (8.5 * 72, 11 * 72), "a4": (210 / 25.4 * 72, 297 / 25.4 * 72)}


def run(*command):
    return subprocess.run(command, capture_output=True, encoding="utf-8", check=False)


def sound(path):
    result = run("qpdf", "--check", str(path))
    if result.returncode or "WARNING" in result.stdout + result.stderr:
        yield f"qpdf: {result.stdout} {result.stderr}"


def coloured(path):
    result = run("mutool", "draw", "-s", "f", "-r", "50", "-o", "/dev/null", str(path))
    pages = re.findall(r"^page .* (\d+) (color|grayscale)", result.stdout + result.stderr, re.M)
    if result.returncode or not pages:
        yield f"mutool: {result.stdout} {result.stderr}"
    colour = [number for number, kind in pages if kind == "color"]
    if path.name == "manual.pdf" and not colour:
        yield "no page has colour"
    if path.name != "manual.pdf" and colour:
        yield f"pages in colour: {', '.join(colour)}"


def sized(path, paper):
    width, height = POINTS[paper]
    with pypdfium2.PdfDocument(path) as pdf:
        for number, page in enumerate(pdf, 1):
            (wide, high), turned = page.get_size(), page.get_rotation()
            # Sizes are written to a hundredth of a point, 0.004 mm.
            if abs(wide - width) > 0.01 or abs(high - height) > 0.01 or turned:
                yield f"page {number}: {wide} x {high} points, turned by {turned}"
            if page.get_textpage().count_chars() == 0:
                yield f"page {number}: no text"


def embedded(path):
    lines = run("pdffonts", str(path)).stdout.splitlines()[2:]
    if not lines:
        yield "no font"
    for line in lines:
        # name, type, encoding, emb, sub, uni, object id
        if line.split()[-5:-2] != ["yes", "yes", "yes"]:
            yield f"a font is not embedded, reduced and readable as text: {line}"


def main(out, paper):
    files = sorted(Path(out).glob("*/*.pdf"))
    kinds = {path.name for path in files}
    faults = []
    for path in files:
        for fault in (*sound(path), *coloured(path), *sized(path, paper), *embedded(path)):
            faults.append(f"{path.parent.name}/{path.name}: {fault}")
    always = {"manual.pdf", "shop-copy.pdf", "pick-lists.pdf", "receiving-list.pdf"}
    # Templates are made where there is something to cut.
    if not always <= kinds <= always | {"templates.pdf"}:
        faults.append(f"documents: {sorted(kinds)}")
    print(*faults, sep="\n")
    print(f"{len(files)} documents, {len(faults)} faults")
    sys.exit(bool(faults))


main(*sys.argv[1:])
