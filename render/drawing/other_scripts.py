"""Lettering that the sheets' own font does not have: names in any script, in any direction, as outlines.

A name is data and stays what it is: a face called ``前`` or ``Север`` is drawn as its owner writes it. Noto
Sans (SIL Open Font License) comes with the install in the scripts that it covers. A line of text with such a
sign in it is split into runs of one direction and one font, each is shaped by HarfBuzz, and the outlines
stand in the order that is read (UAX 9, the line itself from left to right). Back ends paint outlines as they
paint shapes, so that no format needs the fonts, and keep the text beside them for whoever searches or copies.

    Face  בית  12        levels 0 0 1 1 2      runs: Face | 12 | בית
"""

from __future__ import annotations

import importlib.util
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

import uharfbuzz
from bidi import algorithm

from evencourse.render.drawing.font_files import CAP_RATIO, Weight, face, font_file

Point = tuple[float, float]
#: One step of an outline: M moves to a point, L draws a line, C a cubic curve (two controls), Z closes.
Stroke = tuple[str, tuple[Point, ...]]

#: Measures and outlines that are kept: those of a house with many names.
_KEPT, _DRAWN = 4096, 256
#: Fonts of signs and of East Asia, which hold much of the other fonts' signs as well: asked last.
_LAST = ("NotoSansSymbols[wght].ttf", "NotoSansCJK-VF.otf.ttc", "NotoEmoji[wght].ttf")
_PACKAGES = ("manimgx_fonts", "manimgx_fonts_cjk")
_WEIGHTS = {"regular": 400.0, "bold": 700.0}
#: The sheets' own lettering has neither kerning nor ligatures.
_OWN = {"kern": False, "liga": False}
#: Control characters, halves of pairs, and what Unicode assigns to nobody; some fonts draw something there.
_NO_SIGN = frozenset({"Cc", "Cs", "Co", "Cn"})
#: Classes of signs that set directions and are taken out of the text by the algorithm (UAX 9, X9).
_TAKEN = frozenset(algorithm.X9_REMOVED)


@dataclass(frozen=True)
class Part:
    """A stretch of a line of lettering, for capitals of height 1.

    Attributes:
        text: what it says, as spoken.
        start: where it starts, from the start of the line.
        width: from the first to the last advance width.
        strokes: its outlines from there, filled where they wind (non-zero); none where the sheets' own font
            letters it.
    """

    text: str
    start: float
    width: float
    strokes: tuple[Stroke, ...]

    @property
    def heights(self) -> list[float]:
        """Of its outlines over the baseline."""
        return [y for _, points in self.strokes for _, y in points]


@dataclass(frozen=True)
class _Run:
    """Signs of one font and one level, in the order in which they are spoken."""

    text: str
    level: int
    font: uharfbuzz.Font
    weight: Weight

    @property
    def own(self) -> bool:
        """Whether the sheets' own font letters it."""
        return self.font is _own(self.weight)


def has_sign(letter: str) -> bool:
    """Whether a sign can be drawn, by the sheets' font or by another."""
    return _font(letter, "regular") is not None or _unseen(letter)


def other_width(text: str, weight: Weight) -> float:
    """Width of such a line, for capitals of height 1: what ``parts`` take together."""
    return sum(_advance(run) for run in _runs(text, weight))


@lru_cache(maxsize=_DRAWN)
def parts(text: str, weight: Weight) -> tuple[Part, ...]:
    """A line of text as it is set, from left to right.

    Args:
        text: one line whose signs all ``has_sign``.
        weight: regular or bold; a font without weights is drawn as it is.

    Returns:
        The same for the same text on every machine.
    """
    found: list[Part] = []
    x = 0.0
    for run in _in_reading_order(list(_runs(text, weight))):
        width, strokes = _shaped(run)
        # As lettering, a sign that is never seen would show as a box.
        said = run.text if strokes else "".join(one for one in run.text if not _unseen(one))
        if said:
            found.append(Part(said, x, width, strokes))
        x += width
    return tuple(found)


def _buffer(run: _Run) -> uharfbuzz.Buffer:
    """The signs of a run as its font draws them."""
    buffer = uharfbuzz.Buffer()
    buffer.add_str(run.text)
    buffer.guess_segment_properties()
    buffer.direction = "rtl" if run.level % 2 else "ltr"
    uharfbuzz.shape(run.font, buffer, _OWN if run.own else {})
    return buffer


def _steps(run: _Run, buffer: uharfbuzz.Buffer) -> Iterator[float]:
    """From each sign of a run to the next, for capitals of height 1."""
    scale = 1.0 / (run.font.face.upem * CAP_RATIO)
    for sign, place in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        # A space is as wide as ours: that of some fonts is as wide as a sign.
        yield _space(run.weight) if run.text[sign.cluster] == " " else place.x_advance * scale


@lru_cache(maxsize=_KEPT)
def _advance(run: _Run) -> float:
    """Width of a run, for capitals of height 1."""
    return sum(_steps(run, _buffer(run)))


@lru_cache(maxsize=_DRAWN)
def _shaped(run: _Run) -> tuple[float, tuple[Stroke, ...]]:
    """Width and outlines of a run, for capitals of height 1."""
    buffer = _buffer(run)
    scale = 1.0 / (run.font.face.upem * CAP_RATIO)
    strokes: list[Stroke] = []
    x = 0.0
    signs = zip(buffer.glyph_infos, buffer.glyph_positions, _steps(run, buffer), strict=True)
    for sign, place, step in signs:
        # What stands in the order of our own letters is lettered.
        if not (run.own and run.level % 2 == 0):
            pen = _Pen(strokes, x + place.x_offset * scale, place.y_offset * scale, scale)
            run.font.draw_glyph_with_pen(sign.codepoint, pen)
        x += step
    return x, tuple(strokes)


def seen_order(text: str) -> str:
    """The signs of a part as the eye meets them from left to right, marks behind their letters."""
    if not any(unicodedata.bidirectional(one) in ("R", "AL") for one in text):
        return text
    groups: list[str] = []
    for one in text:
        if groups and unicodedata.category(one)[0] == "M":
            groups[-1] += one
        else:
            groups.append(one)
    return "".join(reversed(groups))


def _space(weight: Weight) -> float:
    """Width of a space, for capitals of height 1."""
    measures = face(weight)
    return measures.advances[ord(" ")] / (measures.units_per_em * CAP_RATIO)


class _Pen:
    """Takes an outline down (the methods are those of fonttools' pens), in its place and size."""

    def __init__(self, strokes: list[Stroke], x: float, y: float, scale: float) -> None:
        self._strokes = strokes
        self._x, self._y, self._scale = x, y, scale
        self._last: Point = (0.0, 0.0)

    def _take(self, step: str, *points: Point) -> None:
        placed = tuple((self._x + x * self._scale, self._y + y * self._scale) for x, y in points)
        self._strokes.append((step, placed))
        self._last = points[-1] if points else self._last

    def moveTo(self, point: Point) -> None:  # noqa: N802
        self._take("M", point)

    def lineTo(self, point: Point) -> None:  # noqa: N802
        self._take("L", point)

    def curveTo(self, *points: Point) -> None:  # noqa: N802
        self._take("C", *points)

    def qCurveTo(self, control: Point, end: Point) -> None:  # noqa: N802
        # A quadratic curve is a cubic one whose controls lie two thirds of the way to its own.
        first, second = (
            (near[0] + (control[0] - near[0]) * 2 / 3, near[1] + (control[1] - near[1]) * 2 / 3)
            for near in (self._last, end)
        )
        self._take("C", first, second, end)

    def closePath(self) -> None:  # noqa: N802
        self._take("Z")

    def endPath(self) -> None:  # noqa: N802
        pass


def _runs(text: str, weight: Weight) -> Iterator[_Run]:
    """Stretches of one level and one font, as spoken."""
    kept = ""
    level, font = 0, None
    for letter, there in zip(text, _levels(text), strict=True):
        its = font if font is not None and _joins(letter, font) else _font(letter, weight)
        its = its if its is not None else _own(weight)
        if kept and (there, its) != (level, font):
            yield _Run(kept, level, font, weight)
            kept = ""
        kept, level, font = kept + letter, there, its
    if kept:
        yield _Run(kept, level, font, weight)


def _levels(text: str) -> Iterator[int]:
    """The embedding level of each sign in a line from left to right (UAX 9): odd runs from right to left."""
    storage = algorithm.get_empty_storage()
    storage["base_level"], storage["base_dir"] = 0, "L"
    algorithm.get_embedding_levels(text, storage)
    algorithm.explicit_embed_and_overrides(storage)
    algorithm.resolve_weak_types(storage)
    algorithm.resolve_neutral_types(storage, debug=False)
    algorithm.resolve_implicit_levels(storage, debug=False)
    found = iter(storage["chars"])
    level = 0
    for letter in text:
        if unicodedata.bidirectional(letter) not in _TAKEN:
            level = next(found)["level"]
        yield level


def _in_reading_order(runs: list[_Run]) -> list[_Run]:
    """Runs from left to right: from the highest level down, what has it or more is turned round (L2)."""
    for level in range(max((run.level for run in runs), default=0), 0, -1):
        start = 0
        while start < len(runs):
            end = start
            while end < len(runs) and runs[end].level >= level:
                end += 1
            runs[start:end] = reversed(runs[start:end])
            start = end + 1
    return runs


def _joins(letter: str, font: uharfbuzz.Font) -> bool:
    """Whether a sign belongs to what it follows: a mark over a letter, a space, or one that is never seen."""
    marked = letter == " " or unicodedata.category(letter)[0] == "M"
    return _unseen(letter) or (marked and ord(letter) in _covered(font.face))


def _unseen(letter: str) -> bool:
    """Whether a sign only says how others are drawn: direction, joining, variation."""
    return unicodedata.category(letter) == "Cf" or "\ufe00" <= letter <= "\ufe0f"


@cache
def _own(weight: Weight) -> uharfbuzz.Font:
    return uharfbuzz.Font(uharfbuzz.Face(font_file(weight)))


@cache
def _covered(of: uharfbuzz.Face) -> frozenset[int]:
    return frozenset(of.unicodes)


@lru_cache(maxsize=_KEPT)
def _font(letter: str, weight: Weight) -> uharfbuzz.Font | None:
    """The first font that has a sign, the sheets' own before all others; None where none has."""
    if unicodedata.category(letter) in _NO_SIGN:
        return None
    if ord(letter) in face(weight).advances:
        return _own(weight)
    return next((font for font in _others(weight) if ord(letter) in _covered(font.face)), None)


@cache
def _others(weight: Weight) -> tuple[uharfbuzz.Font, ...]:
    """The other fonts of the install, those of one script first."""
    files = [
        path
        for name in _PACKAGES
        if (package := importlib.util.find_spec(name)) is not None
        for folder in package.submodule_search_locations or ()
        for path in Path(folder).iterdir()
        if path.suffix in (".ttf", ".ttc") and "Italic" not in path.name
    ]
    files.sort(key=lambda path: (_LAST.index(path.name) if path.name in _LAST else -1, path.name))
    fonts = []
    for path in files:
        font = uharfbuzz.Font(uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(path))))
        font.set_variations({"wght": _WEIGHTS[weight]})
        fonts.append(font)
    return tuple(fonts)
