"""The fields of a job file as forms: which there are, what stands in them, what they are called."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from evencourse.cli.jobs.job_edits import Path, at
from evencourse.cli.views.field_words import choice_words, field_label, label_of
from evencourse.cli.views.wall_corners import corner_fields, point_labels
from evencourse.layout.jobfile.keys import TABLES, Key
from evencourse.layout.language.speech import gettext
from evencourse.layout.trade.rules import rules

#: How a field is typed in: on the tape's keypad, as text, by a choice of few, by a switch, by a picture.
Make = Literal["length", "text", "choice", "profile"]

#: Fields that are always shown, in the order of the walk; the others stand under "More".
FIRST = {
    "elevation": ("name", "width", "base", "eave", "gable", "outline", "grade", "left", "right"),
    "opening": ("mark", "kind", "left", "right", "sill", "width", "height", "head_edge", "sill_edge"),
    "fixture": ("mark", "left", "bottom", "width", "height", "block"),
    "roof": ("mark", "kind", "line", "depth"),
    "zone": ("cladding", "top", "trim"),
    "job": ("name", "units", "datum", "author"),
    "cladding": ("profile",),
    "trim": ("head", "sill", "side"),
}
_MEASURES = ("length", "amount", "size", "heights", "range", "ground", "pitch", "line", "points")
_ENDS = ("left", "right")


@dataclass(frozen=True)
class Field:
    """One field.

    Attributes:
        path: where its value stands in the job file.
        label: what it is called.
        doc: what it means, in English.
        make: how it is typed in.
        value: what stands there, as text; empty when nothing does.
        words: what can be chosen.
        usual: what holds when it is left out.
        side: ``left`` or ``right`` of a height that may differ, ``low`` or ``high`` of a range, ``pair`` or
            ``step`` of a corner that the next one goes with; "" elsewhere.
        kind: of the value, as in ``evencourse.layout.jobfile.keys``.
    """

    path: Path
    label: str
    doc: str
    make: Make
    value: str = ""
    words: tuple[str, ...] = ()
    usual: str = ""
    side: str = ""
    kind: str = ""


@dataclass(frozen=True)
class Form:
    """The fields of one table.

    Attributes:
        path: of the table.
        title: what it is called.
        first: fields that are always shown.
        more: the others.
        removable: it can be taken away.
        acts: what else can be done, and the change that does it.
    """

    path: Path
    title: str
    first: tuple[Field, ...]
    more: tuple[Field, ...]
    removable: bool = False
    acts: tuple[tuple[str, Mapping[str, Any]], ...] = ()


def job_forms(tables: Mapping[str, Any]) -> list[Form]:
    """What holds for the whole job: names, siding, trim, limits."""
    forms = [_form(tables, ("job",), "job", gettext("The job"))]
    if isinstance(at(tables, ("claddings",)), dict):
        forms += [
            _form(tables, ("claddings", name), "cladding", gettext("Siding {name}", name=name))
            for name in tables["claddings"]
        ]
    else:
        forms.append(_form(tables, ("cladding",), "cladding", gettext("Siding")))
    for name, title in (
        ("trim", gettext("Trim")), ("limits", gettext("Limits")), ("framing", gettext("Framing")),
        ("seams", gettext("Seams")), ("order", gettext("Order")),
    ):  # fmt: skip
        forms.append(_form(tables, (name,), name, title))
    return forms


def face_form(tables: Mapping[str, Any], face: int) -> Form:
    """The fields of a face itself."""
    path = ("elevation", face)
    form = _form(tables, path, "elevation", gettext("The wall"))
    steps = [field for field in form.first if field.side == "step"]
    acts = [(gettext("Add a step in the base"), {"kind": "step", "path": path})]
    acts += [
        (gettext("Take away step {number}", number=number), {"kind": "no step", "path": field.path[:-1]})
        for number, field in enumerate(steps, 1)
    ]
    return replace(form, acts=tuple(acts))


def part_forms(tables: Mapping[str, Any], face: int, kind: str) -> list[Form]:
    """The fields of every opening, fixture, roof or zone of a face."""
    listed = at(tables, ("elevation", face, kind))
    forms = []
    for number, item in enumerate(listed if isinstance(listed, list) else ()):
        called = item.get("mark", item.get("cladding", "")) if isinstance(item, dict) else ""
        title = gettext("{kind} {name}", kind=_kind(item, kind), name=called).strip()
        forms.append(_form(tables, ("elevation", face, kind, number), kind, title, True))
    return forms


def _kind(item: object, kind: str) -> str:
    usual = {"opening": "window", "roof": "roof"}.get(kind)
    word = str(item.get("kind", usual)) if isinstance(item, dict) and usual else ""
    said = choice_words(word) if word else label_of("", kind)
    return said[:1].upper() + said[1:]


def _form(tables: Mapping[str, Any], path: Path, table: str, title: str, removable: bool = False) -> Form:
    first = FIRST.get(table, ())
    fields: dict[bool, list[Field]] = {True: [], False: []}
    for key in sorted(
        TABLES[table], key=lambda key: first.index(key.name) if key.name in first else len(first)
    ):
        fields[key.name in first] += _fields(tables, path, table, key)
    return Form(path, title, tuple(fields[True]), tuple(fields[False]), removable)


def _fields(tables: Mapping[str, Any], path: Path, table: str, key: Key) -> Iterator[Field]:
    here = (*path, key.name)
    value = at(tables, here)
    outlined = table == "elevation" and at(tables, (*path, "outline")) is not None
    if key.kind in ("tables", "prices", "lengths", "names", "file"):
        return
    if outlined and key.name in ("width", "base", "eave", "gable"):
        return
    if key.kind == "table":
        if key.items in ("gable", "opening trim"):
            for inner in TABLES[key.items]:
                yield from _fields(tables, here, key.items, inner)
        return
    label = field_label(table, key.name)
    if key.kind == "points":
        for one in corner_fields(value, "mm" if at(tables, ("job", "units")) == "mm" else "in"):
            side = "step" if one.step else "pair" if one.pair else ""
            text = _text(at(tables, (*here, one.corner, one.axis)))
            yield Field((*here, one.corner, one.axis), one.label, key.doc, "length", text, side=side)
    elif key.kind == "line" or (key.kind == "ground" and _is_points(value)):
        yield from _points(here, label, key, value)
    elif key.kind in ("heights", "ground"):
        pair = value if isinstance(value, list) and len(value) == 2 else [value, None]
        for side, one in zip(_ENDS, pair, strict=True):
            name = (
                gettext("{figure}, left corner", figure=label)
                if side == "left"
                else gettext("right, where it differs")
            )
            yield Field(here, name, key.doc, "length", _text(one), side=side, kind=key.kind)
    elif key.kind == "range":
        pair = value if isinstance(value, list) and len(value) == 2 else [None, None]
        for side, one in zip(("low", "high"), pair, strict=True):
            name = (
                gettext("{figure}, lowest", figure=label)
                if side == "low"
                else gettext("{figure}, highest", figure=label)
            )
            yield Field(here, name, key.doc, "length", _text(one), side=side, kind=key.kind)
    elif key.name == "profile":
        yield Field(here, label, key.doc, "profile", _text(value))
    elif key.kind in ("word", "flag"):
        words = key.words or ("true", "false")
        yield Field(here, label, key.doc, "choice", _text(value), words, str(key.default or "").lower())
    elif key.kind in _MEASURES:
        yield Field(here, label, key.doc, "length", _text(value), usual=_usual(tables, key), kind=key.kind)
    else:
        yield Field(here, label, key.doc, "text", _text(value), usual=_usual(tables, key), kind=key.kind)


def _points(here: Path, label: str, key: Key, value: object) -> Iterator[Field]:
    points = value if isinstance(value, list) else []
    names = [f"{label} {number + 1}" for number in range(len(points))]
    if key.kind == "line" and len(points) == 2:
        names = [gettext("Left end"), gettext("Right end")]
    if key.name == "on_plan":
        names = [gettext("{point} on the plan", point=name) for name in names]
    for number, point in enumerate(points):
        ways = point_labels(names[number])
        if key.name == "on_plan":
            ways = f"{names[number]}, x", f"{names[number]}, y"
        for axis, way in enumerate(ways):
            one = point[axis] if isinstance(point, list) and len(point) == 2 else None
            yield Field((*here, number, axis), way, key.doc, "length", _text(one))


def _is_points(value: object) -> bool:
    return isinstance(value, list) and any(isinstance(one, list) for one in value)


def _usual(tables: Mapping[str, Any], key: Key) -> str:
    """What holds when a field is left empty."""
    if not key.rule:
        return (
            ""
            if key.default in (None, "")
            else f"{key.default:g}"
            if _number(key.default)
            else str(key.default)
        )
    group, _, name = key.rule.partition(".")
    value = float(getattr(rules(), group)[name])
    return f"{value * 25.4:.4g}" if at(tables, ("job", "units")) == "mm" else f"{value:g}"


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _text(value: object) -> str:
    if value is None or isinstance(value, list | dict):
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def next_mark(tables: Mapping[str, Any], taken: Sequence[str] = ()) -> str:
    """A mark that no opening of the job has: the next letter after those in use."""
    used = {
        str(item.get("mark"))
        for face in tables.get("elevation", ())
        if isinstance(face, dict)
        for item in face.get("opening", ())
        if isinstance(item, dict)
    } | set(taken)
    for round_ in range(1, 1000):
        for letter in "ABCDEFGHJKLMNPQRSTUVWXYZ":
            mark = letter if round_ == 1 else f"{letter}{round_}"
            if mark not in used:
                return mark
    return "X"
