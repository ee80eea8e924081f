"""A drawing from elsewhere as the desk shows it: its picture, what can be tapped on it, what is taken now."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from evencourse.cli.reports.face_table import fine_tape
from evencourse.cli.views.face_drawing import for_page
from evencourse.cli.views.field_words import choice_words
from evencourse.layout.drawings.drawing_import import Gathered, Import
from evencourse.layout.drawings.drawing_units import WORDS
from evencourse.layout.drawings.drawn_by_shape import DrawnShape
from evencourse.layout.drawings.drawn_outlines import within
from evencourse.layout.drawings.first_look import Wishes
from evencourse.layout.drawings.job_faces import Understood
from evencourse.layout.drawings.picks import VIEWS, NumberedRegion
from evencourse.layout.drawings.views import kind_of_opening
from evencourse.layout.dxf.dxf_entities import Source
from evencourse.layout.dxf.layers import KINDS
from evencourse.layout.language.speech import decimals, gettext, noop
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.geometry import Box, box_of
from evencourse.layout.model.job import Elevation, Point, Units
from evencourse.render.formats.svg import svg
from evencourse.render.regions.region_picture import RegionPlace, region_picture, region_place

Json = dict[str, Any]
#: Most notes and things of no use that are listed.
MOST = 40
_FOOT = noop("bold: found as a face or an opening; dashed: tap it to take it")
#: Fields of the screen by the option that a fault speaks of.
_FIELDS = {
    "--units": "units", "--known": "known", "--between": "between", "--page": "page", "--face": "face",
    "--opening": "opening", "--cladding": "cladding",
}  # fmt: skip
#: What the command advises by its options, and what is done at the desk instead.
_ADVICE = {
    noop("--known LENGTH --between N: how wide region N of --show --svg PICTURE is"): noop(
        "a length that is known: tap its two ends and type it"
    ),
    noop("--svg PICTURE numbers them for --face"): noop("tap those that are faces"),
    noop("--svg PICTURE numbers both, for --opening"): noop("tap what is to be the opening"),
    noop("--opening takes the inner; --svg PICTURE numbers both"): noop("tap the inner"),
    noop("--svg PICTURE numbers it for --opening, and --layer window=NAME takes its layer"): noop(
        "tap it to take it"
    ),
    noop("--svg PICTURE numbers it for --face, and 1+N unites two"): noop("tap it to take it"),
    noop("--tolerance {inches} lets them meet"): noop("a tolerance of {inches} lets them meet"),
    noop("or --known with a length in {units}"): noop("or a known length in {units}"),
    noop("for a job file add --units {units}"): noop("choose the units below: {units}"),
    noop("a number from 1 to {count}, as --show --svg PICTURE draws them"): noop(
        "a number from 1 to {count} of the picture"
    ),
    noop("a region from 1 to {count}, as --show --svg PICTURE draws them"): noop(
        "a region from 1 to {count} of the picture"
    ),
    noop("--cladding PROFILE, or --like JOB.toml"): noop("a siding"),
    noop("--known sets the scale"): noop("a known length sets the scale"),
    noop("--units says so"): noop("the units say so"),
    noop("--units says what one drawing unit is"): noop("say what one drawing unit is"),
    noop("a length beside --units"): noop("a length beside the units"),
    noop("see [trim]"): noop("see Trim, under The job"),
    noop("… and more; --show lists them"): noop("… and more"),
    noop('--layer "wall={layer}" takes it'): noop("its outlines belong on a layer called Wall"),
}
#: Advice that is left out at the desk.
_NO_ADVICE = noop("on a layer of its own, --layer grade=NAME takes it for the ground")
_PLACE = re.compile(r"\{(\w+)\}")


def said(words: str) -> str:
    """A sentence of the command, with what is done at the desk instead of its options."""
    words = words.replace(f"; {gettext(_NO_ADVICE)}", "")
    for option, advice in _ADVICE.items():
        words = _instead(words, gettext(option), advice)
    return words.replace("--units ", "")


def _instead(words: str, option: str, advice: str) -> str:
    """A sentence with one advice in the place of another, which may hold values."""
    texts = [
        re.escape(text) if place % 2 == 0 else f"(?P<{text}>.+?)"
        for place, text in enumerate(_PLACE.split(option))
    ]
    end = "(?=;|$)" if option.endswith("}") else ""
    return re.sub("".join(texts) + end, lambda match: gettext(advice, **match.groupdict()), words)


def told(faults: Sequence[Fault]) -> list[Json]:
    """Faults with the field that they stand at."""
    found = []
    for fault in dict.fromkeys(faults):
        field = _FIELDS.get(fault.place, "")
        if "--units" in fault.wanted:
            field = "units"
        elif fault.found == gettext("no scale that is lettered once"):
            field = "known"
        words = gettext("found {found}; wanted {wanted}", found=said(fault.found), wanted=said(fault.wanted))
        place = gettext("the job") if fault.place == "--like" else fault.place
        found.append({"field": field, "place": place, "words": words})
    return found


def picture(drawn: Gathered, wishes: Wishes) -> Json:
    """The picture of ``--svg``, and every region on it as a path that can be tapped."""
    return drawing(drawn.regions, drawn.lines(wishes), wishes.file, gettext(_FOOT))


def drawing(
    regions: Sequence[NumberedRegion], lines: Sequence[Sequence[Point]], title: str, foot: str
) -> Json:
    """A picture of numbered regions."""
    place = region_place(regions, lines)
    rings = [(one.number, one.shape.points) for one in regions]
    return {
        "key": hashlib.sha256(repr(rings).encode()).hexdigest()[:16],
        "svg": for_page(svg(region_picture(regions, lines, title, foot), portable=False)),
        "place": {"x": place.corner[0], "y": place.corner[1], "mm": place.factor,
                  "origin": _turned(place, place.corner)},
        "paths": {one.number: _path(place, one.shape.points) for one in regions},
    }  # fmt: skip


def regions_view(drawn: Gathered, found: Import | None) -> list[Json]:
    """Every region with what it is taken for now; the large ones first, so that small ones lie on top."""
    understood = found.understood if found is not None else Understood()
    of_face = {ring: place for place, ring in understood.rings.items() if not place[1]}
    of_thing = {ring: place for place, ring in understood.rings.items() if place[1]}
    faces = [(name, box_of(ring)) for (name, mark), ring in understood.rings.items() if not mark]
    kinds = {
        (face.name, one.mark): one.kind for face in understood.elevations for one in face.openings
    }  # fmt: skip
    rows = []
    for one in drawn.regions:
        box, inch = box_of(one.shape.points), _inch(drawn)
        first, second = (of_face, of_thing) if one.shape.what in VIEWS else (of_thing, of_face)
        ring = one.shape.points
        face, mark = first.get(ring) or second.get(ring) or ("", "")
        inside = face or next((name for name, around in faces if _in(box, around)), "")
        below = next((around[1] for name, around in faces if name == inside), box[1])
        guess = one.shape.note if one.shape.note in KINDS else kind_of_opening(box, below, inch)
        size = _size(box, drawn)
        rows.append(
            {"number": one.number, "what": one.shape.what, "view": one.shape.what in VIEWS, "face": face,
             "mark": mark, "inside": inside, "kind": kinds.get((face, mark), "" if mark == "" else "thing"),
             "guess": KINDS.get(guess, guess), "size": size, "area": (box[2] - box[0]) * (box[3] - box[1])}
        )  # fmt: skip
    return sorted(rows, key=lambda row: (-row["area"], row["number"]))


def faces_view(found: Import, drawn: Gathered) -> list[Json]:
    """The faces that are taken, each with its openings and the numbers of both."""
    numbers: dict[tuple[bool, tuple[Point, ...]], int] = {}
    for one in reversed(drawn.regions):  # a door may be all of a wall: a face has the lower number
        numbers[True, one.shape.points] = one.number
        numbers.setdefault((False, one.shape.points), one.number)
    taken = found.understood.rings.items()
    rings = {(face, mark): numbers.get((not mark, ring), 0) for (face, mark), ring in taken}
    return list(_faces(found.understood.elevations, found.scale.units, rings))


def model_faces(faces: Sequence[Elevation], units: Units) -> list[Json]:
    """The faces of a model."""
    return list(_faces(faces, units, {}))


def model_regions(faces: Sequence[Elevation]) -> tuple[NumberedRegion, ...]:
    """The faces of a model side by side, and what is in them, as regions of one drawing."""
    found: list[tuple[DrawnShape, str]] = []
    inner: list[tuple[DrawnShape, str]] = []
    start, nowhere = 0.0, Source("", "", "", (0.0, 0.0))
    for face in faces:
        left, _, right, _ = box_of(face.outline)
        shift = start - left
        ring = tuple((x + shift, y) for x, y in face.outline)
        found.append((DrawnShape(ring, "face", True, nowhere), face.name))
        for one in face.openings:
            low, high = (one.left + shift, one.bottom), (one.right + shift, one.top)
            hole = (low, (high[0], low[1]), high, (low[0], high[1]))
            inner.append((DrawnShape(hole, "opening", True, nowhere), one.mark))
        start += (right - left) * 1.1
    return tuple(NumberedRegion(number, *one) for number, one in enumerate([*found, *inner], 1))


def _faces(faces: Sequence[Elevation], units: Units, rings: Mapping[tuple[str, str], int]) -> Iterator[Json]:
    tape = fine_tape(units)
    for face in faces:
        left, low, right, high = box_of(face.outline)
        others = [gettext("{mark} (fixture)", mark=one.mark) for one in face.fixtures]
        others += [f"{one.mark} ({choice_words(one.kind)})" for one in face.roofs]
        yield {
            "number": rings.get((face.name, ""), 0),
            "name": face.name,
            "size": _by(tape(right - left), tape(high - low)),
            "others": others,
            "openings": [
                {"number": rings.get((face.name, one.mark), 0), "mark": one.mark, "kind": one.kind,
                 "shape": one.shape, "size": _by(tape(one.width), tape(one.height)),
                 "place": gettext("{left} from the left, bottom at {height}", left=tape(one.left),
                                  height=tape(one.bottom))}
                for one in face.openings
            ],
        }  # fmt: skip


def scale_words(drawn: Gathered) -> str:
    """What the drawing's units are taken for, and by what."""
    if drawn.scale is None:
        return ""
    chosen = {"--units": gettext("the units that were chosen"), "--known": gettext("the known length")}
    by = chosen.get(drawn.scale.by, drawn.scale.by)
    if drawn.scale.name == "pt":
        return gettext("Scaled by {source}.", source=by)
    return gettext("Drawn in {units}, by {source}.", units=gettext(WORDS[drawn.scale.name]), source=by)


def likely_units(drawn: Gathered) -> Json | None:
    """The units that its openings speak for, where the drawing says none or others; None where it is sure."""
    if not drawn.doubts or drawn.scale is None or drawn.scale.name == "pt":
        return None
    return {"units": drawn.scale.name, "words": gettext(WORDS[drawn.scale.name])}


def _inch(drawn: Gathered) -> float:
    """Drawing units in one inch, as far as it is known."""
    return 1.0 if drawn.scale is None else drawn.scale.inch / drawn.scale.factor


def _size(box: Box, drawn: Gathered) -> str:
    if drawn.scale is None:
        wide, high = (decimals(f"{box[end] - box[end - 2]:.6g}") for end in (2, 3))
        return gettext("{width} by {height} drawing units", width=wide, height=high)
    tape, factor = fine_tape(drawn.scale.units), drawn.scale.factor
    return _by(tape((box[2] - box[0]) * factor), tape((box[3] - box[1]) * factor))


def _by(width: str, height: str) -> str:
    return gettext("{width} by {height}", width=width, height=height)


def _in(box: Box, around: Box) -> bool:
    return within(box, around, 0.001 * (around[3] - around[1]))


def _turned(place: RegionPlace, point: Point) -> Point:
    """On the picture, from its upper left corner [mm]."""
    x, y = place.at(point)
    return round(x, 2), round(place.paper[1] - y, 2)


def _path(place: RegionPlace, ring: Sequence[Point]) -> str:
    points = (_turned(place, point) for point in ring)
    return f"M{'L'.join(f'{x:g} {y:g}' for x, y in points)}Z"
