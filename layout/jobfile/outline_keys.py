"""Walls from the shorthand, and openings of every shape."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencourse.layout.jobfile.table_reader import Path, Reader
from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.job import Opening, Point, Trim
from evencourse.layout.model.tolerance import ROUNDING, SAME
from evencourse.layout.wall.sides import sides

#: How far from the even place a peak with a pitch may stand, as a share of the width: a tape's slip.
PEAK_OFF = 0.005
#: A gable is no higher than so many times its width: of 45 in 12.
_HIGHEST = 2.0
#: What stands for a size that is at fault, so that the rest of an opening is judged [job units].
_SOME = 0.0625
#: Kinds that stand on the wall's base when no sill is given, or one just there.
DOORS = ("door", "garage door")
#: What a wall without an outline must have, for the catalogues.
_SIZES = {
    "width": noop("the wall's width, or an outline"),
    "eave": noop("the wall's eave, or an outline"),
}


def shorthand(reader: Reader, found: Mapping[str, Any], path: Path) -> list[Point] | None:
    """Corners of a wall with a level or sloping base and eave, under a gable when there is one.

    Returns:
        Corners counter-clockwise; None after a fault. After one of its gable alone a wall as high as any
        gable makes it, so that what lies outside that is told, too.
    """
    gable_path = (*path, "gable")
    gable = read_gable(reader, found["gable"], gable_path) if "gable" in found else None
    missing = [key for key in _SIZES if key not in found]
    faulty = reader.faulty(path)
    for key in missing:
        if key not in faulty:
            reader.lack((*path, key), gettext(_SIZES[key]))
    if missing or "base" in faulty:
        return None
    width, base, eave = found["width"], found.get("base", (0.0, 0.0)), found["eave"]
    for low, high in zip(base, eave, strict=True):
        if high <= low:
            found_ = gettext(
                "an eave at {eave} over a base at {base}", eave=reader.show(high), base=reader.show(low)
            )
            reader.fault((*path, "eave"), found_, gettext("an eave above the base"))
            return None
    corners = [(0.0, base[0]), (width, base[1]), (width, eave[1])]
    if "gable" in found or "gable" in faulty:
        peak = None if gable is None else _peak(reader, gable, gable_path, width, eave)
        if peak is None:
            top = max(eave) + _HIGHEST * width
            return [*corners[:2], (width, top), (0.0, top)]
        corners.append(peak)
    return [*corners, (0.0, eave[0])]


def read_gable(reader: Reader, raw: object, path: Path) -> dict[str, float] | None:
    """Values of a gable: pitch or peak, and perhaps where it stands; None after a fault."""
    gable = reader.table(raw, "gable", path)
    if not isinstance(raw, dict):
        return None
    if ("pitch" in raw) == ("peak" in raw):
        if "pitch" in raw:
            reader.fault(path, gettext("both pitch and peak"), gettext("one of the two"))
        else:
            reader.lack(path, gettext("one of the two"), gettext("neither pitch nor peak"))
    return None if reader.faulty(path) & {"pitch", "peak", "at"} else gable


def _peak(
    reader: Reader, gable: Mapping[str, float], path: Path, width: float, eave: tuple[float, float]
) -> Point | None:
    """The gable's peak; where it stands is not given, both slopes have one pitch."""
    at = gable.get("at")
    if at is not None and not 0 < at < width:
        wanted = gettext("between 0 and {width}", width=reader.show(width))
        reader.fault((*path, "at"), reader.show(at), wanted)
        return None
    if ("pitch" in gable) == ("peak" in gable):
        return None
    if "pitch" in gable:
        slope = gable["pitch"] / 12
        even = (width * slope + eave[1] - eave[0]) / (2 * slope)
        if at is not None and abs(at - even) > PEAK_OFF * width:
            found = gettext("{x}, where only one slope can have that pitch", x=reader.show(at))
            wanted = gettext("{x}, or the peak's height instead of a pitch", x=reader.show(even))
            reader.fault((*path, "at"), found, wanted)
            return None
        at = even if at is None else at
        peak = eave[0] + even * slope
    else:
        peak = gable["peak"]
        rises = (peak - eave[0], peak - eave[1])
        at = width * (rises[0] / sum(rises)) if at is None and min(rises) > 0 else at or width / 2
    if not 0 < at < width or peak <= max(eave):
        found = gettext("a peak at {height}, {x} from the left", height=reader.show(peak), x=reader.show(at))
        wanted = gettext("a peak over the wall, above its eave at {height}", height=reader.show(max(eave)))
        reader.fault(path, found, wanted)
        return None
    return (at, peak)


def read_opening(
    reader: Reader, found: Mapping[str, Any], path: Path, outline: tuple[Point, ...] | None, trim: Trim
) -> Opening | None:
    """One opening from its values; None when too little of it could be read."""
    shape, kind = found["shape"], found["kind"]
    faulty = reader.faulty(path)
    width = found.get("width")
    left = _left(reader, found, path, outline, faulty)
    height = _height(reader, found, path, shape, faulty)
    rise = _rise(reader, found, path, shape, height, faulty)
    bottom, on_base = found.get("sill"), False
    if bottom is None and "sill" not in faulty:
        if "kind" in faulty:
            return None
        if kind not in DOORS:
            reader.lack((*path, "sill"), gettext("the height of its bottom"))
        elif outline is not None and left is not None and width is not None:
            bottom = base_under(outline, left, left + width)
    width, height = (
        _SOME if value is None and key in reader.faulty(path) else value
        for key, value in (("width", width), ("height", height))
    )
    if width is None or left is None or height is None or bottom is None or rise is None:
        return None
    if outline is not None and kind in DOORS:
        base = base_under(outline, left, left + width)
        on_base = abs(base - bottom) <= SAME
        bottom = base if on_base else bottom
    return Opening(
        mark=found.get("mark", ""),
        kind=kind,
        shape=shape,
        left=left,
        bottom=bottom,
        width=width,
        height=height,
        rise=rise,
        head_edge=found["head_edge"],
        sill_edge="ignore" if on_base else found["sill_edge"],
        on_base=on_base,
        trim=trim,
    )


def _left(
    reader: Reader,
    found: Mapping[str, Any],
    path: Path,
    outline: tuple[Point, ...] | None,
    faulty: frozenset[str | int],
) -> float | None:
    if "left" in found and "right" in found:
        reader.fault((*path, "right"), gettext("both left and right"), gettext("one of the two"))
    if "left" in found:
        return float(found["left"])
    if "right" in found:
        if outline is None or "width" not in found:
            return None
        return float(max(x for x, _ in outline) - found["right"] - found["width"])
    if not {"left", "right"} & faulty:
        wanted = gettext("how far it lies from one corner")
        reader.lack((*path, "left"), wanted, gettext("neither left nor right"))
    return None


def _height(
    reader: Reader, found: Mapping[str, Any], path: Path, shape: str, faulty: frozenset[str | int]
) -> float | None:
    width, height = found.get("width"), found.get("height")
    if height is None and not {"height", "shape"} & faulty:
        if shape == "round":
            return width
        if shape == "half-round":
            return None if width is None else width / 2
        reader.lack((*path, "height"), gettext("its height"))
    if shape == "round" and width is not None and height is not None and abs(width - height) > ROUNDING:
        found_ = gettext("{width} wide, {height} high", width=reader.show(width), height=reader.show(height))
        reader.fault((*path, "height"), found_, gettext("a round opening as high as it is wide"))
    return height


def _rise(
    reader: Reader,
    found: Mapping[str, Any],
    path: Path,
    shape: str,
    height: float | None,
    faulty: frozenset[str | int],
) -> float | None:
    if {"shape", "rise"} & faulty:
        return None
    width = found.get("width")
    if shape != "arch" and "rise" in found:
        found_ = gettext("a rise on a {shape}", shape=shape)
        reader.fault((*path, "rise"), found_, gettext("a rise on an arch only"))
    if shape == "half-round":
        if width is None or height is None:
            return None
        if height < width / 2 - ROUNDING:
            found_ = gettext(
                "{height} high, {width} wide", height=reader.show(height), width=reader.show(width)
            )
            reader.fault((*path, "height"), found_, gettext("at least half the width of a half-round"))
            return None
        return float(width / 2)
    if shape != "arch":
        return 0.0
    rise = found.get("rise")
    if rise is None:
        reader.lack((*path, "rise"), gettext("the rise of the arch above its springing"))
        return None
    if width is None or height is None:
        return float(rise)
    if rise > width / 2 + ROUNDING or rise > height + ROUNDING:
        most = min(width / 2, height)
        reader.fault(
            (*path, "rise"), reader.show(rise), gettext("at most {length}", length=reader.show(most))
        )
        return None
    return float(rise)


def base_under(outline: tuple[Point, ...], left: float, right: float) -> float:
    """Highest point of the wall's base between two x: what a door stands on."""
    heights = [min(y for _, y in outline)]
    for side in sides(outline):
        if side.base and side.right[0] > left + ROUNDING and side.left[0] < right - ROUNDING:
            heights.append(side.height_at(max(left, side.left[0])))
            heights.append(side.height_at(min(right, side.right[0])))
    return max(heights)
