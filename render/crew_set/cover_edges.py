"""The edges of a whole job that are not met, for its cover."""

from __future__ import annotations

from dataclasses import dataclass

from evencourse.layout.language.speech import closed, gettext, ngettext
from evencourse.layout.model.course_plan import Plan
from evencourse.render.drawing.font_files import Weight
from evencourse.render.drawing.fonts import wrap
from evencourse.render.drawing.pens import NOTE, SLIVER, Pen
from evencourse.render.words.instructions import Instructions


@dataclass(frozen=True)
class Lettered:
    """One line of lettering in a column."""

    text: str
    pen: Pen = NOTE
    weight: Weight = "regular"


def edges_heading() -> str:
    """The heading over them."""
    return gettext("Edges not met, worst first")


def edges_given(plan: Plan, words: Instructions, width: float, height: float, most: int) -> list[Lettered]:
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
        alike.setdefault((one.fate, one.sliver), []).append((f"{closed(name)} {one.subject}", one.count))
    for (fate, sliver), each in alike.items():
        subjects = ", ".join(subject for subject, _ in each)
        told = gettext("{edges}: {fate}", edges=subjects, fate=fate)
        said.append((told, SLIVER if sliver else NOTE, sum(count for _, count in each)))
    if len(said) == bool(built):
        said.append((gettext("Every edge that counts is flush."), NOTE, 0))
    lines: list[Lettered] = []
    for index, (text, pen, _) in enumerate(said):
        wrapped = wrap(text, width, height)
        last = index == len(said) - 1
        if 1 + len(lines) + len(wrapped) > most - (not last):
            left = sum(count for *_, count in said[index:])
            more = ngettext(
                "and {count} more edge: see the faces", "and {count} more edges: see the faces", left
            )
            lines.append(Lettered(more))
            break
        lines += [Lettered(line, pen) for line in wrapped]
    return lines
