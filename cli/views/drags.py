"""What a drag on the drawing writes into the job file: figures as the tape reads them."""

from __future__ import annotations

from typing import Any

from evencourse.cli.jobs.job_edits import Edit, EditError, Path, at
from evencourse.cli.views.wall_corners import corner_edits
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import LengthError
from evencourse.layout.model.job import Units
from evencourse.layout.model.lengths import parse_length, round_length, show_length

#: A drag keeps to these marks of the tape, as far as the job's are no coarser [in, mm].
MARKS: dict[Units, float] = {"in": 0.25, "mm": 5.0}


def drag_edits(
    tables: dict[str, Any], kind: str, path: Path, side: str, to: tuple[float, float]
) -> list[Edit]:
    """The edits that put what was dragged where it was let go.

    Args:
        tables: the job file's.
        kind: ``opening`` (its lower left corner), ``size`` (its upper right one), ``level`` (an end of a
            base, an eave or the ground), ``corner`` (of an outline).
        path: of what is dragged.
        side: ``left`` or ``right``, for a level; for a corner which others go with it, as ``1,-1``.
        to: x on the wall and height [job units].

    Raises:
        EditError: there is no such thing.
    """
    units: Units = "mm" if at(tables, ("job", "units")) == "mm" else "in"
    mark = MARKS[units]
    x, y = (round_length(one, mark) for one in to)

    def shown(length: float) -> str:
        return show_length(length, units, mark)

    def read(place: Path) -> float | None:
        try:
            return parse_length(at(tables, place), units)
        except LengthError:
            return None

    if kind == "opening":
        edits = [Edit("set", (*path, "left"), shown(x))]
        if at(tables, (*path, "right")) is not None and at(tables, (*path, "left")) is None:
            wide, whole = read((*path, "width")), read((*path[:2], "width"))
            if wide is None or whole is None:
                raise EditError(gettext("type the figure: it is measured from the right corner"))
            edits = [Edit("set", (*path, "right"), shown(round_length(whole - to[0] - wide, mark)))]
        if at(tables, (*path, "sill")) is not None:
            edits.append(Edit("set", (*path, "sill"), shown(y)))
        return edits
    if kind == "size":
        low = read((*path, "sill"))
        edits = []
        if (start := read((*path, "left"))) is not None and x - start > 0:
            edits.append(Edit("set", (*path, "width"), shown(x - start)))
        if low is not None and y - low > 0 and at(tables, (*path, "height")) is not None:
            edits.append(Edit("set", (*path, "height"), shown(y - low)))
        return edits
    if kind == "level" and side in ("left", "right"):
        return [ends_edit(tables, path, side, shown(y), alone=True)]
    if kind == "corner":
        return _corner(tables, path, side, (shown(x), shown(y)))
    raise EditError("nothing that can be dragged")


def _corner(tables: dict[str, Any], path: Path, side: str, to: tuple[str, str]) -> list[Edit]:
    """A corner of an outline, and those beside it that keep its edges plumb and level."""
    with_it = [int(on) for on in side.split(",") if on in ("-1", "0", "1")]
    edits = [
        edit
        for axis, on in enumerate(with_it[:2])
        for edit in corner_edits(tables, (*path, axis), to[axis], on)
        if edit.path[:-1] != path
    ]
    return [Edit("set", path, list(to)), *edits]


def ends_edit(tables: dict[str, Any], path: Path, side: str, text: str | None, alone: bool = False) -> Edit:
    """One end of a height that may differ from left to right: one value as long as both are alike.

    Args:
        tables: the job file's.
        path: of the height.
        side: ``left`` or ``right``.
        text: as the tape reads; None takes it away.
        alone: the other end stays where it is; else both ends move as long as they are alike and the left one
            is written.
    """
    before = at(tables, path)
    pair = list(before) if isinstance(before, list) and len(before) == 2 else [before, before]
    if before is None or (side == "left" and not isinstance(before, list) and not alone):
        return Edit("set", path, text)
    pair[0 if side == "left" else 1] = text
    if text is None:
        kept = pair[1] if side == "left" else pair[0]
        return Edit("set", path, kept)
    return Edit("set", path, pair[0] if pair[0] == pair[1] else pair)
