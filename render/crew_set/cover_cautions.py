"""Cautions of a cover: on the cover itself, and in the crew's languages on sheets behind it."""

from __future__ import annotations

from collections.abc import Sequence

from evencourse.layout.language.speech import beside, gettext, speaking, spoken
from evencourse.layout.model.course_plan import Plan
from evencourse.render.crew_set.cover_starters import shortened
from evencourse.render.drawing.drawing import Mark
from evencourse.render.drawing.font_files import Weight
from evencourse.render.drawing.fonts import LEADING_RATIO, wrap
from evencourse.render.drawing.placement import Box
from evencourse.render.drawing.text_lines import clear_leading, lines_down
from evencourse.render.words.caution_words import cautions_together
from evencourse.render.words.safety import GENERAL

#: Lines that cautions may take more, where they are whole then.
_LONGER = 3
#: Heights of lettering on sheets of cautions for letter and A4, the least on any, air over a heading [mm].
_HEIGHTS, _SMALLEST, _AIR = (3.5, 3.0, 2.5), 2.5, 3.0

#: A face and what it cautions of.
_Cautioned = tuple[str, Sequence[str]]
#: A heading and the cautions under it, in one language.
_Told = tuple[str, Sequence[str]]


def warned() -> str:
    """The heading over cautions."""
    return gettext("Cautions")


def crew_languages(plan: Plan) -> tuple[str, ...]:
    """Codes of the crew's languages that the set is not in: neither first nor second."""
    said = {spoken().code, language.code if (language := beside(spoken)) is not None else ""}
    return tuple(code for code in plan.job.crew_languages if code not in said)


def whole_cautions(plan: Plan, width: float, height: float) -> list[str]:
    """All cautions of a job in lines, those of single faces first."""
    own, general = _cautions(tuple(cautions_together(plan)))
    return wrap(" ".join([*own, *general]), width, height)


def caution_pages(plan: Plan, room: Box, k: float) -> list[list[Mark]]:
    """All cautions in the second language and in the crew's, a caution a paragraph, as large as one sheet has
    room for; on more sheets where that has no room for them in small lettering.

    Args:
        plan: the plan.
        room: what may be drawn on, on every sheet [mm].
        k: how much larger than on letter the lettering is.
    """
    told: list[_Told] = []
    if (second := beside(lambda: _paragraphs(plan))) is not None:
        told.append(second)
    for code in crew_languages(plan):
        with speaking(code):
            told.append(_paragraphs(plan))
    run_on = [(heading, (" ".join(cautions),)) for heading, cautions in told]
    choices: list[tuple[Sequence[_Told], float]] = [(told, height * k) for height in _HEIGHTS]
    choices += [(told, _SMALLEST), *((run_on, height * k) for height in _HEIGHTS), (run_on, _SMALLEST)]
    pages = (_pages(words, room, height) for words, height in choices)
    return next((found for found in pages if len(found) == 1), None) or _pages(told, room, _SMALLEST)


def _paragraphs(plan: Plan) -> _Told:
    own, general = _cautions(tuple(cautions_together(plan)))
    return warned(), (*own, *general)


def _pages(told: Sequence[_Told], room: Box, height: float) -> list[list[Mark]]:
    pages: list[list[Mark]] = [[]]
    y = top = room.top - _AIR

    def put(lines: Sequence[str], weight: Weight, over: float, under: int) -> None:
        """Lines that stand together, with some to come under them; on the next sheet where one is full."""
        nonlocal y
        leading = clear_leading(lines, LEADING_RATIO)
        y -= over if pages[-1] else 0.0
        if pages[-1] and y - (len(lines) + under) * height * leading < room.bottom:
            pages.append([])
            y = top
        pages[-1] += lines_down(lines, room.left, y, height, weight, leading=leading)
        y -= len(lines) * height * leading

    for heading, cautions in told:
        put([heading], "bold", _AIR, 2)
        for caution in cautions:
            put(wrap(caution, room.width, height), "regular", 0.3 * height, 0)
    return pages


def cautioned(plan: Plan, width: float, height: float, most: int) -> list[str]:
    """Cautions in lines, the faces' own ones first; too many are named alone, for the faces' sheets."""
    faces = tuple(cautions_together(plan))
    own, general = _cautions(faces)
    lines = wrap(" ".join([*own, *general]), width, height)
    if len(lines) > most:
        lines = wrap(" ".join([*_named(faces), *general]), width, height)
    if len(lines) > most:
        lines = wrap(" ".join([*general, *_named(faces)]), width, height)
        lines = lines if len(lines) <= most + _LONGER else shortened(lines, most, width, height)
    return lines


def _named(faces: Sequence[_Cautioned]) -> list[str]:
    """What single faces caution of, each kind once with its faces: ``Ground: Street, Garden.``"""
    kinds: dict[str, list[str]] = {}
    every = set.intersection(*(set(texts) for _, texts in faces))
    for face, texts in faces:
        for text in texts:
            names = kinds.setdefault(text.partition(":")[0].rstrip(), [])
            if text not in every and face not in names:
                names.append(face)
    told = [
        gettext("{caution}: {faces}.", caution=kind, faces=", ".join(names))
        for kind, names in kinds.items()
        if names
    ]
    return [*told, gettext("See the sheet of each face.")] if told else []


def _cautions(faces: Sequence[_Cautioned]) -> tuple[list[str], list[str]]:
    """Cautions of single faces, each said once and with the faces that it holds for; and those for all."""
    told: dict[str, list[str]] = {}
    for face, texts in faces:
        for text in texts:
            told.setdefault(text, []).append(face)
    every = len(faces)
    own = [
        gettext("{faces}: {words}", faces=", ".join(names), words=text)
        for text, names in told.items()
        if len(names) < every
    ]
    shared = [text for text, names in told.items() if len(names) == every]
    return own, [*shared, *(gettext(words) for words in GENERAL)]
