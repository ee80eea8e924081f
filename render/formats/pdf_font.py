"""The font inside a PDF: the outlines that a document uses, and how its letters are copied out again."""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from io import BytesIO

from evencourse.render.drawing.fonts import Weight, font_path
from evencourse.render.formats.pdf_file import File, Name, Ref, Value

_ADOBE_IDENTITY: dict[str, Value] = {"Registry": "Adobe", "Ordering": "Identity", "Supplement": 0}
_SYMBOLIC = 4
#: Tables that a reader needs beside the outlines; the last three only where the font has them.
_TABLES = ("head", "hhea", "maxp", "hmtx", "cvt ", "fpgm", "prep")


@dataclass(frozen=True)
class Outlines:
    """One weight, as its file has it.

    Attributes:
        glyphs: glyph index of each character, by code point.
        widths: advance width of each glyph [thousandths of the font size].
        places: start of each outline in ``outlines``, and the end of the last.
        outlines: the glyf table.
        tables: the other tables that a reader needs, as they are.
        name: PostScript name.
        box: left, bottom, right, top of what every glyph lies in [thousandths].
        ascent: as the font says [thousandths].
        descent: as the font says, below zero [thousandths].
        cap_height: as the font says [thousandths].
    """

    glyphs: dict[int, int]
    widths: tuple[int, ...]
    places: tuple[int, ...]
    outlines: bytes
    tables: dict[str, bytes]
    name: str
    box: tuple[int, ...]
    ascent: int
    descent: int
    cap_height: int


@cache
def outlines(weight: Weight) -> Outlines:
    """One weight of the font, read once."""
    from fontTools.ttLib import TTFont

    with TTFont(font_path(weight), lazy=True) as font:
        reader, head = font.reader, font["head"]
        codes = font.getBestCmap()
        metrics = font["hmtx"].metrics
        em: int = head.unitsPerEm

        def thousandths(units: int) -> int:
            return round(units * 1000 / em)

        return Outlines(
            {code: font.getGlyphID(name) for code, name in codes.items()},
            tuple(thousandths(metrics[name][0]) for name in font.getGlyphOrder()),
            tuple(font["loca"].locations),
            reader["glyf"],
            {tag: reader[tag] for tag in _TABLES if tag in reader},
            font["name"].getDebugName(6),
            tuple(thousandths(side) for side in (head.xMin, head.yMin, head.xMax, head.yMax)),
            thousandths(font["hhea"].ascent),
            thousandths(font["hhea"].descent),
            thousandths(font["OS/2"].sCapHeight),
        )


def embed(file: File, weight: Weight, letters: Iterable[str]) -> Ref:
    """Put a weight of the font into a file, with the outlines of some letters.

    Glyph indices stay those of the font: a letter is shown by its glyph index in two bytes.

    Args:
        file: where to.
        weight: regular or bold.
        letters: what is shown in it.

    Returns:
        The font object.

    References:
        ISO 32000-1, 9.7 (composite fonts), 9.10.3 (ToUnicode), 9.9 (embedded font programs).
    """
    font = outlines(weight)
    codes = sorted({ord(letter) for letter in letters})
    glyphs = sorted({font.glyphs[code] for code in codes})
    tag = hashlib.sha256(" ".join(map(str, codes)).encode()).digest()[:6]
    name = Name("".join(chr(65 + byte % 26) for byte in tag) + "+" + font.name)
    program = _program(font, {0, *glyphs})
    descriptor = file.add(
        {
            "Type": Name("FontDescriptor"),
            "FontName": name,
            "Flags": _SYMBOLIC,
            "FontBBox": list(font.box),
            "ItalicAngle": 0,
            "Ascent": font.ascent,
            "Descent": font.descent,
            "CapHeight": font.cap_height,
            "StemV": 140 if weight == "bold" else 85,
            "FontFile2": file.stream(program, {"Length1": len(program)}),
        }
    )
    widths: list[Value] = []
    for glyph in glyphs:
        widths += [glyph, [font.widths[glyph]]]
    descendant = file.add(
        {
            "Type": Name("Font"),
            "Subtype": Name("CIDFontType2"),
            "BaseFont": name,
            "CIDSystemInfo": _ADOBE_IDENTITY,
            "FontDescriptor": descriptor,
            "W": widths,
            "CIDToGIDMap": Name("Identity"),
        }
    )
    return file.add(
        {
            "Type": Name("Font"),
            "Subtype": Name("Type0"),
            "BaseFont": name,
            "Encoding": Name("Identity-H"),
            "DescendantFonts": [descendant],
            "ToUnicode": file.stream(_to_unicode({font.glyphs[code]: code for code in reversed(codes)})),
        }
    )


def _program(font: Outlines, glyphs: set[int]) -> bytes:
    """A TrueType file in which every other outline is empty."""
    kept = _with_parts(font, glyphs)
    body, places = BytesIO(), [0]
    for glyph in range(len(font.places) - 1):
        if glyph in kept:
            outline = font.outlines[font.places[glyph] : font.places[glyph + 1]]
            body.write(outline + b"\0" * (-len(outline) % 4))
        places.append(body.tell())
    head = bytearray(font.tables["head"])
    head[50:52] = struct.pack(">h", 1)  # places in the loca table are 4 bytes long
    head[8:12] = b"\0" * 4  # checkSumAdjustment: PDF readers do not look at it
    tables = {
        **font.tables,
        "head": bytes(head),
        "glyf": body.getvalue(),
        "loca": struct.pack(f">{len(places)}I", *places),
    }
    return _truetype(tables)


def _with_parts(font: Outlines, glyphs: set[int]) -> set[int]:
    """Glyphs with those that they are composed of (OpenType, glyf table, composite glyphs)."""
    found: set[int] = set()
    todo = list(glyphs)
    while todo:
        glyph = todo.pop()
        if glyph in found:
            continue
        found.add(glyph)
        data = font.outlines[font.places[glyph] : font.places[glyph + 1]]
        if len(data) < 10 or struct.unpack_from(">h", data)[0] >= 0:
            continue
        at, more = 10, True
        while more:
            flags, part = struct.unpack_from(">HH", data, at)
            todo.append(part)
            more = bool(flags & 0x20)
            at += 8 if flags & 0x01 else 6
            at += 2 if flags & 0x08 else 4 if flags & 0x40 else 8 if flags & 0x80 else 0
    return found


def _truetype(tables: dict[str, bytes]) -> bytes:
    """A TrueType file of some tables (OpenType, table directory)."""
    count = len(tables)
    power = count.bit_length() - 1
    head = BytesIO()
    head.write(struct.pack(">IHHHH", 0x00010000, count, 16 << power, power, 16 * (count - (1 << power))))
    body, start = BytesIO(), 12 + 16 * count
    for tag in sorted(tables):
        data = tables[tag]
        padded = data + b"\0" * (-len(data) % 4)
        checksum = sum(struct.unpack(f">{len(padded) // 4}I", padded)) & 0xFFFFFFFF
        head.write(struct.pack(">4sIII", tag.encode(), checksum, start + body.tell(), len(data)))
        body.write(padded)
    return head.getvalue() + body.getvalue()


def _to_unicode(codes: dict[int, int]) -> bytes:
    """What each glyph says when text is copied or searched."""
    lines = [
        "/CIDInit /ProcSet findresource begin 12 dict begin begincmap",
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def",
        "/CMapName /Adobe-Identity-UCS def /CMapType 2 def",
        "1 begincodespacerange <0000> <FFFF> endcodespacerange",
    ]
    pairs = [
        f"<{glyph:04X}> <{chr(code).encode('utf-16-be').hex().upper()}>"
        for glyph, code in sorted(codes.items())
    ]
    for start in range(0, len(pairs), 100):
        part = pairs[start : start + 100]
        lines += [f"{len(part)} beginbfchar", *part, "endbfchar"]
    lines.append("endcmap CMapName currentdict /CMap defineresource pop end end")
    return "\n".join(lines).encode("ascii")
