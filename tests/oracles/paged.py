#!/usr/bin/env python3
"""Checks the paged documents in a folder with outside programs.

    python3 tests/oracles/paged.py FOLDER

FOLDER holds PDFs (a name that begins with `manual` is in colour, any other in grey) and, where the tests wrote
them, `widths.json` with the faces it speaks of. Needs: pdfplumber, pypdfium2, pikepdf, fontTools, pyphen;
where installed also pdfua and outloud.
"""

import json
import pathlib
import re
import subprocess
import sys

import pdfplumber
import pikepdf
import pypdfium2

MARGIN = 36.0  # points: half an inch, the least any printer leaves


def lines_of(page):
    """Text lines by baseline: (top, bottom, left, right) of runs of characters that share one."""
    rows = {}
    for char in page.chars:
        if char["text"].strip():
            rows.setdefault((round(char["matrix"][5], 1), char["size"]), []).append(char)
    for chars in rows.values():
        chars.sort(key=lambda c: c["x0"])
        run = [chars[0]]
        for char in chars[1:]:
            if char["x0"] - run[-1]["x1"] > 6:
                yield run
                run = []
            run.append(char)
        yield run


def check_text(name, pdf, faults):
    """No two lines overlap, and no text stands outside the margins."""
    for number, page in enumerate(pdf.pages, 1):
        boxes = []
        for run in lines_of(page):
            size = run[0]["size"]
            base = page.height - run[0]["matrix"][5]
            # Letters reach about .73 em above and .2 em below the baseline.
            box = (run[0]["x0"], base - 0.6 * size, run[-1]["x1"], base + 0.1 * size)
            said = "".join(c["text"] for c in run)
            boxes.append((box, said, size))
            if box[0] < MARGIN or box[2] > page.width - MARGIN or base < MARGIN or base > page.height - 20:
                faults.append(f"{name} page {number}: outside the margins: {said!r}")
        for i, (a, said, size) in enumerate(boxes):
            for b, other, other_size in boxes[i + 1 :]:
                # The digits of fractions and notes are set into their line on purpose.
                if min(size, other_size) < 0.8 * max(size, other_size):
                    continue
                over = min(a[2], b[2]) - max(a[0], b[0])
                under = min(a[3], b[3]) - max(a[1], b[1])
                if over > 0.5 and under > 0.5:
                    faults.append(f"{name} page {number}: {said!r} lies over {other!r}")


def check_pixels(name, path, grey, faults):
    """Every page has ink; every pixel of a grey document has equal red, green and blue."""
    document = pypdfium2.PdfDocument(path)
    for number, page in enumerate(document, 1):
        picture = page.render(scale=1).to_numpy()[..., :3].astype(int)
        if picture.min() == 255:
            faults.append(f"{name} page {number}: blank")
        if grey and (abs(picture - picture[..., :1]) > 0).any():
            faults.append(f"{name} page {number}: colour in a grey document")


def check_operators(name, path, faults):
    """No colour operator and no colour image in a grey document, forms included."""
    colour = re.compile(rb"(?:^|\s)(?:rg|RG|k|K|cs|CS|sc|SC|scn|SCN)(?=\s|$)")
    with pikepdf.open(path) as pdf:
        for thing in pdf.objects:
            if not isinstance(thing, pikepdf.Stream):
                continue
            if thing.get("/Subtype") == "/Image" and thing.get("/ColorSpace") != "/DeviceGray":
                faults.append(f"{name}: an image in {thing.get('/ColorSpace')}")
            if thing.get("/Subtype") == "/Form" or (thing.get("/Type") is None and "/Length1" not in thing):
                for operands, operator in parse(thing):
                    if colour.match(b" " + bytes(operator)):
                        faults.append(f"{name}: colour operator {operator}")


def parse(stream):
    try:
        return [(o.operands, str(o.operator).encode()) for o in pikepdf.parse_content_stream(stream)]
    except pikepdf.PdfError:
        return []  # a text map of a font, no drawing


def check_hyphens(name, path, faults):
    """Words are parted only where another dictionary of hyphenation parts them."""
    import pyphen

    dictionary = pyphen.Pyphen(lang="en_US", left=2, right=2)
    said = subprocess.run(["pdftotext", "-raw", path, "-"], capture_output=True, text=True).stdout
    text = said.replace("\u00ad\n", "\u00ad")
    for word in re.findall(r"[A-Za-z]+(?:\u00ad[A-Za-z]+)+", text):
        whole = word.replace("\u00ad", "")
        points = set(dictionary.positions(whole.lower()))
        if word.index("\u00ad") not in points:
            faults.append(f"{name}: {word.replace(chr(0xad), '|')} is parted where {dictionary.inserted(whole)} is not")
    return len(re.findall("\u00ad", text))


def check_contents(name, pdf_path, faults):
    """Page labels of the file are the numbers printed at the foot of its pages."""
    with pikepdf.open(pdf_path) as pdf, pdfplumber.open(pdf_path) as read:
        for number, (page, seen) in enumerate(zip(pdf.pages, read.pages), 1):
            printed = seen.crop((seen.width - 90, seen.height - 50, seen.width, seen.height)).extract_text().strip()
            if printed and printed != page.label:
                faults.append(f"{name} page {number}: label {page.label}, printed {printed}")


def check_lint(name, path, faults):
    """Lints of tagged PDF, where they are installed beside this Python: PyPI pdfua and outloud."""
    for program, arguments in (("pdfua", ["check"]), ("outloud", ["-q"])):
        tool = pathlib.Path(sys.executable).parent / program
        if tool.exists():
            done = subprocess.run([tool, *arguments, path], capture_output=True, text=True)
            if done.returncode:
                faults.append(f"{name}: {program}: {done.stdout.strip()}")


def check_widths(folder, faults):
    """Widths of words are the sum of their font's advances and kerning (tables hmtx and kern)."""
    from fontTools.ttLib import TTFont

    told = folder / "widths.json"
    if not told.exists():
        return 0
    count = 0
    for face, words in json.loads(told.read_text()).items():
        font = TTFont(folder / face)
        units, cmap, advance = font["head"].unitsPerEm, font.getBestCmap(), font["hmtx"].metrics
        kern = {}
        for table in font["kern"].kernTables if "kern" in font else []:
            kern.update(table.kernTable)
        for word, width in words:
            glyphs = [cmap[ord(c)] for c in word]
            meant = sum(advance[g][0] for g in glyphs) + sum(kern.get(pair, 0) for pair in zip(glyphs, glyphs[1:]))
            # Each glyph is rounded to a thousandth of an em, and so is each pair's kerning.
            if abs(meant / units - width) > 0.001 * len(word):
                faults.append(f"{face}: {word!r} is {width:.4f} em wide, by the font {meant / units:.4f}")
            count += 1
    return count


def main():
    folder = pathlib.Path(sys.argv[1])
    faults = []
    files = sorted(folder.glob("*.pdf"))
    hyphens = 0
    for path in files:
        grey = not path.name.startswith(("manual", "by-position"))
        with pdfplumber.open(path) as pdf:
            check_text(path.name, pdf, faults)
        check_pixels(path.name, path, grey, faults)
        if grey:
            check_operators(path.name, path, faults)
        hyphens += check_hyphens(path.name, path, faults)
        check_contents(path.name, path, faults)
        check_lint(path.name, path, faults)
    widths = check_widths(folder, faults)
    print(f"{len(files)} files, {hyphens} hyphens, {widths} words measured, {len(faults)} faults")
    print("\n".join(faults))
    return 1 if faults or not files else 0


if __name__ == "__main__":
    sys.exit(main())
