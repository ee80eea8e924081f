"""A job file in the making: answers as they were given, written out with a comment beside every key."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches

from evencourse.layout.jobfile.job_file import mark_fault, parse_job
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.jobfile.job_values import key as toml_key
from evencourse.layout.jobfile.job_values import text as toml_text
from evencourse.layout.jobfile.keys import CORNERS, KINDS, ROOFS, SHAPES, TABLES, Key
from evencourse.layout.jobfile.table_reader import Reader
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Units
from evencourse.layout.trade.profiles import profile_names
from evencourse.layout.trade.rules import rules

__all__ = [
    "CORNERS",
    "KINDS",
    "ROOFS",
    "SHAPES",
    "FaceDraft",
    "JobDraft",
    "Value",
    "check_end",
    "draft_faults",
    "draft_text",
    "key_words",
    "read_answer",
]

#: Column in which comments begin [characters].
COMMENTS = 34

#: Other words for a word of the job file.
MEANT = {"in": ("inches", "inch", "feet", "ft"), "mm": ("millimetres", "millimeters", "metric")}
_ON_CENTRE = re.compile(r" *(?:o\.? ?c\.?|on cent(?:er|re)s?)$", re.IGNORECASE)
_BARE = re.compile(r"-?\d+(?:\.\d+)?", re.ASCII)

Value = str | tuple["Value", ...]


@dataclass
class FaceDraft:
    """What is known of one face, each value as it was given.

    Attributes:
        values: by key of ``[[elevation]]``.
        gable: by key of its gable.
        openings: each by key of ``[[elevation.opening]]``.
        fixtures: each by key of ``[[elevation.fixture]]``.
        roofs: each by key of ``[[elevation.roof]]``.
        zones: each by key of ``[[elevation.zone]]``.
    """

    values: dict[str, Value] = field(default_factory=dict)
    gable: dict[str, Value] = field(default_factory=dict)
    openings: list[dict[str, Value]] = field(default_factory=list)
    fixtures: list[dict[str, Value]] = field(default_factory=list)
    roofs: list[dict[str, Value]] = field(default_factory=list)
    zones: list[dict[str, Value]] = field(default_factory=list)


@dataclass
class JobDraft:
    """What is known of a job, each value as it was given.

    Attributes:
        job: by key of ``[job]``.
        claddings: names of shipped profiles, in the order in which they were named.
        stock: their stock lengths, where they are not the usual ones, by profile.
        limits: by key of ``[limits]``.
        trim: by key of ``[trim]``.
        framing: by key of ``[framing]``.
        faces: in the order in which one walks round.
    """

    job: dict[str, Value] = field(default_factory=dict)
    claddings: list[str] = field(default_factory=list)
    stock: dict[str, str] = field(default_factory=dict)
    limits: dict[str, Value] = field(default_factory=dict)
    trim: dict[str, Value] = field(default_factory=dict)
    framing: dict[str, Value] = field(default_factory=dict)
    faces: list[FaceDraft] = field(default_factory=list)

    @property
    def units(self) -> Units:
        """Units of bare numbers."""
        return "mm" if self.job.get("units") == "mm" else "in"


def read_answer(table: str, name: str, answer: str, units: Units) -> str:
    """One answer, checked as the job file's reader would.

    Args:
        table: a table of the job file, ``"opening"``.
        name: one of its keys. For a word its beginning will do, when only one word begins so.
        answer: as given.
        units: units of bare numbers.

    Returns:
        The value to be written.

    Raises:
        JobError: it cannot be read; one fault that says what would have been understood.
    """
    key = _key(table, name)
    value = answer.strip()
    if key.words:
        alike = [word for word in key.words if word.startswith(value.casefold())] if value else []
        alike = (
            alike
            if len(alike) == 1
            else [word for word in key.words if value.casefold() in MEANT.get(word, ())]
        )
        value = alike[0] if len(alike) == 1 else value.casefold()
    elif key.kind not in ("text", "file"):
        value = _as_said(key, value, units)
    reader = Reader({}, units)
    if (table, name) == ("cladding", "profile") and value not in profile_names():
        raise JobError([profile_fault(value)])
    read = reader.table({name: _plain(key, value)}, table, ()).get(name)
    told = [(path, found, wanted) for path, found, wanted in reader.faults if path[:1] == (name,)]
    if told:
        raise JobError([Fault(name, found, wanted) for _, found, wanted in told])
    if (table, name) == ("job", "round") and isinstance(read, float):
        fault = mark_fault(read, value, units)
        if fault is not None:
            raise JobError([fault])
    return value


def _as_said(key: Key, value: str, units: Units) -> str:
    """A measure as crews say it, in the job file's own grammar: 19' 8'', 16 oc, 55 degrees as 55."""
    value = value.replace("''", '"')
    if key.name == "spacing":
        value = _ON_CENTRE.sub("", value)
    if key.kind == "temperature" and _BARE.fullmatch(value):
        return f"{value} {'F' if units == 'in' else 'C'}"
    return value


def profile_fault(value: str) -> Fault:
    """What is said to a profile that there is none of."""
    near = get_close_matches(value, profile_names(), 3, 0.4)
    return Fault("profile", f'"{value}"', either(near) if near else gettext("a profile of the list"))


def draft_faults(draft: JobDraft) -> tuple[Fault, ...]:
    """Every fault in what is known so far; none when it is a job."""
    try:
        parse_job(draft_text(draft))
    except JobError as error:
        return error.faults
    return ()


def draft_text(draft: JobDraft, head: tuple[str, ...] = ()) -> str:
    """The draft as a job file, a comment beside the first of each key.

    Args:
        draft: what is known; the rest is left out.
        head: lines of comment at the top.
    """
    return "\n".join(_Writer(draft).lines(head)) + "\n"


class _Writer:
    def __init__(self, draft: JobDraft) -> None:
        self.draft = draft
        self.said: set[tuple[str, str]] = set()

    def lines(self, head: tuple[str, ...]) -> Iterator[str]:
        draft = self.draft
        yield from (f"# {line}".rstrip() for line in head)
        if head:
            yield ""
        if draft.job:
            yield "[job]"
            yield from self.table("job", draft.job)
        for name in draft.claddings:
            yield ""
            yield "[cladding]" if len(draft.claddings) == 1 else f"[claddings.{toml_key(name)}]"
            stock = draft.stock.get(name)
            yield from self.table("cladding", {"profile": name} | ({"length": stock} if stock else {}))
        if draft.limits:
            yield from ("", "[limits]")
            yield from self.table("limits", draft.limits)
        if draft.job:
            yield from self.optional("limits", draft.limits)
        for table, values in (("trim", draft.trim), ("framing", draft.framing)):
            if values:
                yield from ("", f"[{table}]")
                yield from self.table(table, values)
        for face in draft.faces:
            yield ""
            yield from self.face(face)

    def table(self, table: str, values: Mapping[str, Value], indent: str = "") -> Iterator[str]:
        for name, value in values.items():
            yield self.beside(f"{indent}{name} = {_written(_key(table, name), value)}", table, name)

    def beside(self, line: str, table: str, name: str) -> str:
        """A line with what its key means, the first time."""
        if (table, name) in self.said:
            return line
        self.said.add((table, name))
        return f"{line.ljust(COMMENTS - 2)}  # {key_words(table, name)}"

    def optional(self, table: str, given: Mapping[str, Value]) -> Iterator[str]:
        """Keys of a table that hold their usual value, written as a comment to be taken up."""
        said = "# " + gettext("all optional: these values hold when left out")
        if given:
            yield said
        else:
            yield from ("", f"# [{table}]".ljust(COMMENTS) + said)
        factor = 1.0 if self.draft.units == "in" else 25.4
        for key in TABLES[table]:
            if key.rule and key.name not in given:
                group, _, name = key.rule.partition(".")
                value = float(getattr(rules(), group)[name]) * factor
                yield f"# {key.name} = {value:g}".ljust(COMMENTS) + f"# {gettext(key.doc)}"

    def face(self, face: FaceDraft) -> Iterator[str]:
        yield "[[elevation]]"
        shape = ("outline", "width", "base", "eave")
        first = {name: value for name, value in face.values.items() if name in ("name", *shape)}
        yield from self.table("elevation", first)
        if face.gable:
            parts = (f"{name} = {_written(_key('gable', name), value)}" for name, value in face.gable.items())
            yield self.beside(f"gable = {{ {', '.join(parts)} }}", "elevation", "gable")
        yield from self.table("elevation", {k: v for k, v in face.values.items() if k not in first})
        tables = (
            ("opening", face.openings),
            ("roof", face.roofs),
            ("fixture", face.fixtures),
            ("zone", face.zones),
        )
        for table, things in tables:
            for thing in things:
                yield ""
                yield f"  [[elevation.{table}]]"
                yield from self.table(table, thing, "  ")


def key_words(table: str, name: str) -> str:
    """What a key of the job file means, and its words where it has few."""
    key = _key(table, name)
    meaning = gettext(key.doc)
    if not key.words or len(key.words) > 5:
        return meaning
    return gettext("{meaning}: {words}", meaning=meaning, words=", ".join(key.words))


def _key(table: str, name: str) -> Key:
    return next(key for key in TABLES[table] if key.name == name)


def _plain(key: Key, value: str) -> str | bool | float | list[str]:
    """An answer as TOML would have it; a height stands for both ends of a range."""
    if key.kind == "flag":
        return {"true": True, "false": False}.get(value, value)
    if key.kind == "range":
        return [value, value]
    if key.kind == "number":
        try:
            return float(value)
        except ValueError:
            return value
    return value


def _written(key: Key, value: Value) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(_written(key, item) for item in value)}]"
    return value if key.kind in ("flag", "number") else toml_text(value)


def check_end(whole: str, place: str) -> None:
    """Refuse a job file to which a table of a face was added that does not fit there.

    Args:
        whole: the file.
        place: where a fault is said to be.

    Raises:
        JobError: its faces are one array in brackets.
    """
    try:
        tomllib.loads(whole)
    except tomllib.TOMLDecodeError as error:
        found = gettext("its faces are one array")
        wanted = gettext("faces in tables of their own, [[elevation]]")
        raise JobError([Fault(place, found, wanted)]) from error
