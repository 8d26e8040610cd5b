"""What pictures tell of their camera, author and place, made with Pillow and looked for with ExifTool.

    notes.py make FOLDER   writes noted.jpg, noted.png and noted.svg (with both inside), and finds their notes
    notes.py look FOLDER   finds none in any picture below a folder: alone, inside drawings and pages, inside PDFs

ExifTool (Debian libimage-exiftool-perl) names every note it knows of, unknown ones too. What is allowed is listed here;
anything else is a fault.
"""

import base64
import io
import json
import re
import struct
import subprocess
import sys
import tempfile
import zlib
from pathlib import Path

from PIL import Image, PngImagePlugin

SECRET = "Owner Of The Camera 4711"
# Exif 2.32, tables 4, 5 and 12; MakerNote is 0x927C, BodySerialNumber 0xA431, CameraOwnerName 0xA430.
ORIENTATION, ARTIST, EXIF, GPS, MAKER_NOTE, OWNER, SERIAL = 0x0112, 0x013B, 0x8769, 0x8825, 0x927C, 0xA430, 0xA431
XMP = (
    '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
    '<rdf:Description xmlns:dc="http://purl.org/dc/elements/1.1/" rdf:about=""><dc:source>%s</dc:source>'
    "</rdf:Description></rdf:RDF></x:xmpmeta>" % SECRET
)

# By group of ExifTool's -G1: what says how a picture is coded and looks, and nothing else.
ALLOWED = {
    "ExifTool": {"ExifToolVersion"},
    "System": None,
    "File": {
        "FileType", "FileTypeExtension", "MIMEType", "ExifByteOrder", "ImageWidth", "ImageHeight", "EncodingProcess",
        "BitsPerSample", "ColorComponents", "YCbCrSubSampling",
    },
    "JFIF": {"JFIFVersion", "ResolutionUnit", "XResolution", "YResolution"},
    "IFD0": {"Orientation"},
    "Adobe": {"DCTEncodeVersion", "APP14Flags0", "APP14Flags1", "ColorTransform"},
    "PNG": {
        "ImageWidth", "ImageHeight", "BitDepth", "ColorType", "Compression", "Filter", "Interlace", "Palette",
        "Transparency", "Gamma", "SRGBRendering", "ProfileName",
        "WhitePointX", "WhitePointY", "RedX", "RedY", "GreenX", "GreenY", "BlueX", "BlueY",
    },
    "ICC-header": None,
    "ICC_Profile": {
        "ProfileCopyright", "ProfileDescription", "MediaWhitePoint", "MediaBlackPoint", "ChromaticAdaptation",
        "RedMatrixColumn", "GreenMatrixColumn", "BlueMatrixColumn", "RedTRC", "GreenTRC", "BlueTRC", "GrayTRC",
    },
    "Composite": {"ImageSize", "Megapixels"},
}  # fmt: skip
# Of a profile's head: what names a device, a maker or a day must be empty.
EMPTY = {"DeviceManufacturer", "DeviceModel", "ProfileCreator", "ProfileDateTime", "ProfileID", "PrimaryPlatform"}


def noted_exif():
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif[ARTIST] = SECRET
    exif.get_ifd(EXIF)[MAKER_NOTE] = b"MAKER " + SECRET.encode()
    exif.get_ifd(EXIF)[OWNER] = SECRET
    exif.get_ifd(EXIF)[SERIAL] = "4711"
    exif.get_ifd(GPS)[1] = "N"
    exif.get_ifd(GPS)[2] = (51.0, 30.0, 15.0)
    return exif


def noted_profile():
    """An sRGB profile by Pillow with a text of a screen added (ICC.1:2022, 7.3)."""
    from PIL import ImageCms

    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    count = struct.unpack(">I", plain[128:132])[0]
    note = b"text\0\0\0\0" + SECRET.encode() + b"\0"
    note += b"\0" * (-len(note) % 4)
    table = b""
    for i in range(count):
        name, offset, size = struct.unpack(">4sII", plain[132 + i * 12 : 144 + i * 12])
        table += struct.pack(">4sII", name, offset + 12, size)
    body = plain[132 + count * 12 :]
    table += struct.pack(">4sII", b"dmdd", 132 + (count + 1) * 12 + len(body), len(note))
    whole = plain[4:128] + struct.pack(">I", count + 1) + table + body + note
    return struct.pack(">I", len(whole) + 4) + whole


def make(folder):
    picture = Image.linear_gradient("L").resize((900, 600)).convert("RGB")
    picture.paste((200, 30, 30), (0, 0, 450, 300))
    out = io.BytesIO()
    picture.save(
        out, "JPEG", exif=noted_exif(), xmp=XMP.encode(), comment=SECRET.encode(), icc_profile=noted_profile(),
        quality=85, progressive=True,
    )  # fmt: skip
    jpeg = out.getvalue()
    small = io.BytesIO()
    picture.resize((90, 60)).save(small, "JPEG")
    # IPTC (Photoshop's segment), a picture for a list (JFXX), and a second picture behind the end.
    iptc = b"\x1c\x02\x50" + struct.pack(">H", len(SECRET)) + SECRET.encode()
    iptc = b"Photoshop 3.0\x008BIM\x04\x04\0\0" + struct.pack(">I", len(iptc)) + iptc + b"\0" * (len(iptc) % 2)
    for marker, body in ((0xED, iptc), (0xE0, b"JFXX\0\x10" + small.getvalue()), (0xEF, SECRET.encode())):
        jpeg = jpeg[:2] + struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body + jpeg[2:]
    jpeg += small.getvalue() + SECRET.encode()
    (folder / "noted.jpg").write_bytes(jpeg)

    texts = PngImagePlugin.PngInfo()
    texts.add_text("Author", SECRET)
    texts.add_text("Comment", SECRET, zip=True)
    texts.add_itxt("XML:com.adobe.xmp", XMP)
    out = io.BytesIO()
    picture.save(out, "PNG", pnginfo=texts, exif=noted_exif(), icc_profile=noted_profile(), dpi=(300, 300))
    png = out.getvalue()
    time = b"tIME" + struct.pack(">HBBBBB", 2026, 1, 2, 3, 4, 5)
    png = png[:33] + struct.pack(">I", 7) + time + struct.pack(">I", zlib.crc32(time)) + png[33:] + SECRET.encode()
    (folder / "noted.png").write_bytes(png)

    href = {kind: f"data:image/{kind};base64," + base64.b64encode(data).decode() for kind, data in (("jpeg", jpeg), ("png", png))}
    (folder / "noted.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="600" height="300">'
        f"<!-- {SECRET} --><metadata>{XMP}</metadata>"
        f'<image width="300" height="200" href="{href["jpeg"]}"/>'
        f'<image x="300" width="300" height="200" xlink:href="{href["png"]}"/></svg>'
    )
    # That the notes are there to be lost, and that ExifTool finds them.
    found = json.dumps([tags for _, tags in notes(pictures(folder))])
    for tag in ("GPSLatitude", "Artist", "SerialNumber", "OwnerName", "MakerNote", "XMP", "IPTC", "Comment", "Author"):
        assert tag in found, f"ExifTool does not find the planted {tag}"
    assert len(list(faults(folder))) > 10


def embedded(text):
    for kind, data in re.findall(r"data:image/(png|jpe?g);base64,([A-Za-z0-9+/=\s]+)", text):
        yield "png" if kind == "png" else "jpg", base64.b64decode(data)


def pictures(folder):
    """Every picture below a folder: a name that tells where it is, its ending, its bytes."""
    for path in sorted(p for p in folder.rglob("*") if p.is_file()):
        name, kind = str(path.relative_to(folder)), path.suffix.lower().lstrip(".")
        if kind in ("jpg", "jpeg", "png"):
            yield name, "png" if kind == "png" else "jpg", path.read_bytes()
        elif kind in ("svg", "html", "css", "js"):
            for number, (inner, data) in enumerate(embedded(path.read_text("utf-8")), 1):
                yield f"{name}, picture {number}", inner, data
        elif kind == "pdf":
            with tempfile.TemporaryDirectory() as scratch:
                subprocess.run(["pdfimages", "-j", str(path), f"{scratch}/p"], check=True)
                for image in sorted(Path(scratch).glob("*.jpg")):
                    yield f"{name}, {image.name}", "jpg", image.read_bytes()


def notes(found):
    """What ExifTool says of each picture: its name, and tags by `Group:Tag`."""
    with tempfile.TemporaryDirectory() as scratch:
        names = []
        for number, (name, kind, data) in enumerate(found):
            (Path(scratch) / f"{number:05}.{kind}").write_bytes(data)
            names.append(name)
        if not names:
            return
        command = ["exiftool", "-json", "-a", "-u", "-ee", "-G1", scratch]
        read = json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
        assert len(read) == len(names), "ExifTool did not read every picture"
        for tags in read:
            yield names[int(Path(tags.pop("SourceFile")).stem)], tags


def faults(folder):
    for name, tags in notes(pictures(folder)):
        for tag, value in tags.items():
            group, _, word = tag.partition(":")
            allowed = ALLOWED.get(group, set())
            if group == "ICC-header" and word in EMPTY and str(value).replace("Unknown ()", "").strip("0: "):
                yield f"{name}: {tag} is {value!r}"
            elif allowed is not None and word not in allowed:
                yield f"{name}: {tag} is {str(value)[:80]!r}"
    for path in sorted(p for p in folder.rglob("*") if p.is_file()):
        data = path.read_bytes()
        if SECRET.encode() in data or SECRET.encode("utf-16-be") in data:
            yield f"{path.name}: {SECRET!r} stands in its bytes"


def look(folder):
    seen = sum(1 for _ in pictures(folder))
    found = list(faults(folder))
    print(f"{seen} pictures looked at")
    if not seen:
        found.append("there are no pictures to look at")
    if found:
        sys.exit("\n".join(found[:40]))


{"make": make, "look": look}[sys.argv[1]](Path(sys.argv[2]))
