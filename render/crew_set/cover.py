"""The cover, the job in one look: starter and datum, the faces in small, edges not met, cautions."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from evencourse.layout.language.speech import Language, beside, gettext, ngettext, pgettext, speaking, spoken
from evencourse.layout.model.course_plan import Plan
from evencourse.render.border.stamp import NO_STAMP, Stamp
from evencourse.render.border.title_block import HEIGHT, Titled, title_block
from evencourse.render.crew_set.cover_grid import Grid, picture_grid
from evencourse.render.crew_set.cover_key import cover_key
from evencourse.render.crew_set.cover_starters import shortened, starters
from evencourse.render.drawing.drawing import Line, Mark, Sheet, Text, Weight
from evencourse.render.drawing.fonts import LEADING_RATIO, ascent, wrap
from evencourse.render.drawing.numbering import Draft
from evencourse.render.drawing.papers import paper
from evencourse.render.drawing.pens import NOTE, SECOND, SLIVER, STARTER, TEXT, TITLE_THIN, Pen
from evencourse.render.drawing.pens import TITLE as RULE
from evencourse.render.drawing.placement import ELLIPSIS, Box, fitted
from evencourse.render.drawing.text_lines import both
from evencourse.render.words.caution_words import cautions_together
from evencourse.render.words.instructions import Instructions
from evencourse.render.words.result import Result
from evencourse.render.words.safety import GENERAL

#: Heights of lettering on letter and A4 [mm]; larger sheets have larger lettering, by the same series.
_SMALL, _LABEL, _NAME = 2.5, 3.5, 7.0
_STEPS = ((320.0, 1.0), (620.0, 2**0.5), (float("inf"), 2.0))
#: Air between parts, and between columns [mm].
_AIR, _GUTTER = 3.0, 8.0
#: Most of the height that starters may take, less where no room is left for the faces; and that notes may.
_STARTERS, _NOTES = (0.36, 0.2), 0.34
#: Lines that cautions may take more, where they are whole then.
_LONGER = 3
#: What stands in the second language, too: the first of these that has room. Cautions that stand apart are
#: lower: under both columns, over the whole width.
_SECOND = (("key", "edges", "cautions"), ("key", "edges", "apart"), ("key", "apart"), ("apart",))
#: What the pictures of the faces keep of their scale where the second language stands beside the first.
_KEPT = 0.7
#: How far a j reaches before its start, for capitals of height 1.
_INSET = 0.1


@dataclass(frozen=True)
class Contents:
    """What the set holds.

    Attributes:
        chapters: how each and its ``{sheets}`` are told, in English, number of its first and its last sheet.
        faces: number of the first sheet of every face; 0 for one that has none.
        material: what is hung, a line a cladding.
    """

    chapters: tuple[tuple[str, int, int], ...]
    faces: tuple[int, ...]
    material: tuple[str, ...]


#: A face and what it cautions of.
_Cautioned = tuple[str, Sequence[str]]


@dataclass(frozen=True)
class _Line:
    """One line of lettering in a column."""

    text: str
    pen: Pen = NOTE
    weight: Weight = "regular"


def cover(result: Result, contents: Contents, paper_name: str, stamp: Stamp = NO_STAMP) -> Draft:
    """The cover of a set.

    Args:
        result: the finished result of a job.
        contents: what follows it.
        paper_name: a paper of ``evencourse.render.drawing.papers``.
        stamp: which issue the sheets belong to.
    """
    return partial(_sheet, result, contents, paper_name, stamp)


def _sheet(
    result: Result, contents: Contents, paper_name: str, stamp: Stamp, number: int, count: int
) -> Sheet:
    plan = result.plan
    sheet = paper(paper_name)
    frame = Box(*sheet.frame)
    title = pgettext("the first sheet of a set", "Cover")
    k = next(step for width, step in _STEPS if frame.width < width)
    marks: list[Mark] = [title_block(plan, Titled(title, (number, count)), stamp, sheet)]
    head, top = _head(plan, frame, k)
    told: list[Mark] = []
    for most in _STARTERS:
        lower, y = starters(plan, Box(frame.left, top - most * frame.height, frame.right, top), k)
        if told and any(
            isinstance(mark, Text) and mark.pen is STARTER and ELLIPSIS in mark.text for mark in lower
        ):
            break  # what is snapped is never cut
        told, room = lower, Box(frame.left, frame.bottom + HEIGHT, frame.right, y)
        grid, words = _under(result, contents, room, k, ())
        if not grid.tight:
            break
    for second in _SECOND if beside(spoken) is not None else ():
        smaller, more = _under(result, contents, room, k, second)
        shown, kept = ([view.scale for view in one.views] for one in (grid, smaller))
        if len(kept) == len(shown) and kept[:1] >= [_KEPT * scale for scale in shown[:1]]:
            grid, words = smaller, more
            break
    return Sheet(title, sheet.size, grid.views, (*grid.marks, *marks, *head, *told, *words))


def _under(
    result: Result, contents: Contents, room: Box, k: float, second: Collection[str]
) -> tuple[Grid, Sequence[Mark]]:
    """The faces in small and the words round them, some of them in the second language too."""
    foot, low = _foot(result, contents, room, k, second)
    key, y = cover_key(result.plan, replace(room, bottom=low, top=room.top - _AIR), "key" in second)
    grid = picture_grid(result.plan, contents.faces, replace(room, bottom=low + _AIR, top=y), k)
    return grid, (*foot, *key)


def _head(plan: Plan, frame: Box, k: float) -> tuple[list[Mark], float]:
    """Whose job it is and what heights are measured from; and where that ends [mm]."""
    job = plan.job
    big, label = _NAME * k, _LABEL * k
    name = fitted(job.name or gettext("Siding layout"), frame.width, big, "bold")
    y = frame.top - big * (ascent(name) - 1)
    marks: list[Mark] = [Text(TEXT, (frame.left, y), name, big, vertical="cap", weight="bold")]
    y -= big + label * 0.9
    note = gettext("Heights from: {datum}", datum=job.datum_words)
    if job.author:
        note = f"{note}. {gettext('Measured by {name}', name=job.author)}"
    for line in shortened(wrap(note, frame.width, label), 2, frame.width, label):
        marks.append(Text(TEXT, (frame.left, y), line, label, vertical="cap"))
        y -= label * LEADING_RATIO
    y -= 0.2 * label
    marks.append(Line(RULE, (frame.left, y), (frame.right, y)))
    return marks, y


def _foot(
    result: Result, contents: Contents, room: Box, k: float, second: Collection[str]
) -> tuple[list[Mark], float]:
    """Material, edges not met, cautions and contents, over the strip; and where they begin [mm]."""
    plan, small = result.plan, _SMALL * k
    leading = small * LEADING_RATIO
    width = (room.width - _GUTTER) / 2 - _INSET * small
    most = max(4, int(_NOTES * room.height / leading))

    def edges() -> list[_Line]:
        return [_Line(_edges(), weight="bold"), *_given(plan, result.instructions, width, small, most)]

    def cautions(width: float = width) -> list[_Line]:
        lines = _cautioned(tuple(cautions_together(plan)), width, small, most)
        return [_Line(_warned(), weight="bold"), *map(_Line, lines)]

    left, right = edges(), cautions()
    left[0], right[0] = (
        replace(column[0], text=both(heading, width, small, "bold"))
        for column, heading in ((left, _edges), (right, _warned))
    )
    if "edges" in second:
        left += _second(beside(edges) or (), left[0].text)
    if "cautions" in second:
        right += _second(beside(cautions) or (), right[0].text)
    wide = room.width - _INSET * small
    apart = beside(lambda: cautions(wide)) if "apart" in second else None
    whole = [
        *_second(apart or (), right[0].text),
        *_crew_cautions(plan, wide, small, most, beside(spoken) if second else None),
        *(
            _Line(line)
            for text in (_sidings(contents), _chapters(contents))
            for line in shortened(wrap(text, wide, small), 2, wide, small)
            if text
        ),
    ]
    marks: list[Mark] = []
    y = room.bottom + 1.2 + (len(whole) - 1) * leading + small + 0.9
    low = y
    marks += _column(whole, room.left, low, small)
    marks.append(Line(TITLE_THIN, (room.left, y + 1.2), (room.right, y + 1.2)))
    top = y + 2.4 + (max(len(left), len(right)) - 1) * leading + small + 1.0
    marks += _column(left, room.left, top, small)
    marks += _column(right, room.right - width - _INSET * small, top, small)
    top += 1.6
    marks.append(Line(TITLE_THIN, (room.left, top), (room.right, top)))
    return marks, top


def _sidings(contents: Contents) -> str:
    return gettext("Siding: {sidings}", sidings="; ".join(contents.material)) if contents.material else ""


def _chapters(contents: Contents) -> str:
    words = []
    for told, first, last in contents.chapters:
        sheets = str(first) if first == last else gettext("{first} to {last}", first=first, last=last)
        words.append(gettext(told, sheets=sheets))
    return gettext("Sheets: {chapters}", chapters=", ".join(words)) if words else ""


def _column(lines: Sequence[_Line], left: float, top: float, height: float) -> Iterator[Mark]:
    for index, line in enumerate(lines):
        at = (left + _INSET * height, top - index * height * LEADING_RATIO)
        yield Text(line.pen, at, line.text, height, vertical="cap", weight=line.weight)


def _given(plan: Plan, words: Instructions, width: float, height: float, most: int) -> list[_Line]:
    """The edges of the whole job that are not met, worst first, and why."""
    faces = [(face.elevation.name, one) for face, one in zip(plan.elevations, words.faces, strict=True)]
    built = [name for name, one in faces if one.built]
    said: list[tuple[str, Pen, int]] = []
    if built:
        told = gettext(
            "As built, {faces}: planned from the courses installed; see their sheets", faces=", ".join(built)
        )
        said.append((told, NOTE, 0))
    said += [(limit, SLIVER, 0) for missed in words.missed.values() for limit in missed]
    found = [(name, not_met) for name, one in faces for not_met in one.not_met]
    found.sort(key=lambda item: item[1].rank)
    alike: dict[tuple[str, bool], list[tuple[str, int]]] = {}
    for name, one in found:
        alike.setdefault((one.fate, one.sliver), []).append((f"{name} {one.subject}", one.count))
    for (fate, sliver), each in alike.items():
        subjects = ", ".join(subject for subject, _ in each)
        told = gettext("{edges}: {fate}", edges=subjects, fate=fate)
        said.append((told, SLIVER if sliver else NOTE, sum(count for _, count in each)))
    if len(said) == bool(built):
        said.append((gettext("Every edge that counts is flush."), NOTE, 0))
    lines: list[_Line] = []
    for index, (text, pen, _) in enumerate(said):
        wrapped = wrap(text, width, height)
        last = index == len(said) - 1
        if 1 + len(lines) + len(wrapped) > most - (not last):
            left = sum(count for *_, count in said[index:])
            more = ngettext(
                "and {count} more edge: see the faces", "and {count} more edges: see the faces", left
            )
            lines.append(_Line(more))
            break
        lines += [_Line(line, pen) for line in wrapped]
    return lines


def _edges() -> str:
    return gettext("Edges not met, worst first")


def _warned() -> str:
    return gettext("Cautions")


def _second(lines: Sequence[_Line], heading: str) -> Iterator[_Line]:
    """Lines in the second language, their heading first where that of the first does not say it too."""
    for index, line in enumerate(lines):
        if index or not heading.endswith(f" / {line.text}"):
            yield _Line(line.text, SECOND if line.pen is NOTE else line.pen)


def _crew_cautions(
    plan: Plan, width: float, height: float, most: int, second: Language | None
) -> Iterator[_Line]:
    """Cautions in the crew's languages, those that the set is not in: neither first nor second."""
    for code in plan.job.crew_languages:
        if code not in (spoken().code, second.code if second is not None else ""):
            with speaking(code):
                lines = _cautioned(tuple(cautions_together(plan)), width, height, most)
                heading = _warned()
            yield _Line(heading, weight="bold")
            yield from map(_Line, lines)


def _cautioned(faces: Sequence[_Cautioned], width: float, height: float, most: int) -> list[str]:
    """Cautions in lines, the faces' own ones first; too many are named alone, for the faces' sheets."""
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
