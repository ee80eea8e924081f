"""Every word that an output shows of a job, in any language: ``python -m tests.lettering [SAMPLE…]``.

Run so, it words the samples in a language that nobody speaks, whose words are longer and accented, and lists
what did not go through the catalogues: neither data nor pseudo.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from gettext import NullTranslations
from itertools import chain
from typing import Any, get_args

from evencourse.cli.reports import take_off_report
from evencourse.cli.reports.cuts_report import cuts_lines
from evencourse.cli.reports.plan_report import plan_lines
from evencourse.cli.reports.table import Screen
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.jobfile.keys import IMPORTANCE, KINDS, SHAPES
from evencourse.layout.language.speech import Language, Voice, speaking
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.missed_limit import EdgeKind
from evencourse.layout.pieces.face_letters import letters_of
from evencourse.render.crew_set.sheet_set import drawn_sheets, sheet_set
from evencourse.render.drawing.drawing import Block, Dimension, Mark, Sheet, Text
from evencourse.render.page.html_words import html_words
from evencourse.render.page.page_data import page_data
from evencourse.render.templates.measuring_form import form_sheets
from evencourse.render.templates.story_pole import pole_sheets
from evencourse.render.words.result import Result, result
from tests.samples import SAMPLES, sample

_ACCENTED = str.maketrans("aeiouyAEIOUYcn", "áéíóúýÁÉÍÓÚÝçñ")
_LITERAL = re.compile(r"(\{[^}]*\})")
_VOWELS = re.compile(r"[áéíóúý]")
#: A word of at least two letters; units, marks of pieces and figures are none.
_WORD = re.compile(r"[^\W\d_]{2,}")
_UNITS = {"mm", "ft", "sq", "in", "cm"}
#: What the page's scripts know things by and never show, and the digests that tell its jobs apart.
_KEYS = {*KINDS, *SHAPES, *IMPORTANCE, *get_args(EdgeKind)}
_DIGEST = re.compile("[0-9a-f]{20}")


class Pseudo(NullTranslations):
    """A catalogue that has every sentence: letters accented, words longer by 40 %, values as they are."""

    def gettext(self, message: str) -> str:
        """The sentence as nobody says it."""
        return "".join(
            part if part.startswith("{") else _VOWELS.sub(lambda one: 2 * one[0], part.translate(_ACCENTED))
            for part in _LITERAL.split(message)
        )

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """The sentence of a number."""
        return self.gettext(msgid1 if n == 1 else msgid2)

    def pgettext(self, context: str, message: str) -> str:
        """The sentence of a context."""
        return self.gettext(message)


PSEUDO = Voice(Language("en-XA", "Pseudo", ".", "en-XA"), Pseudo())


def sheet_words(sheets: Iterable[Sheet]) -> Iterator[str]:
    """Every lettering of sheets, dimensions and attributes too, with titles and chapters."""
    for sheet in sheets:
        yield from (sheet.title, sheet.chapter)
        for view in sheet.views:
            yield view.drawing.name
            yield from _mark_words(view.drawing.marks)
        yield from _mark_words(sheet.marks)


def _mark_words(marks: Iterable[Mark]) -> Iterator[str]:
    for mark in marks:
        if isinstance(mark, Text | Dimension):
            yield mark.text
        elif isinstance(mark, Block):
            # The kind of a window or a door is not lettered: it is for scripts, as its tag is.
            yield from (value for tag, value in mark.attributes if tag != "KIND")
            yield from _mark_words(mark.items)


def _leaves(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        yield from chain.from_iterable(map(_leaves, value.values()))
    elif isinstance(value, list | tuple):
        yield from chain.from_iterable(map(_leaves, value))


def _drawn(found: Result, paper: str) -> Iterator[Sheet]:
    drawn = drawn_sheets(found, paper)
    yield from chain(drawn.details, *drawn.faces)


def _all_poles(found: Result, paper: str) -> Iterator[Sheet]:
    for name in (paper, "roll"):
        yield from chain.from_iterable(pole_sheets(found, name, None, None))


def outputs(found: Result, paper: str) -> Mapping[str, Callable[[], Iterable[str]]]:
    """By output, what gives its words."""
    wide = Screen()
    return {
        "sheets": lambda: sheet_words(sheet_set(found, paper, all_edges=True, templates=True).sheets),
        "draw": lambda: sheet_words(_drawn(found, paper)),
        "pole": lambda: sheet_words(_all_poles(found, paper)),
        "form": lambda: sheet_words(form_sheets(found.job.units, paper)),
        "page": lambda: chain(_leaves(json.loads(json.dumps(page_data(found)))), html_words().values()),
        "plan": lambda: plan_lines(found, wide),
        "cuts": lambda: chain(cuts_lines(found, wide), cuts_lines(found, wide, saw=True)),
        "takeoff": lambda: chain(
            *(lines(found, wide) for lines in (take_off_report.takeoff_lines, take_off_report.order_lines,
                                               take_off_report.order_notes))
        ),
    }  # fmt: skip


def data_words(plan: Plan) -> set[str]:
    """Words that the job file holds, which no language changes."""
    job = plan.job
    names = [*plan.course_sets, job.name, job.author, job.datum, *job.claddings]
    for face in job.elevations:
        names += [face.name, *(one.mark for one in face.openings), *(one.mark for one in face.roofs)]
    names += letters_of(job.elevations)
    return {word for name in names for word in _WORD.findall(str(name))}


def unspoken(words: Iterable[str], plan: Plan) -> Iterator[str]:
    """Those that hold a word in plain letters that is neither of the job, a unit, nor a key of the page."""
    own = data_words(plan) | _UNITS
    for text in dict.fromkeys(words):
        if text in _KEYS or _DIGEST.fullmatch(text):
            continue
        plain = [word for word in _WORD.findall(_LITERAL.sub("", text)) if word.isascii() and word not in own]
        if any(re.search("[aeiouy]", word.lower()) for word in plain):
            yield text


def main(names: list[str]) -> None:
    """List what is not spoken."""
    for path in [sample(name) for name in names] or SAMPLES:
        found = result(read_job(path))
        with speaking(PSEUDO):
            for name, words in outputs(found, "letter" if found.job.units == "in" else "a4").items():
                for text in unspoken(words(), found.plan):
                    print(f"{path.stem} {name}: {text}")


if __name__ == "__main__":
    main(sys.argv[1:])
