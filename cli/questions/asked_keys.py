"""Questions that are keys of the job file: asked, noted, and looked at with what was answered before."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial

from evencourse.cli.questions.interview import NOTHING, YES, AskedQuestion, Interview, yes_or_no
from evencourse.layout.jobfile.job_draft import JobDraft, Value, draft_faults, key_words, read_answer
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Units
from evencourse.layout.trade.plausible import doubt

#: Height from which another one is counted, and what it is.
Over = tuple[str, str]


class AskedKeys:
    """What scripts of questions share: a draft, and whom they ask.

    Attributes:
        draft: the answers so far.
    """

    _ask: Interview

    def __init__(self) -> None:
        self.draft = JobDraft()

    @property
    def _units(self) -> Units:
        return self.draft.units

    def _key(
        self,
        table: str,
        name: str,
        text: str,
        default: str | None = None,
        help: str = "",
        free: bool = False,
        over: Over | None = None,
        doubted: Callable[[str], str] | None = None,
    ) -> str:
        """Ask for one key of the job file.

        ``over`` is the height from which it is counted, and its words; ``doubted`` is what else speaks
        against an answer, "" for nothing.
        """
        read = partial(read_answer, table, name, units=self._units)
        height, place = over or (None, "")
        usual = partial(doubt, table, name, units=self._units, over=height, place=place)

        def odd(answer: str) -> str:
            return usual(answer) or (doubted(answer) if doubted else "")

        more = help or key_words(table, name)
        return self._ask.ask(AskedQuestion(text, read, default, more, free, None if free else odd))

    def _put(
        self,
        values: dict[str, Value],
        table: str,
        name: str,
        text: str,
        default: str | None = None,
        help: str = "",
        free: bool = False,
        usual: str | None = None,
    ) -> str:
        """Ask for one key and note it, unless it is nothing or the usual value."""
        value = self._key(table, name, text, default, help, free)
        if value and value != usual:
            values[name] = value
        return value

    def _yes(self, text: str, default: str, help: str) -> bool:
        return self._ask.ask(AskedQuestion(text, yes_or_no, gettext(default), help)) == YES

    def _own(
        self,
        table: str,
        name: str,
        text: str,
        beside: Sequence[Mapping[str, Value]],
        default: str = NOTHING,
        more: str = "",
    ) -> str:
        """Ask for a mark or a name; one that stands there already is told at once."""

        def read(answer: str) -> str:
            given = read_answer(table, name, answer, self._units)
            if any(thing[name] == given for thing in beside):
                wanted = gettext("a mark of its own") if name == "mark" else gettext("a name of its own")
                raise JobError([Fault(name, gettext('a second "{name}"', name=given), wanted)])
            return given

        usual = gettext("a letter or a number of its own on this face: sheets and lists call it so")
        return self._ask.ask(AskedQuestion(text, read, default, more or usual, free=True))

    def _faults(self) -> tuple[Fault, ...]:
        """What cannot be in what is known so far."""
        return draft_faults(self.draft)

    def _check(self, start: int) -> None:
        """Look at what belongs together; what cannot be is told, and asked again from a place on."""
        if self._ask.place < self._ask.answered:
            return  # looked at when it was answered
        faults = self._faults()
        for fault in faults:
            self._ask.say(str(replace(fault, line=None)))
        if faults:
            self._ask.say(gettext("Once more. Enter takes what was said before:"))
            self._ask.redo(start)
