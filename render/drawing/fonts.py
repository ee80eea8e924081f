"""How wide and how high lettering is: measured from the fonts' own tables, the same on every machine.

Lettering is set without kerning and without ligatures: the width of a text is the sum of its advance
widths, in every back end. A text with a sign that the sheets' own font lacks is drawn as outlines, and
measured by them.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from functools import cache, lru_cache

from evencourse.render.drawing.font_files import CAP_RATIO, FONT_SIZE_RATIO, Weight, face
from evencourse.render.drawing.other_scripts import Part, has_sign, other_width, parts

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
#: Stands round the number of a character that no font has.
SUBSTITUTE = "\N{LOZENGE}"

#: Texts whose measures are kept: more than the sheets of a large house hold, however many houses are drawn.
_KEPT = 16384
# A tape reading in feet and inches is one word: it is never broken between the two.
_TAPE_READING = re.compile(r"(?<=['′]) (?=[\d½⅓⅔¼¾⅛⅜⅝⅞])")
#: Embeddings, overrides and isolates (UAX 9, 2.1 to 2.4): what turns round the text after it.
TURNING = re.compile("[\u202a-\u202e\u2066-\u2069]")
_BLANK = re.compile(r"[ \n]+")


@lru_cache(maxsize=_KEPT)
def shown(text: str) -> str:
    """A text as it can be drawn: on one line, with the number of what no font has, ``◊1F71E◊``.

    Tabs and line ends become spaces. What turns round the text after it is left out: a figure stays as it is.
    """
    if _known() >= set(text):
        return text
    plain = re.sub(r"\r\n|[\t\n\r\v\f\u2028\u2029]", " ", TURNING.sub("", text))
    return "".join(one if has_sign(one) else f"{SUBSTITUTE}{ord(one):X}{SUBSTITUTE}" for one in plain)


def mixed(text: str, weight: Weight) -> tuple[Part, ...]:
    """The parts of a text that :func:`shown` gave; none where the sheets' own font has all of it."""
    return () if _known() >= set(text) else parts(text, weight)


@cache
def _known() -> frozenset[str]:
    """What the sheets' own font has; both weights hold the same characters (held by a test)."""
    return frozenset(_widths("regular"))


@cache
def _widths(weight: Weight) -> dict[str, int]:
    """Advance width of each character [font units]."""
    return {chr(code): width for code, width in face(weight).advances.items()}


@lru_cache(maxsize=_KEPT)
def _width(text: str, weight: Weight) -> float:
    """Width of one line of lettering, for capitals of height 1."""
    said = shown(text)
    if not _known() >= set(said):
        return other_width(said, weight)
    return sum(map(_widths(weight).__getitem__, said)) * FONT_SIZE_RATIO / face(weight).units_per_em


def text_width(text: str, height: float, weight: Weight = "regular") -> float:
    """Width of one line of lettering [mm], from the first to the last advance width.

    Args:
        text: one line.
        height: height of the capitals [mm].
        weight: regular or bold.
    """
    return _width(text, weight) * height


@lru_cache(maxsize=_KEPT)
def ascent(text: str) -> float:
    """How far a line reaches above its baseline, its accents included, for capitals of height 1.

    Rule: ASCENT_RATIO where no accent reaches higher.
    """
    found = ASCENT_RATIO
    if text.isascii():
        return found
    for part in mixed(shown(text), "bold"):
        found = max(found, *part.heights, 0.0)
    for letter in text:
        accents = unicodedata.decomposition(letter)
        if accents and letter.isupper():
            found = max(found, _RING if accents.endswith("030A") else _ACCENT)
        elif accents.endswith("030A"):
            found = max(found, _SMALL_RING)
    return found


@lru_cache(maxsize=_KEPT)
def descent(text: str) -> float:
    """How far the tails of a line reach below its baseline, for capitals of height 1; 0 without any."""
    found = DESCENT_RATIO if _TAILED & set(text) else 0.0
    for part in () if text.isascii() else mixed(shown(text), "bold"):
        found = max(found, *(-height for height in part.heights), 0.0)
    return found


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
    return max(
        1, bisect_right(range(1, len(word)), width, key=lambda n: text_width(word[:n], height, weight))
    )
