"""Photographs as cameras and presses write them, made and looked at with Pillow and pypdfium2.

    pictures.py make FOLDER   writes turned.jpg (Exif orientation 6, place, owner) and press.jpg (CMYK)
    pictures.py look OUT      finds both upright in colour and in grey, in the colours they were made of, without notes
"""

import sys
from pathlib import Path

import pypdfium2
from PIL import Image

# As shown: red, green above blue, white.
UPRIGHT = [[(200, 30, 30), (30, 160, 30)], [(30, 30, 200), (250, 250, 250)]]
OWNER = "Owner Of The Camera"
ORIENTATION, ARTIST, GPS = 0x0112, 0x013B, 0x8825  # Exif 2.32, tables 4 and 5


def make(folder):
    upright = Image.new("RGB", (900, 1200))
    for down, row in enumerate(UPRIGHT):
        for across, colour in enumerate(row):
            upright.paste(colour, (across * 450, down * 600, across * 450 + 450, down * 600 + 600))
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # to be turned a quarter clockwise
    exif[ARTIST] = OWNER
    exif.get_ifd(GPS)[1] = "N"
    exif.get_ifd(GPS)[2] = (51.0, 30.0, 15.0)
    upright.transpose(Image.Transpose.ROTATE_90).save(folder / "turned.jpg", exif=exif, quality=90)
    upright.convert("CMYK").save(folder / "press.jpg", quality=90)


def corners(picture):
    """The four quarters' middles of the one area on a page that is no text: found by its red or its darkest quarter."""
    return [
        [picture[picture.shape[0] * (1 + 2 * down) // 4, picture.shape[1] * (1 + 2 * across) // 4] for across in (0, 1)]
        for down in (0, 1)
    ]


def look(out):
    faults, seen = [], 0
    for path in sorted(out.glob("*/*.pdf")):
        if OWNER.encode() in path.read_bytes():
            faults.append(f"{path.name}: the owner of the camera is named")
        document = pypdfium2.PdfDocument(path)
        for number, page in enumerate(document, 1):
            for thing in page.get_objects():
                if thing.type != pypdfium2.raw.FPDF_PAGEOBJ_IMAGE:
                    continue
                left, bottom, right, top = thing.get_bounds()
                height = page.get_height()
                picture = page.render(scale=2).to_numpy()[..., :3]
                part = picture[int((height - top) * 2) : int((height - bottom) * 2), int(left * 2) : int(right * 2)]
                seen += 1
                if abs((right - left) / (top - bottom) - 0.75) > 0.01:
                    faults.append(f"{path.name} page {number}: {right - left:.0f} x {top - bottom:.0f} is not 3 to 4")
                # Blue, green and red in pypdfium2's pictures.
                shown = [[tuple(int(v) for v in p[::-1]) for p in row] for row in corners(part)]
                flat, meant = sum(shown, []), sum(UPRIGHT, [])
                if path.name == "manual.pdf":
                    right_ = all(abs(a - b) < 40 for s, m in zip(flat, meant) for a, b in zip(s, m))
                else:
                    # By luminance blue is darkest, then red, green and white.
                    greys = [s[0] for s in flat]
                    right_ = all(max(s) == min(s) for s in flat) and greys[2] < greys[0] < greys[1] < greys[3]
                if not right_:
                    faults.append(f"{path.name} page {number}: {shown}")
    for path in out.glob("*/manual/**/*.jpg"):
        picture = Image.open(path)
        notes = {ORIENTATION: 6} if path.name.startswith("turned") else {}
        if dict(picture.getexif()) != notes or OWNER.encode() in path.read_bytes():
            faults.append(f"{path.name}: {dict(picture.getexif())}")
        if picture.mode != "RGB":
            faults.append(f"{path.name}: {picture.mode} is not for a screen")
        if path.name.startswith("press"):
            shown = [picture.getpixel((225 + 450 * a, 300 + 600 * d)) for d in (0, 1) for a in (0, 1)]
            if any(abs(a - b) > 8 for s, m in zip(shown, sum(UPRIGHT, [])) for a, b in zip(s, m)):
                faults.append(f"{path.name}: {shown}")
        seen += 1
    print(*faults, sep="\n")
    print(f"{seen} pictures, {len(faults)} faults")
    sys.exit(bool(faults) or seen < 6)


{"make": make, "look": look}[sys.argv[1]](Path(sys.argv[2]))
