"""The font of every sheet: measured from its own tables, the same on every machine.

The font is Barlow Semi Condensed (SIL Open Font License), which comes with the install as a package: upright,
narrow, near the lettering of drawings, its stroke a tenth of its height as ISO 3098 has it (type B). Its
tabular figures are used everywhere, so columns of lengths stand under each other. Lettering is set without
kerning and without ligatures: the width of a text is the sum of its advance widths, in every back end.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from io import BytesIO
from pathlib import Path
from typing import Literal

import fontpkg_barlow_semi_condensed
from fontTools.ttLib import TTFont

Weight = Literal["regular", "bold"]

FAMILY = fontpkg_barlow_semi_condensed.FAMILY
#: Where the font is absent and a program takes no embedded one: narrow fonts first, whose text is no wider
#: than ours, since such a program often keeps to no given width either.
FALLBACKS = (
    "Barlow Condensed",
    "Arial Narrow",
    "Liberation Sans Narrow",
    "Nimbus Sans Narrow",
    "Roboto Condensed",
    "DejaVu Sans Condensed",
    "Arial",
    "sans-serif",
)
#: Height of the capitals over the font size: the outline of the H, of both weights (held by a test).
CAP_RATIO = 0.700
#: Font size for capitals of height 1.
FONT_SIZE_RATIO = 1.0 / CAP_RATIO
#: How far any ASCII character but the grave accent reaches above and below the baseline, for capitals of
#: height 1 (held by a test). Accents on capitals reach higher: lines LEADING_RATIO apart still keep clear.
ASCENT_RATIO = 0.800 / CAP_RATIO
DESCENT_RATIO = 0.213 / CAP_RATIO
#: The same of accents on capitals, of a ring on them, and of one on small letters, whose other accents stay
#: as low as the small letters are high (held by a test).
_ACCENT, _RING, _SMALL_RING = 1.33, 1.44, 1.18
#: Letters that reach well below the baseline.
_TAILED = frozenset("gjpqyQ@çÇ¿()[]{}|")
#: From baseline to baseline, for capitals of height 1. Common practice, no source.
LEADING_RATIO = 1.75
#: Stands in for a character that the font does not have.
SUBSTITUTE = "\N{LOZENGE}"

#: Texts whose measures are kept: more than the sheets of a large house hold, however many houses are drawn.
_KEPT = 16384
_FILES = {"regular": "BarlowSemiCondensed-Regular.ttf", "bold": "BarlowSemiCondensed-Bold.ttf"}
#: What the names of the tabular figures end in (held by a test against the font's own table).
_TABULAR = ".tf"
# A tape reading in feet and inches is one word: it is never broken between the two.
_TAPE_READING = re.compile(r"(?<=['′]) (?=[\d½⅓⅔¼¾⅛⅜⅝⅞])")
_BLANK = re.compile(r"[ \n]+")


@dataclass(frozen=True)
class FontFace:
    """What is measured of one weight.

    Attributes:
        units_per_em: font units in one font size.
        advances: advance width of each character [font units], by code point.
        ascent: how high a line of text reaches [font units].
        descent: how far it reaches below the baseline [font units, below zero].
    """

    units_per_em: int
    advances: dict[int, int]
    ascent: int
    descent: int


def font_path(weight: Weight = "regular") -> Path:
    """The file of one weight of the font, as it comes with the install."""
    return Path(fontpkg_barlow_semi_condensed.ROOT) / "files" / _FILES[weight]


@cache
def font_file(weight: Weight = "regular") -> bytes:
    """One weight as a TrueType file whose figures are the tabular ones: what every back end draws with.

    The packaged file has them as a feature, which not every reader of fonts can ask for. Nothing else is
    changed, but that the tables of features are left out. The same bytes from the same package.
    """
    with TTFont(font_path(weight), recalcTimestamp=False) as font:
        for table in font["cmap"].tables:
            table.cmap.update({code: _tabular(font, name) for code, name in table.cmap.items()})
        for name in ("GSUB", "GPOS", "GDEF", "DSIG"):
            if name in font:
                del font[name]
        out = BytesIO()
        font.save(out)
        return out.getvalue()


def _tabular(font: TTFont, name: str) -> str:
    """Name of the glyph that is drawn for one: of the tabular figure for a figure."""
    tabular = f"{name}{_TABULAR}"
    return tabular if tabular in font["hmtx"].metrics else name


@cache
def face(weight: Weight = "regular") -> FontFace:
    """The measures of one weight, read once."""
    with TTFont(font_path(weight), lazy=True) as font:
        widths = font["hmtx"].metrics
        return FontFace(
            font["head"].unitsPerEm,
            # What has a sign to draw; beyond four hexadecimal digits a PDF could not say what they are.
            {
                code: widths[_tabular(font, name)][0]
                for code, name in font.getBestCmap().items()
                if 0x20 <= code <= 0xFFFF
            },
            font["hhea"].ascent,
            font["hhea"].descent,
        )


@lru_cache(maxsize=_KEPT)
def shown(text: str) -> str:
    """A text as the font can show it: on one line, every character either the font's or :data:`SUBSTITUTE`.

    Tabs and line ends become spaces. Both weights hold the same characters.
    """
    known = _widths("regular").keys()
    if known >= set(text):
        return text
    plain = re.sub(r"\r\n|[\t\n\r\v\f\u2028\u2029]", " ", text)
    return "".join(letter if letter in known else SUBSTITUTE for letter in plain)


@cache
def _widths(weight: Weight) -> dict[str, int]:
    """Advance width of each character [font units]."""
    return {chr(code): width for code, width in face(weight).advances.items()}


@lru_cache(maxsize=_KEPT)
def _units(text: str, weight: Weight) -> int:
    """Width of one line of lettering [font units]."""
    return sum(map(_widths(weight).__getitem__, shown(text)))


def text_width(text: str, height: float, weight: Weight = "regular") -> float:
    """Width of one line of lettering [mm], from the first to the last advance width.

    Args:
        text: one line.
        height: height of the capitals [mm].
        weight: regular or bold.
    """
    return _units(text, weight) * height * FONT_SIZE_RATIO / face(weight).units_per_em


@lru_cache(maxsize=_KEPT)
def ascent(text: str) -> float:
    """How far a line reaches above its baseline, its accents included, for capitals of height 1.

    Rule: ASCENT_RATIO where no accent reaches higher.
    """
    found = ASCENT_RATIO
    for letter in () if text.isascii() else text:
        accents = unicodedata.decomposition(letter)
        if accents and letter.isupper():
            found = max(found, _RING if accents.endswith("030A") else _ACCENT)
        elif accents.endswith("030A"):
            found = max(found, _SMALL_RING)
    return found


def descent(text: str) -> float:
    """How far the tails of a line reach below its baseline, for capitals of height 1; 0 without any."""
    return DESCENT_RATIO if _TAILED & set(text) else 0.0


def wrap(text: str, width: float, height: float, weight: Weight = "regular") -> list[str]:
    """Break a text into lines that are no wider than ``width`` [mm].

    Lines break at spaces, at line ends of the text, never inside a tape reading (``2' 11-1/2"``), and inside
    a word only when the word alone is too wide.

    Args:
        text: any text; empty lines in it are kept.
        width: greatest width of a line [mm].
        height: height of the capitals [mm].
        weight: regular or bold.

    Returns:
        At least one line.
    """
    lines: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for word in _BLANK.split(_TAPE_READING.sub("\N{NO-BREAK SPACE}", paragraph.strip())):
            joined = f"{line} {word}" if line else word
            if text_width(joined, height, weight) <= width:
                line = joined
                continue
            if line:
                lines.append(line)
            line = word
            while text_width(line, height, weight) > width and len(line) > 1:
                cut = _fitting(line, width, height, weight)
                lines.append(line[:cut])
                line = line[cut:]
        lines.append(line)
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def _fitting(word: str, width: float, height: float, weight: Weight) -> int:
    """How many letters of a word go into a width; at least one."""
    count = 1
    while count < len(word) and text_width(word[: count + 1], height, weight) <= width:
        count += 1
    return count
