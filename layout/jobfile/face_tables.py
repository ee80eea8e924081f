"""The faces of a job file: each with its outline, zones, openings and fixtures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from itertools import pairwise
from typing import Any

from evencourse.layout.jobfile.geometry_checks import outline_faults, roof_faults, wall_faults, zone_faults
from evencourse.layout.jobfile.job_values import describe, either, seen
from evencourse.layout.jobfile.outline_keys import read_gable, read_opening, shorthand
from evencourse.layout.jobfile.table_reader import Path, Reader
from evencourse.layout.language.speech import gettext, ngettext
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Elevation, Fixture, Opening, Point, Trim, Zone
from evencourse.layout.model.roof import Roof
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.trade.plausible import most_usual

#: Greatest weight of a face that is believed: a bound on sums, no trade rule.
HEAVIEST = 1000


def read_faces(
    reader: Reader, top: Mapping[str, Any], claddings: Mapping[str, Cladding], trim: Trim
) -> tuple[Elevation, ...]:
    """Every face whose outline can be made out, in the order of the file.

    Args:
        reader: gathers the faults.
        top: the file's top tables.
        claddings: the job's, by name.
        trim: the job's.
    """
    faces: list[Elevation] = []
    known: set[str] = set()
    for index, raw in enumerate(reader.tables(top.get("elevation", []), ("elevation",))):
        path: Path = ("elevation", index)
        found = reader.table(raw, "elevation", path)
        if not isinstance(raw, dict):
            continue
        name = found.get("name", gettext("face {number}", number=index + 1))
        if seen(name) in known:
            again = gettext('a second face "{face}"', face=name)
            reader.fault((*path, "name"), again, gettext("a name of its own"))
        known.add(seen(name))
        face = _elevation(reader, found, name, path, claddings, trim)
        if face is not None:
            faces.append(face)
    if top.get("elevation") == []:
        reader.fault(("elevation",), gettext("no face"), gettext("[[elevation]], one for each face"))
    return tuple(faces)


def trim_of(found: Mapping[str, float], usual: Trim) -> Trim:
    """Trim from the values of its table; what is left out is the usual one's."""
    return Trim(found.get("head", usual.head), found.get("sill", usual.sill), found.get("side", usual.side))


def _elevation(
    reader: Reader,
    found: Mapping[str, Any],
    name: str,
    path: Path,
    claddings: Mapping[str, Cladding],
    trim: Trim,
) -> Elevation | None:
    outline: tuple[Point, ...] | None
    if "outline" in found or "outline" in reader.faulty(path):
        both = [key for key in ("width", "base", "eave", "gable") if key in found]
        if both:
            beside = gettext("an outline beside {keys}", keys=", ".join(both))
            reader.fault((*path, "outline"), beside, gettext("one of the two"))
        corners = found.get("outline")
        outline = None if corners is None else outline_faults(reader, corners, (*path, "outline"))
        if "gable" in found:
            read_gable(reader, found["gable"], (*path, "gable"))
    else:
        corners = shorthand(reader, found, path)
        outline = None if corners is None else outline_faults(reader, corners, path)
    zones = _zones(reader, found, path, claddings)
    openings = _openings(reader, found, path, outline, trim)
    fixtures = _fixtures(reader, found, path)
    roofs = _roofs(reader, found, path)
    weight = found["weight"]
    if weight > HEAVIEST:
        reader.fault(
            (*path, "weight"), f"{weight:g}", gettext("a weight up to {heaviest}", heaviest=HEAVIEST)
        )
    if "outline" not in found and (
        _minus_missing(reader, found, path, openings) or _feet_missing(reader, found, path, openings)
    ):
        return None
    zone_faults(reader, outline, zones)
    wall_faults(reader, outline, openings, fixtures)
    roof_faults(reader, outline, roofs, openings, fixtures)
    if outline is None:
        return None
    return Elevation(
        name=name,
        outline=outline,
        left=found["left"],
        right=found["right"],
        grade=ground(reader, found.get("grade"), path, outline),
        turn=found.get("turn"),
        weight=weight,
        courses=found["courses"],
        entrance=found.get("entrance"),
        openings=tuple(opening for _, opening in openings),
        fixtures=tuple(fixture for _, fixture in fixtures),
        zones=tuple(zone for _, zone in zones),
        roofs=tuple(roof for _, roof in roofs),
        on_plan=_on_plan(reader, found.get("on_plan"), (*path, "on_plan")),
    )


def _on_plan(reader: Reader, points: list[Point] | None, path: Path) -> tuple[Point, Point] | None:
    """Where a face's ends stand on the plan of a building model; None without them, and after a fault."""
    if points is None:
        return None
    if len(points) != 2 or points[0] == points[1]:
        found = ngettext("{count} points", "{count} points", len(points))
        reader.fault(path, found, gettext("two that differ: its left and its right end"))
        return None
    return points[0], points[1]


def ground(
    reader: Reader, raw: tuple[float, float] | list[Point] | None, path: Path, outline: Sequence[Point]
) -> tuple[Point, ...] | None:
    """The ground in points from left to right; None without one, and after a fault.

    Args:
        reader: gathers the faults.
        raw: heights at the left and the right corner, or points.
        path: of the face.
        outline: the wall's.
    """
    if raw is None:
        return None
    if isinstance(raw, tuple):
        across = [x for x, _ in outline]
        return ((min(across), raw[0]), (max(across), raw[1]))
    return tuple(raw) if _rightward(reader, raw, (*path, "grade"), steps=True) else None


def _rightward(reader: Reader, points: Sequence[Point], path: Path, *, steps: bool = False) -> bool:
    """Whether points run from left to right; told when not. A line with steps may go straight up or down."""
    for index, ((here, _), (after, _)) in enumerate(pairwise(points)):
        far = steps and (points[index - 1][0] < here if index else after < points[-1][0])
        if after < here or (after == here and not far):
            found = gettext("x at {x} after {before}", x=reader.show(after), before=reader.show(here))
            reader.fault((*path, index + 1), found, gettext("points from left to right"))
            return False
    return True


def _minus_missing(
    reader: Reader, found: Mapping[str, Any], path: Path, openings: Sequence[tuple[Path, Opening]]
) -> bool:
    """Tell once of a base whose minus was left out, which every opening would else be blamed for.

    So it looks when the wall begins above the datum, most openings with a height of their own begin below
    it, and all of them would lie over it with a minus.
    """
    low = min(found.get("base", (0.0, 0.0)))
    bottoms = [opening.bottom for _, opening in openings if not opening.on_base]
    below = sum(bottom < low for bottom in bottoms)
    if max(found.get("eave", (low, low))) < low:
        return True  # that is told: nothing lies inside such a wall
    if low <= 0 or 2 * below <= len(bottoms) or min(bottoms) < -low:
        return False
    found_ = ngettext(
        "{base}, above {below} of {count} openings",
        "{base}, above {below} of {count} openings",
        len(bottoms),
        base=reader.show(low),
        below=below,
    )
    wanted = gettext("{base}: what lies below the datum has a minus", base=f"-{reader.show(low)}")
    reader.fault((*path, "base"), found_, wanted)
    return True


def _feet_missing(
    reader: Reader, found: Mapping[str, Any], path: Path, openings: Sequence[tuple[Path, Opening]]
) -> bool:
    """Tell once of a wall whose feet (or meters) were taken for inches (or millimeters).

    So it looks when most openings reach past its width or its eave, and none would with the other unit.
    """
    metric = reader.units == "mm"
    times = 1000 if metric else 12
    told = False
    for key, reached in (
        ("width", [opening.left + opening.width for _, opening in openings]),
        ("eave", [opening.head for _, opening in openings]),
    ):
        length = found.get(key)
        length = max(length) if isinstance(length, tuple) else length
        past = sum(length is not None and reach > length + SAME for reach in reached)
        if length is None or ("gable" in found and key == "eave") or 2 * past <= len(reached):
            continue
        if max(reached) <= times * length <= most_usual("elevation", key, reader.units):
            short = reader.show(length)
            if len(reached) > 1:
                found_ = gettext(
                    "{length}, short of {past} of {count} openings",
                    length=short,
                    past=past,
                    count=len(reached),
                )
            else:
                found_ = gettext("{length}, short of its opening", length=short)
            right, meant = reader.show(times * length), f"{length:g}"
            if metric:
                wanted = gettext("{length}, if {meant} m were meant", length=right, meant=meant)
            else:
                wanted = gettext("{length}, if {meant} feet were meant", length=right, meant=meant)
            reader.fault((*path, key), found_, wanted)
            told = True
    return told


def _zones(
    reader: Reader, found: Mapping[str, Any], path: Path, claddings: Mapping[str, Cladding]
) -> list[tuple[Path, Zone]]:
    first = next(iter(claddings), "main")

    def known(name: str, where: Path) -> str:
        if name in claddings or not claddings:
            return name
        near = get_close_matches(name, claddings, 1, 0.4)
        reader.fault(where, describe(name), either(describe(one) for one in near or claddings))
        return first

    if "zone" not in found:
        name = found.get("cladding")
        told = {"cladding", "zone"} & reader.faulty(path) or "cladding" in reader.root
        if name is None and len(claddings) > 1 and not told:
            wanted = gettext("{claddings}, or zones", claddings=either(map(describe, claddings)))
            reader.lack((*path, "cladding"), wanted)
        return [((*path, "zone"), Zone(first if name is None else known(name, (*path, "cladding"))))]
    if "cladding" in found:
        reader.fault((*path, "cladding"), gettext("a cladding beside zones"), gettext("one of the two"))
    zones = []
    for index, raw in enumerate(reader.tables(found["zone"], (*path, "zone"))):
        here = (*path, "zone", index)
        zone = reader.table(raw, "zone", here)
        name = known(zone["cladding"], (*here, "cladding")) if "cladding" in zone else first
        zones.append(
            (here, Zone(name, zone.get("top"), zone["trim"], zone.get("starter"), zone.get("courses")))
        )
    return zones or [((*path, "zone"), Zone(first))]


def _openings(
    reader: Reader, found: Mapping[str, Any], path: Path, outline: tuple[Point, ...] | None, trim: Trim
) -> list[tuple[Path, Opening]]:
    openings: list[tuple[Path, Opening]] = []
    marks: set[str] = set()
    for index, raw in enumerate(reader.tables(found.get("opening", []), (*path, "opening"))):
        here = (*path, "opening", index)
        values = reader.table(raw, "opening", here)
        if not isinstance(raw, dict):
            continue
        own = trim
        if "trim" in values:
            own = trim_of(reader.table(values["trim"], "opening trim", (*here, "trim")), trim)
        opening = read_opening(reader, values, here, outline, own)
        if opening is not None:
            openings.append((here, opening))
        _mark(reader, values, here, marks)
    return openings


def _fixtures(reader: Reader, found: Mapping[str, Any], path: Path) -> list[tuple[Path, Fixture]]:
    fixtures: list[tuple[Path, Fixture]] = []
    marks: set[str] = set()
    for index, raw in enumerate(reader.tables(found.get("fixture", []), (*path, "fixture"))):
        here = (*path, "fixture", index)
        values = reader.table(raw, "fixture", here)
        _mark(reader, values, here, marks)
        if {"left", "bottom", "width", "height"} <= set(values):
            fixtures.append((here, Fixture(**{"mark": str(index + 1)} | values)))
    return fixtures


def _roofs(reader: Reader, found: Mapping[str, Any], path: Path) -> list[tuple[Path, Roof]]:
    roofs: list[tuple[Path, Roof]] = []
    marks: set[str] = set()
    for index, raw in enumerate(reader.tables(found.get("roof", []), (*path, "roof"))):
        here = (*path, "roof", index)
        values = reader.table(raw, "roof", here)
        _mark(reader, values, here, marks)
        if {"line", "depth"} <= set(values) and _rightward(reader, values["line"], (*here, "line")):
            mark = values.get("mark", str(index + 1))
            roofs.append((here, Roof(mark, values["kind"], tuple(values["line"]), values["depth"])))
    return roofs


def _mark(reader: Reader, values: Mapping[str, Any], path: Path, marks: set[str]) -> None:
    mark = values.get("mark")
    if mark is None:
        return
    if seen(mark) in marks:
        again = gettext('a second "{mark}"', mark=mark)
        reader.fault((*path, "mark"), again, gettext("a mark of its own on this face"))
    marks.add(seen(mark))
