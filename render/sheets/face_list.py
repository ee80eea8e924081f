"""Rows of a face's list of pieces, set for narrow columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from itertools import accumulate, pairwise, zip_longest

from evencourse.layout.language.speech import beside, gettext, pgettext
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.drawing.drawing import Line, Mark, Text, Weight
from evencourse.render.drawing.fonts import ASCENT_RATIO, ascent, descent, text_width, wrap
from evencourse.render.drawing.pens import NOTE, ROW_RULE, SECOND, TEXT, TITLE_THIN, Pen
from evencourse.render.drawing.placement import fitted
from evencourse.render.drawing.text_lines import clear_leading
from evencourse.render.sheets.flow import ColumnItem
from evencourse.render.words.piece_list import FaceList, ListRow

#: Lettering, the name of a face over its rows, and what a row takes [mm].
SMALL, NAME, PITCH = 2.5, 3.5, 3.7
#: From a row's top to its baseline; from line to line in a row [mm].
_DROP, _LEADING = 3.05, 3.5
#: The same of the heads, whose rule lies under letters that reach below the line.
_HEAD_DROP = 2.8
#: From line to line of how a list is read, for lettering of height 1: as close as its rows.
READING = 1.5
#: Between columns of a row, and from one block of rows to the next [mm].
_GAP, GUTTER = 1.6, 4.5
#: Most of a row for a cut, and for sentences alone: the eye has to follow it [mm].
_FOLLOWED, _SENTENCES = 28.0, 60.0
#: A cut stands in its row where this is enough; else under it, from here [mm].
_INDENT = 5.0


@dataclass(frozen=True)
class _Widths:
    """Of the columns [mm]; 0 for one that has nothing in it."""

    mark: float
    source: float
    length: float
    cut: float
    save: float

    @property
    def length_end(self) -> float:
        """Where a length ends in its row."""
        return self.mark + _GAP + (self.source + _GAP if self.source else 0.0) + self.length

    @property
    def cut_start(self) -> float:
        """Where a cut begins."""
        return self.length_end + _GAP

    @property
    def least(self) -> float:
        """What a row takes, its cut under it."""
        return self.cut_start + self.save if self.save else self.length_end

    @property
    def most(self) -> float:
        """What rows take at most: what is saved stands no farther from the length than can be followed."""
        cut = min(self.cut, _FOLLOWED) + _GAP if self.cut else 0.0
        return max(self.least + cut, _SENTENCES)


_Words = tuple[str, str, str, str]
#: Lines of them.
_Heads = tuple[_Words, ...]


def _heads() -> _Heads:
    """What stands over the columns behind the mark, in each language that is spoken."""
    first, second = _words_over(), beside(_words_over)
    return (first,) if second is None else (first, second)


def _words_over() -> _Words:
    return (
        pgettext("over what a piece is cut from", "From"),
        pgettext("over lengths of pieces", "Length"),
        pgettext("over what is cut on a piece", "Cut"),
        pgettext("over the cutoff to keep", "Save"),
    )


@lru_cache(64)  # asked for again for every number of columns
def _widths(letters: str, rows: tuple[ListRow, ...], heads: _Heads) -> _Widths:
    """What its columns take."""

    def widest(over: Iterable[str], texts: Iterator[str], weight: Weight = "regular") -> float:
        found = [text for text in texts if text]
        wide = max((text_width(text, SMALL, weight) for text in found), default=0.0)
        return max(*(text_width(head, SMALL) for head in over), wide) if found else 0.0

    source, length, cut, save = zip(*heads, strict=True)

    return _Widths(
        widest([f"{letters}-"], (row.mark for row in rows), "bold"),
        widest(source, (row.source for row in rows)),
        widest(length, (row.length for row in rows), "bold"),
        widest(cut, (row.cut for row in rows)),
        widest(save, (row.save for row in rows)),
    )


def span_words(items: Iterable[ColumnItem]) -> str:
    """From which piece to which rows of a list are: ``1.1 to 11.2``; empty for sentences alone."""
    marks = [item.span[1:] for item in items if item.span is not None and item.span[1]]
    if not marks:
        return ""
    first, last = marks[0][0], marks[-1][1]
    return first if first == last else gettext("{first} to {last}", first=first, last=last)


def longest_span(rows: Sequence[ListRow]) -> str:
    """As much as :func:`span_words` may say of some of these rows."""
    longest = max((mark for row in rows for mark in (row.first, row.last)), key=len, default="")
    return gettext("{first} to {last}", first=longest, last=longest)


def list_items(
    given: FaceList, rows: Sequence[ListRow], width: float, where: str = ""
) -> list[ColumnItem] | None:
    """Rows of a list for blocks of a width, an item a row; None where they are too narrow for it.

    Args:
        given: the list that they are of.
        rows: some of its rows.
        width: of a block [mm]; a list that needs less of it takes less.
        where: the name of the face stands over the first of them, with this under it; over the column that
            they go on in on another sheet it stands again. Empty for rows on the sheet of their face.
    """
    heads = _heads()
    widths = _widths(given.letters, tuple(rows), heads)
    if widths.least > width + ROUNDING:
        return None
    width = min(width, widths.most)
    tall = PITCH + (len(heads) - 1) * _between(heads)
    head = ColumnItem(tall, partial(_head, given.letters, heads, widths, width))
    reopened: tuple[ColumnItem, ...] = ()
    found: list[ColumnItem] = []
    if where:
        beside = text_width(given.face, NAME, "bold") + 2 * _GAP + text_width(where, SMALL) <= width
        lines = tuple(wrap(where, width, SMALL)) if not beside else ()
        under = _under_name(given.face, lines) + (len(lines) - 1) * _clear(lines) if lines else 0.0
        tall = NAME + 2.6 + under
        found.append(ColumnItem(tall, partial(_name, given.face, where, lines, width), heading=True))
        if widths.mark:  # else these are sentences alone
            found.append(ColumnItem(head.height, head.draw, heading=True))
        reopened = (sentence(gettext("{heading}, continued", heading=given.face), width, "bold"),)
    for index, (row, after) in enumerate(zip_longest(rows, rows[1:])):
        item = _item(row, widths, width)
        over = sentence(_continued(row.under), width) if row.under else None
        if over is not None and not index:  # what it is under stands in another part
            item, over = _stacked(over, item), None
        again = (*([head] if widths.mark else []), *([over] if over is not None else []))
        span = (given.face, row.first, row.last)
        heading = row.over or (row.kept and after is not None and after.under == row.under)
        found.append(replace(item, heading=heading, again=again, reopened=reopened, span=span))
    return found


def _continued(courses: str) -> str:
    """The sentence over rows of several courses once more, its colon at the end."""
    return gettext("{courses}, continued:", courses=courses.rstrip(": \u00a0\u202f"))


def _item(row: ListRow, widths: _Widths, width: float) -> ColumnItem:
    if row.words:
        return sentence(row.words, width, second=row.second)
    save = text_width(row.save, SMALL) + _GAP if row.save else 0.0
    beside = text_width(row.cut, SMALL) <= width - widths.cut_start - save + ROUNDING
    lines = wrap(row.cut, width - _INDENT, SMALL) if row.cut and not beside else []
    second = wrap(row.second, width - _INDENT, SMALL) if row.second else []
    tails = max(0.0, SMALL * descent(row.cut) - (PITCH - _DROP)) if row.cut and not lines else 0.0
    tall = PITCH + tails + (len(lines) + len(second)) * _clear([row.source, *lines, *second])
    return ColumnItem(tall, partial(_row, row, tuple(lines), tuple(second), widths, width, tall))


def sentence(words: str, width: float, weight: Weight = "regular", second: str = "") -> ColumnItem:
    """A sentence over the width of a block, the same in the second language under it."""
    lines = tuple((line, NOTE) for line in wrap(words, width, SMALL, weight))
    lines += tuple((line, SECOND) for line in wrap(second, width, SMALL, weight) if line)
    tall = PITCH + _lower(lines[0][0]) + _down([line for line, _ in lines])[-1]
    return ColumnItem(tall, partial(_words, lines, width, weight, tall))


def _stacked(upper: ColumnItem, lower: ColumnItem) -> ColumnItem:
    """Two items as one."""

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield from upper.draw(left, top)
        yield from lower.draw(left, top - upper.height)

    return ColumnItem(upper.height + lower.height, draw)


def _name(
    words: str, where: str, lines: Sequence[str], width: float, left: float, top: float
) -> Iterator[Mark]:
    """The name of a face, and in small which sheet shows it: at the end of its line or under it."""
    y = top - NAME - 1.8
    if where and not lines:
        yield Text(NOTE, (left + width, y), where, SMALL, "end")
    yield Text(TEXT, (left, y), fitted(words, width, NAME, "bold"), NAME, weight="bold")
    for index, line in enumerate(lines):
        y -= _clear(lines) if index else _under_name(words, lines)
        yield Text(NOTE, (left, y), line, SMALL)


def _under_name(words: str, lines: Sequence[str]) -> float:
    """From the baseline of a name to that of the lines under it [mm]."""
    above = ascent(lines[0])
    return max(_LEADING, SMALL * above + NAME * descent(words)) if above > ASCENT_RATIO else _LEADING


def _head(
    letters: str, heads: _Heads, widths: _Widths, width: float, left: float, top: float
) -> Iterator[Mark]:
    y = top - _HEAD_DROP
    yield Text(TEXT, (left, y), f"{letters}-", SMALL)
    taken = max(text_width(save, SMALL) for *_, save in heads) + _GAP if widths.save else 0.0
    for pen, (source, length, cut, save) in zip((TEXT, SECOND), heads, strict=False):
        if widths.source:
            yield Text(pen, (left + widths.mark + _GAP, y), source, SMALL)
        yield Text(pen, (left + widths.length_end, y), length, SMALL, "end")
        if widths.save:
            yield Text(pen, (left + width, y), save, SMALL, "end")
        if widths.cut and widths.cut_start + text_width(cut, SMALL) + taken <= width:
            yield Text(pen, (left + widths.cut_start, y), cut, SMALL)
        y -= _between(heads)
    rule = top - PITCH - (len(heads) - 1) * _between(heads)
    yield Line(TITLE_THIN, (left, rule), (left + width, rule))


def _between(heads: _Heads) -> float:
    """From one line of heads to the next [mm]."""
    return _clear(["".join(words) for words in heads])


def _words(
    lines: Sequence[tuple[str, Pen]], width: float, weight: Weight, tall: float, left: float, top: float
) -> Iterator[Mark]:
    first = top - _DROP - _lower(lines[0][0])
    for (line, pen), down in zip(lines, _down([line for line, _ in lines]), strict=True):
        yield Text(pen, (left, first - down), line, SMALL, weight=weight)
    yield Line(ROW_RULE, (left, top - tall), (left + width, top - tall))


def _row(
    row: ListRow,
    lines: Sequence[str],
    second: Sequence[str],
    widths: _Widths,
    width: float,
    tall: float,
    left: float,
    top: float,
) -> Iterator[Mark]:
    """A piece, its cut in the row or in lines under it, then the same in the second language."""
    y = top - _DROP
    yield Text(TEXT, (left, y), row.mark, SMALL, weight="bold")
    if row.source:
        yield Text(TEXT, (left + widths.mark + _GAP, y), row.source, SMALL)
    yield Text(TEXT, (left + widths.length_end, y), row.length, SMALL, "end", weight="bold")
    if row.save:
        yield Text(TEXT, (left + width, y), row.save, SMALL, "end")
    if row.cut and not lines:
        yield Text(TEXT, (left + widths.cut_start, y), row.cut, SMALL)
    pens = [TEXT] * len(lines) + [SECOND] * len(second)
    for line, pen in zip((*lines, *second), pens, strict=True):
        y -= _clear([row.source, *lines, *second])
        yield Text(pen, (left + _INDENT, y), line, SMALL)
    yield Line(ROW_RULE, (left, top - tall), (left + width, top - tall))


def _lower(line: str) -> float:
    """How much lower a sentence begins whose accents would reach what stands over it [mm]."""
    return SMALL * max(0.0, ascent(line) - ASCENT_RATIO)


def _down(lines: Sequence[str]) -> list[float]:
    """How far each line of a sentence lies below the first, only those lower whose own accents rise [mm]."""
    more = accumulate((_clear(pair) - _clear(()) for pair in pairwise(lines)), initial=0.0)
    return [index * _clear(()) + rise for index, rise in enumerate(more)]


def _clear(lines: Sequence[str]) -> float:
    """From line to line, wherever accents rise in one of them [mm]."""
    return SMALL * clear_leading(lines, _LEADING / SMALL)


def words_height(lines: Sequence[str]) -> float:
    """What lines of a list's reading take, with the air round them [mm]."""
    return len(lines) * SMALL * clear_leading(lines, READING) + 1.2
