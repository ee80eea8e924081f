"""The font of every sheet, as a file: it comes with the install, and is the same on every machine.

Barlow Semi Condensed (SIL Open Font License): upright, narrow, near the lettering of drawings, its stroke a
tenth of its height as ISO 3098 has it (type B). Its tabular figures are used everywhere, so columns of
lengths stand under each other.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
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

_FILES = {"regular": "BarlowSemiCondensed-Regular.ttf", "bold": "BarlowSemiCondensed-Bold.ttf"}
#: What the names of the tabular figures end in (held by a test against the font's own table).
_TABULAR = ".tf"


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
