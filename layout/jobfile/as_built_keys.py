"""The job file's ``[as_built]`` table: butt lines on the wall, and openings found elsewhere."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches
from itertools import pairwise
from typing import Any

from evencourse.layout.courses.carrying_on import as_found
from evencourse.layout.courses.course_sets import ZoneGroup, groups
from evencourse.layout.courses.starter_line import starter_range
from evencourse.layout.jobfile.cladding_tables import LEAST_EXPOSURE
from evencourse.layout.jobfile.geometry_checks import STARTER_REACH, wall_faults
from evencourse.layout.jobfile.job_values import describe
from evencourse.layout.jobfile.outline_keys import read_opening
from evencourse.layout.jobfile.table_reader import Path, Reader
from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse, FoundOpening
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Elevation, Job, Opening
from evencourse.layout.wall.sides import highest, lowest

#: What may be measured again.
MEASURED = ("left", "right", "sill", "width", "height")


def read_built(reader: Reader, top: Mapping[str, Any], job: Job) -> AsBuilt:
    """What hangs and what was found elsewhere, every fault in it reported to the reader.

    Args:
        reader: gathers the faults.
        top: the file's top tables.
        job: the job as measured at first; faces with faults of their own are not in it.
    """
    if "as_built" not in top:
        return AsBuilt()
    path: Path = ("as_built",)
    found = reader.table(top["as_built"], "as_built", path)
    openings = _openings(reader, found.get("opening", []), (*path, "opening"), job)
    courses = _courses(reader, found.get("course", []), (*path, "course"), job)
    return AsBuilt(courses, openings)


def _courses(reader: Reader, raw: object, path: Path, job: Job) -> tuple[BuiltCourse, ...]:
    gathered = groups(job)
    lines: dict[tuple[str, str, int], tuple[Path, BuiltCourse]] = {}
    for index, item in enumerate(reader.tables(raw, path)):
        here = (*path, index)
        values = reader.table(item, "built course", here)
        number = values.get("course")
        if number is not None and number < 1:
            wanted = gettext("the number of a course, from 1 up")
            reader.fault((*here, "course"), describe(item["course"]), wanted)
            number = None
        places = _places(reader, values, here, job, gathered) if isinstance(item, dict) else []
        if number is None or not {"left", "right"} <= set(values):
            continue
        for face, name in places:
            key = (face.name, name, int(number))
            line = BuiltCourse(*key, values["left"], values["right"])
            if key in lines:
                again = gettext(
                    'a second line for course {course} of "{face}"', course=key[2], face=face.name
                )
                reader.fault(here, again, gettext("one line for each course of a face"))
            elif _on_wall(reader, here, line, face):
                lines[key] = (here, line)
    for name, group in gathered.items():
        for face_name in dict.fromkeys(member[0].name for member in group.members):
            mine = [lines[key] for key in sorted(lines) if key[:2] == (face_name, name)]
            for side in ("left", "right"):
                _exposures(reader, job, group, [(where, line, side) for where, line in mine])
        if not reader.faults:
            _rising(reader, [lines[key] for key in sorted(lines, key=lambda key: key[2]) if key[1] == name])
    return tuple(line for _, line in lines.values())


def _places(
    reader: Reader, values: Mapping[str, Any], path: Path, job: Job, gathered: Mapping[str, ZoneGroup]
) -> list[tuple[Elevation, str]]:
    """The faces and course sets that a line was measured on."""
    name = values.get("courses")
    if "face" not in values:
        if name is None:
            if not {"face", "courses"} & reader.faulty(path):
                reader.lack((*path, "face"), gettext("the face it was measured on, or courses"))
            return []
        if name not in gathered:
            reader.fault((*path, "courses"), describe(name), _one_of(name, tuple(gathered)))
            return []
        faces = {member[0].name: member[0] for member in gathered[name].members}
        return [(face, name) for face in faces.values()]
    face = _face(reader, values["face"], (*path, "face"), job)
    if face is None:
        return []
    known = tuple(one for one, group in gathered.items() if any(face is each[0] for each in group.members))
    lowest_set = next(
        (
            one
            for one in known
            if any(face is each[0] and each[1] is face.zones[0] for each in gathered[one].members)
        ),
        known[0],
    )
    if name is not None and name not in known:
        reader.fault((*path, "courses"), describe(name), _one_of(name, known))
        return []
    return [(face, name or lowest_set)]


def _face(reader: Reader, name: str, path: Path, job: Job) -> Elevation | None:
    """A face by its name; None for one that has faults of its own, and for an unknown one."""
    for face in job.elevations:
        if face.name == name:
            return face
    raw = reader.root.get("elevation")
    names = tuple(
        one["name"].strip()
        for one in (raw if isinstance(raw, list) else ())
        if isinstance(one, dict) and isinstance(one.get("name"), str)
    )
    if name not in names:
        reader.fault(path, describe(name), _one_of(name, names))
    return None


def _one_of(name: str, known: Sequence[str]) -> str:
    near = get_close_matches(name, known, 1, 0.4)
    return describe(near[0]) if near else gettext("one of {names}", names=", ".join(map(describe, known)))


def _on_wall(reader: Reader, path: Path, line: BuiltCourse, face: Elevation) -> bool:
    inch = 1.0 if reader.units == "in" else 25.4
    low, high = lowest(face) - STARTER_REACH * inch, highest(face)
    good = True
    for side, height in (("left", line.left), ("right", line.right)):
        if not low <= height < high:
            wanted = gettext(
                'a height on "{face}", from {low} to {high}',
                face=face.name,
                low=reader.show(low),
                high=reader.show(high),
            )
            reader.fault((*path, side), reader.show(height), wanted)
            good = False
    return good


def _exposures(
    reader: Reader, job: Job, group: ZoneGroup, lines: Sequence[tuple[Path, BuiltCourse, str]]
) -> None:
    """Lines of one end of a face that no courses can have been hung on.

    Laps that crept are none of these: ``evencourse.layout.courses.crept`` tells them.
    """
    cladding = job.claddings.get(group.zone.cladding)
    if cladding is None or not lines:
        return

    def height(line: BuiltCourse, side: str) -> float:
        return line.left if side == "left" else line.right

    fits = _locked if cladding.fixed else _lapped
    faces = [member[0] for member in group.members]
    allowed = starter_range(job, cladding, faces, group.bottom, group.zone.starter)
    path, first, side = lines[0]
    if first.course > 1:
        span = (height(first, side) - allowed.high, height(first, side) - allowed.low)
        below = gettext("the starter line, or course 1 as installed")
        fits(reader, job, cladding, (*path, side), span, first.course - 1, below)
    for (_, lower, _), (path, upper, side) in pairwise(lines):
        apart = height(upper, side) - height(lower, side)
        courses, below = upper.course - lower.course, gettext("course {course}", course=lower.course)
        fits(reader, job, cladding, (*path, side), (apart, apart), courses, below)


def _lapped(
    reader: Reader,
    job: Job,
    cladding: Cladding,
    path: Path,
    span: tuple[float, float],
    courses: int,
    below: str,
) -> None:
    """Whether boards or shingles can have been hung so: each above the one below, and reaching it."""
    show = reader.show
    if span[1] <= 0:
        where = (
            gettext("level with {line}", line=below)
            if span[1] == 0
            else gettext("{height} below {line}", height=show(-span[1]), line=below)
        )
        reader.fault(path, where, gettext("a height above {line}", line=below))
    elif cladding.width and span[0] > cladding.width * courses:
        wanted = gettext(
            "no more than {width}, its whole width, a course above {line}",
            width=show(cladding.width),
            line=below,
        )
        reader.fault(path, _in(reader, courses, span[0]), wanted)
    elif span[1] < LEAST_EXPOSURE * job.inch * courses:
        least = show(LEAST_EXPOSURE * job.inch)
        wanted = gettext("more than {exposure} a course above {line}", exposure=least, line=below)
        reader.fault(path, _in(reader, courses, span[1]), wanted)


def _locked(
    reader: Reader,
    job: Job,
    cladding: Cladding,
    path: Path,
    span: tuple[float, float],
    courses: int,
    below: str,
) -> None:
    """Whether so many panels can take up a height between the least and the greatest of a span.

    Panels give in their locks by no more than the tolerance a course.
    """
    show, whole = reader.show, cladding.exposure * courses
    slack = job.limits.tolerance * courses
    if span[1] >= whole - slack and span[0] <= whole + slack:
        return
    nearest = span[1] if span[1] < whole - slack else span[0]
    wanted = ngettext(
        "{count} course of {exposure} above {line}: {height}",
        "{count} courses of {exposure} above {line}: {height}",
        courses,
        exposure=show(cladding.exposure),
        line=below,
        height=show(whole),
    )
    reader.fault(path, _in(reader, courses, nearest), wanted)


def _in(reader: Reader, courses: int, height: float) -> str:
    whole, each = reader.show(height), reader.show(height / courses)
    if courses == 1:
        return gettext("1 course in {height}", height=whole)
    return gettext("{count} courses in {height}, {each} each", count=courses, height=whole, each=each)


def _rising(reader: Reader, lines: Sequence[tuple[Path, BuiltCourse]]) -> None:
    """Lines of a course set, over all its faces, that do not rise with their numbers."""
    ends: dict[int, list[float]] = {}
    where: dict[int, Path] = {}
    for path, line in lines:
        ends.setdefault(line.course, []).extend((line.left, line.right))
        where.setdefault(line.course, path)
    levels = {course: (min(found) + max(found)) / 2 for course, found in sorted(ends.items())}
    for below, above in pairwise(levels):
        if levels[above] <= levels[below]:
            found = gettext(
                "course {course} at {height}, halfway between its corners",
                course=above,
                height=reader.show(levels[above]),
            )
            wanted = gettext(
                "a height above course {course}, which is installed at {height}",
                course=below,
                height=reader.show(levels[below]),
            )
            reader.fault(where[above], found, wanted)


def _openings(reader: Reader, raw: object, path: Path, job: Job) -> tuple[FoundOpening, ...]:
    found: dict[tuple[str, str], tuple[Path, FoundOpening]] = {}
    for index, item in enumerate(reader.tables(raw, path)):
        here = (*path, index)
        values = reader.table(item, "found opening", here)
        face = _face(reader, values["face"], (*here, "face"), job) if "face" in values else None
        if face is None or "mark" not in values:
            continue
        first = next((hole for hole in face.openings if hole.mark == values["mark"]), None)
        if first is None:
            _unknown_mark(reader, values["mark"], (*here, "mark"), face)
            continue
        if not any(key in values for key in MEASURED):
            if not reader.faulty(here) & set(MEASURED):
                wanted = gettext("any of {keys}", keys=", ".join(MEASURED))
                reader.lack(here, wanted, gettext("nothing measured again"))
            continue
        key = (face.name, first.mark)
        if key in found:
            again = gettext('a second "{mark}" of "{face}"', mark=first.mark, face=face.name)
            reader.fault((*here, "mark"), again, gettext("one for each opening"))
            continue
        opening = read_opening(reader, _measured_again(first, values), here, face.outline, first.trim)
        if opening is not None:
            found[key] = (here, FoundOpening(face.name, opening))
    openings = tuple(one for _, one in found.values())
    if openings:
        _walls(reader, job, openings, {key: where for key, (where, _) in found.items()})
    return openings


def _unknown_mark(reader: Reader, mark: str, path: Path, face: Elevation) -> None:
    raw = next(
        (one for one in reader.root["elevation"] if isinstance(one, dict) and one.get("name") == face.name),
        {},
    )
    holes = raw.get("opening")
    if any(
        isinstance(one, dict) and one.get("mark") == mark
        for one in (holes if isinstance(holes, list) else ())
    ):
        return  # it has a fault of its own
    marks = tuple(hole.mark for hole in face.openings)
    none = gettext('an opening of "{face}": it has none', face=face.name)
    reader.fault(path, describe(mark), _one_of(mark, marks) if marks else none)


def _measured_again(first: Opening, values: Mapping[str, Any]) -> dict[str, Any]:
    """The values of an opening as its table would have them now."""
    now: dict[str, Any] = {
        "mark": first.mark,
        "kind": first.kind,
        "shape": first.shape,
        "width": first.width,
        "head_edge": first.head_edge,
        "sill_edge": first.sill_edge,
    }
    if first.shape == "arch":
        now["rise"] = first.rise
    if not first.on_base:
        now["sill"] = first.bottom
    elif "sill" in values:
        now["sill_edge"] = "want"
    follows = first.shape == "round" or (first.shape == "half-round" and first.height == first.width / 2)
    if not follows:
        now["height"] = first.height
    elif first.shape == "round" and "height" in values and "width" not in values:
        now["width"] = values["height"]
    if "right" not in values:
        now["left"] = first.left
    return now | {key: values[key] for key in MEASURED if key in values}


def _walls(
    reader: Reader, job: Job, openings: Sequence[FoundOpening], where: Mapping[tuple[str, str], Path]
) -> None:
    """Openings that were found off their wall, or over one another."""
    found = as_found(replace(job, as_built=AsBuilt((), tuple(openings))))
    for face in found.elevations:
        mine = {mark: path for (name, mark), path in where.items() if name == face.name}
        if not mine:
            continue
        things: list[tuple[Path, Opening]] = []
        for hole in face.openings:
            if hole.mark not in mine:
                things.append((("opening", hole.mark), hole))
        for item in face.fixtures:
            box = Opening(item.mark, "other", "rectangle", item.left, item.bottom, item.width, item.height)
            things.append((("fixture", item.mark), box))
        things += [(mine[hole.mark], hole) for hole in face.openings if hole.mark in mine]
        told = Reader(reader.root, reader.units)
        wall_faults(told, face.outline, things, ())
        for path, said, wanted in told.faults:
            if path in mine.values():  # the others were told as they were measured at first
                reader.fault(path, said, wanted)
