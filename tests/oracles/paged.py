#!/usr/bin/env python3
"""Checks the paged documents in a folder with outside programs.

    python3 tests/oracles/paged.py FOLDER [--controls]

With --controls the lints are tried on a sound and on an unsound file as well. FOLDER holds PDFs (a name that begins with `manual` is in colour, any other in grey) and, where the tests wrote
them, `widths.json` with the faces it speaks of. Needs: pdfplumber, pypdfium2, pikepdf, fontTools, pyphen, pdfua,
outloud and typst.
"""

import json
import multiprocessing
import pathlib
import re
import subprocess
import sys
import tempfile

import pdfplumber
import pikepdf
import pypdfium2

MARGIN = 36.0  # points: half an inch
EDGE = 18.0  # a quarter of an inch, the least an office printer leaves; only the letters of changes come so near


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
            letter = len(said) < 4 and box[0] > page.width - MARGIN - 4
            right = page.width - (EDGE if letter else MARGIN)
            if box[0] < MARGIN or box[2] > right or base < MARGIN or base > page.height - 20:
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


AROUND = 60  # points of paper that are looked at on each side beyond the page


def check_pixels(name, path, grey, faults):
    """Every page has ink between its head and its foot; nothing, clipped or not, is drawn beyond the page's edges; every
    pixel of a grey document has equal red, green and blue."""
    document = pypdfium2.PdfDocument(path)
    for number, page in enumerate(document, 1):
        width, height = page.get_size()
        larger = (-AROUND, -AROUND, width + AROUND, height + AROUND)
        page.set_mediabox(*larger)
        page.set_cropbox(*larger)
        picture = page.render(scale=1).to_numpy()[..., :3].astype(int)
        # A pixel on the edge may have some of the ink beside it.
        inside = picture[AROUND - 1 : 1 - AROUND, AROUND - 1 : 1 - AROUND]
        if (picture == 255).sum() - (inside == 255).sum() != picture.size - inside.size:
            faults.append(f"{name} page {number}: something is drawn beyond the page's edge")
        if inside[60:-60].min() == 255:
            faults.append(f"{name} page {number}: blank")
        if grey and (abs(picture - picture[..., :1]) > 0).any():
            faults.append(f"{name} page {number}: colour in a grey document")


def check_beyond(faults, folder):
    """The look beyond the edges itself: it sees a line, a picture and a clipped picture that stand out, and no other."""
    for at, stands_out in ((20, False), (-20, True), (570, True)):
        path = folder / f"beyond{at}.pdf"
        with pikepdf.new() as pdf:
            page = pdf.add_blank_page(page_size=(600, 800))
            drawn = f"q 0 0 600 800 re W n -90 300 60 60 re f Q 2 w {at} 400 m {at + 50} 400 l S"
            page.Contents = pdf.make_stream(drawn.encode())
            pdf.save(path)
        found = []
        check_pixels("", path, True, found)
        if any("beyond" in fault for fault in found) != stands_out:
            faults.append(f"a line from {at} on a page of 600 points: {found}")


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


def check_contents(name, pdf_path, read, faults):
    """Page labels of the file are the numbers printed at the foot of its pages, and the numbers of pages that links
    show are the labels of the pages they lead to."""
    references = 0
    with pikepdf.open(pdf_path) as pdf:
        labels = {page.objgen: page.label for page in pdf.pages}
        for number, (page, seen) in enumerate(zip(pdf.pages, read.pages), 1):
            printed = seen.crop((seen.width - 90, seen.height - 50, seen.width, seen.height)).extract_text().strip()
            if printed and printed != page.label:
                faults.append(f"{name} page {number}: label {page.label}, printed {printed}")
            for link in page.get("/Annots", []):
                left, bottom, right, top = (float(v) for v in link.Rect)
                inside = [
                    c["text"]
                    for c in seen.chars
                    if left - 1 <= (c["x0"] + c["x1"]) / 2 <= right + 1 and bottom <= c["matrix"][5] + 2 <= top
                ]
                said = "".join(inside).strip()
                # Only a reference to a page ends at the right margin and is nothing but a number.
                if said.isdigit() and "/Dest" in link and right > float(seen.width) - 60:
                    references += 1
                    label = labels[link.Dest[0].objgen]
                    if said != label:
                        faults.append(f"{name} page {number}: refers to page {said}, leads to page {label}")
    return references


# outloud guesses two things that are otherwise in our documents, and `check_heads` and `check_furniture` show it. It takes
# the heads of a short table for one head cut up: a table of one part has six named columns, and a row is named by its
# first cell. And it takes a running head of eight words or more for a sentence.
GUESSES = {"TBL-010", "TAG-002"}


def check_heads(name, path, faults):
    """Every table has at most one row of heads, each for its column; any other row has at most one head for
    the row, its first cell or the one behind a box to tick, and data behind it, unless it is one head over the whole
    table."""
    with pikepdf.open(path) as pdf:
        tables = [element for element in elements(pdf) if element.get("/S") == "/Table"]
        for number, table in enumerate(tables, 1):
            heads = 0
            for row in (e for e in below(table) if e.get("/S") == "/TR"):
                cells = children(row)
                kinds = [str(cell.S) for cell in cells]
                scopes = [str(cell.A.get("/Scope")) if "/A" in cell else None for cell in cells]
                if scopes and all(scope == "/Column" for scope in scopes):
                    heads += 1
                elif "/TH" in kinds:
                    at = kinds.index("/TH")
                    over = len(cells) == 1 and int(cells[0].A.get("/ColSpan", 1)) > 1
                    if kinds.count("/TH") > 1 or scopes[at] != "/Row" or at > 1 or (len(cells) == 1 and not over):
                        faults.append(f"{name}: table {number} has a row {kinds} {scopes}")
            if heads > 1:
                faults.append(f"{name}: table {number} has {heads} rows of heads")
    return len(tables)


def children(element):
    kids = element.get("/K", [])
    kids = kids if isinstance(kids, pikepdf.Array) else [kids]
    return [kid for kid in kids if isinstance(kid, pikepdf.Dictionary) and "/S" in kid]


def below(element):
    for kid in children(element):
        yield kid
        yield from below(kid)


def elements(pdf):
    return below(pdf.Root.StructTreeRoot) if "/StructTreeRoot" in pdf.Root else []


# The right edge of a manual's side column, in points.
SIDE = 134


def check_side(name, number, chars, tagged, faults):
    """The title of a group that goes on: words that are tagged where the group begins, and `continued` below them."""
    lines = {}
    for char in chars:
        lines.setdefault(round(char["matrix"][5], 1), []).append(char)
    above = None
    for base in sorted(lines, reverse=True):
        text = "".join(c["text"] for c in lines[base]).strip()
        if text in ("", "Notes"):
            continue
        bold = all("Bold" in c["fontname"] for c in lines[base] if c["text"].strip())
        goes_on = text == "continued" and above is not None and above - base < 30
        if not goes_on and not (bold and "".join(text.split()) in tagged):
            faults.append(f"{name} page {number}: an artefact in the side column says {text!r}")
        above = base if bold else None


def check_furniture(name, read, faults):
    """What is marked as an artefact is the running head and foot, the head of a table said once more at the top of a page,
    the title of a group said once more beside it, or the word over the lines for notes. So no sentence is kept from a
    reader."""
    tagged = "".join(c["text"] for page in read.pages for c in page.chars if c.get("tag") != "Artifact" and c["text"].strip())
    for number, page in enumerate(read.pages, 1):
        said, side = {}, []
        for char in page.chars:
            base = page.height - char["matrix"][5]
            if char.get("tag") == "Artifact" and 60 < base < page.height - 55:
                said.setdefault(round(base, 1), []).append(char)
        for base, chars in list(said.items()):
            line = "".join(c["text"] for c in chars).strip()
            bold = all("Bold" in c["fontname"] for c in chars if c["text"].strip())
            # Above the head of a table across both columns.
            if bold and line.endswith(", continued") and "".join(line.removesuffix(", continued").split()) in tagged:
                del said[base]
                continue
            beside = [c for c in chars if c["x1"] < SIDE]
            # A line that goes on to the right of the column is of a table across both.
            if max((c["x0"] for c in chars if c["text"].strip()), default=0) < SIDE or base > 125:
                side.extend(beside)
                said[base] = [c for c in chars if c["x1"] >= SIDE]
        check_side(name, number, side, tagged, faults)
        rest = [chars for base, chars in said.items() if base > 125]
        for chars in rest:
            text = "".join(c["text"] for c in chars).strip()
            if text not in ("", "Notes"):
                faults.append(f"{name} page {number}: an artefact says {text!r}")
        for base in (b for b in said if b <= 125):
            # Heads of tables are set in bold.
            if any("Bold" not in c["fontname"] for c in said[base] if c["text"].strip()):
                faults.append(f"{name} page {number}: an artefact at {base}")


def lint(path):
    """What the lints of tagged PDF say, PyPI pdfua and outloud: a line for each error."""
    tools = pathlib.Path(sys.executable).parent
    done = subprocess.run([tools / "pdfua", "check", path], capture_output=True, text=True)
    if done.returncode:
        yield f"pdfua: {done.stdout.strip()}"
    done = subprocess.run([tools / "outloud", path], capture_output=True, text=True)
    if done.returncode not in (0, 1):
        yield f"outloud: {done.stdout} {done.stderr}"
    for code, page, what in re.findall(r"^  ERROR +(\S+) +(\S+) +(.*)$", done.stdout, re.M):
        if code not in GUESSES:
            yield f"outloud: {code} {page} {what}"


def check_controls(folder, faults):
    """The lints themselves: silent about a PDF/UA-1 file of a typesetter (PyPI typst), not about one without tags."""
    import typst

    source = folder / "control.typ"
    source.write_text(
        '#set document(title: "Bracket")\n#set text(lang: "en")\n= Bracket\n\nDrill two holes.\n\n'
        '#table(columns: 2, table.header[Part][Quantity], [Bolt], [2], [Nut], [2], [Washer], [4])\n'
    )
    tagged, plain = folder / "control-tagged.pdf", folder / "control-plain.pdf"
    typst.compile(str(source), str(tagged), format="pdf", pdf_standards=["ua-1"])
    typst.compile(str(source), str(plain), format="pdf", pdf_tags=False)
    if said := list(lint(tagged)):
        faults.append(f"the lints are not silent about a sound file: {said}")
    if not list(lint(plain)):
        faults.append("the lints find nothing in a file without tags")


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


def check(path):
    """Faults of a file, and how many hyphens and references to pages were compared."""
    faults = []
    grey = not path.name.startswith(("manual", "by-position"))
    with pdfplumber.open(path) as read:
        check_text(path.name, read, faults)
        references = check_contents(path.name, path, read, faults)
        check_furniture(path.name, read, faults)
    check_heads(path.name, path, faults)
    check_pixels(path.name, path, grey, faults)
    if grey:
        check_operators(path.name, path, faults)
    hyphens = check_hyphens(path.name, path, faults)
    faults.extend(f"{path.name}: {said}" for said in lint(path))
    return faults, hyphens, references


def main():
    folder = pathlib.Path(sys.argv[1])
    files = sorted(folder.glob("*.pdf"))
    with multiprocessing.Pool() as pool:
        found = pool.map(check, files, chunksize=1)
    faults = [fault for list_, _, _ in found for fault in list_]
    hyphens, references = sum(h for _, h, _ in found), sum(r for _, _, r in found)
    widths = check_widths(folder, faults)
    if "--controls" in sys.argv:
        with tempfile.TemporaryDirectory() as scratch:
            check_controls(pathlib.Path(scratch), faults)
            check_beyond(faults, pathlib.Path(scratch))
    print(
        f"{len(files)} files, {hyphens} hyphens, {references} references to pages, {widths} words measured, "
        f"{len(faults)} faults"
    )
    print("\n".join(faults))
    return 1 if faults or not files else 0


if __name__ == "__main__":
    sys.exit(main())
