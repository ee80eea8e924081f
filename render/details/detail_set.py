"""The details that a job needs, numbered, and which of them each edge of each face is made by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from evencourse.layout.language.speech import closed, gettext, noop
from evencourse.layout.model.course_plan import Base, Edge, ElevationPlan, Plan, Rake
from evencourse.layout.model.job import Corner, Units
from evencourse.layout.model.low_slope import LowSlope
from evencourse.layout.model.roof import RoofKind
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.wall.on_wall import is_packed
from evencourse.render.details import board_sections, end_sections, panel_sections
from evencourse.render.details.need import KINDS, Drawn, Kind, Need, edge_name
from evencourse.render.drawing.drawing import Mark
from evencourse.render.drawing.placement import Box

#: What sections are drawn to, and what a sheet calls it: 3" = 1'-0" or 1:5, smaller only where a course or a
#: trim is so high that its section would not go on a small sheet (ISO 5455; the architect's scale).
SCALES: dict[Units, tuple[tuple[float, str], ...]] = {
    "in": ((1 / 4, """3" = 1'-0\""""), (1 / 8, """1-1/2" = 1'-0\""""), (1 / 16, """3/4" = 1'-0\"""")),
    "mm": ((1 / 5, "1:5"), (1 / 10, "1:10"), (1 / 20, "1:20")),
}
#: Width that a detail takes, and the greatest height that goes on the smallest sheet [mm].
WIDTH, TALLEST = 77.0, 148.0

_EDGES: dict[str, tuple[Kind, Kind]] = {
    "head": ("head", "head cut"),
    "sill": ("sill", "sill cut"),
    "band": ("band", "band cut"),
    "eave": ("eave", "eave cut"),
    "eave left": ("eave", "eave cut"),
    "eave right": ("eave", "eave cut"),
    "base": ("base", "base cut"),
    "under roof": ("under roof", "under roof cut"),
    "over roof": ("deck", "deck cut"),
}
_CORNERS: dict[Corner, Kind] = {"outside corner": "outside corner", "inside corner": "inside corner"}


_PANELS: dict[Kind, Callable[[Need], Drawn]] = {
    "base": panel_sections.base,
    "base cut": panel_sections.base_cut,
    "sill": panel_sections.sill,
    "sill cut": panel_sections.sill_cut,
    "head": panel_sections.head,
    "head cut": panel_sections.head_cut,
    "band": panel_sections.under_band,
    "band cut": panel_sections.under_band,
    "eave": panel_sections.eave,
    "eave cut": panel_sections.eave_cut,
    "under roof": panel_sections.eave,
    "under roof cut": panel_sections.eave_cut,
}
_BOARDS: dict[Kind, Callable[[Need], Drawn]] = {
    "base": board_sections.base,
    "base cut": board_sections.base_cut,
    "sill": board_sections.sill,
    "sill cut": board_sections.sill_cut,
    "head": board_sections.head,
    "head cut": board_sections.head_cut,
    "band": board_sections.under_band,
    "band cut": board_sections.under_band,
    "eave": board_sections.eave,
    "eave cut": board_sections.eave_cut,
    "under roof": board_sections.eave,
    "under roof cut": board_sections.eave_cut,
}
_ENDS: dict[Kind, Callable[[Need], Drawn]] = {
    "rake": end_sections.rake,
    "roof": end_sections.roof,
    "deck": end_sections.deck,
    "deck cut": end_sections.deck,
    "sloping deck": end_sections.roof,
    "sloping base": end_sections.sloping_base,
    "outside corner": end_sections.outside_corner,
    "inside corner": end_sections.inside_corner,
}

_FAMILIES = {"panel": noop("panels"), "lap": noop("boards"), "shingle": noop("shingles")}

#: A kind of section and the name of its cladding.
Key = tuple[Kind, str]


@dataclass(frozen=True)
class Detail:
    """One section.

    Attributes:
        number: what the faces call it.
        need: whose numbers it shows.
        title: what it shows.
        marks: at full size round its own origin [job units].
        box: what they cover [mm of paper from the origin].
    """

    number: str
    need: Need
    title: str
    marks: tuple[Mark, ...]
    box: Box


@dataclass(frozen=True)
class DetailSpan:
    """Where along a rake or a corner a detail holds: what another cladding has there is made otherwise.

    Attributes:
        number: of the detail.
        low: where it begins [job units].
        high: where it ends [job units].
    """

    number: str
    low: float
    high: float


@dataclass(frozen=True)
class FaceDetails:
    """The numbers of one face's details.

    Attributes:
        edges: of its edges, in the order of the plan; empty where a course that hangs already is cut: the
            face says so, and a section that is made before a course hangs does not hold there.
        bases: of its level bases, likewise.
        rakes: of its rakes and then its low slopes, likewise, one for every cladding that meets it, from the
            bottom up.
        corners: of its left and its right end, likewise; none where the siding ends against something else.
    """

    edges: tuple[str, ...]
    bases: tuple[str, ...]
    rakes: tuple[tuple[DetailSpan, ...], ...]
    corners: tuple[tuple[DetailSpan, ...], tuple[DetailSpan, ...]]


@dataclass(frozen=True)
class DetailSet:
    """The details of a job.

    Attributes:
        scale: paper over real size, and what it is called.
        details: in the order of their numbers.
        faces: which of them each edge is made by, in the order of the job.
    """

    scale: tuple[float, str]
    details: tuple[Detail, ...]
    faces: tuple[FaceDetails, ...]


def details_of(plan: Plan) -> DetailSet:
    """The sections that a plan needs, and no others.

    Args:
        plan: course lines, edges, bases and rakes.

    Returns:
        A section for every kind of edge and every cladding that has it, from the ground up, then the corners.
        It is drawn to the numbers of the edge that is packed out most, of the lowest base, or of the first,
        a level edge rather than a curve.
    """
    found: dict[Key, Need] = {}
    rakes: dict[Key, list[Rake]] = {}
    alike: dict[Key, list[Need]] = {}
    for need in _needs(plan):
        key = (need.kind, need.cladding.name)
        alike.setdefault(key, []).append(need)
        rakes.setdefault(key, []).extend([need.rake] if need.rake is not None else [])
        if key not in found or _weight(need) > _weight(found[key]):
            found[key] = need
    claddings = list(plan.job.claddings)
    keys = sorted(found, key=lambda key: (KINDS.index(key[0]), claddings.index(key[1])))
    numbers = {key: str(number) for number, key in enumerate(keys, 1)}
    kinds = Counter(kind for kind, _ in keys)
    for scale in SCALES[plan.job.units]:
        needs = [
            replace(
                found[key],
                rakes=tuple(rakes[key]),
                laps=_laps(found[key], alike[key]),
                curves=_listed(dict.fromkeys(need.spot for need in alike[key] if need.curved)),
                number=numbers[key],
                scale=scale[0],
            )
            for key in keys
        ]
        details = tuple(_detail(need, several=kinds[need.kind] > 1) for need in needs)
        if all(one.box.height <= TALLEST for one in details):
            break
    return DetailSet(scale, details, tuple(_face(plan, face, numbers) for face in plan.elevations))


def _laps(shown: Need, alike: Sequence[Need]) -> tuple[tuple[str, str], ...]:
    """What goes under the next course at places made alike, where it is not the same at all of them."""
    if shown.cladding.family == "panel" or (shown.edge is None and shown.base is None):
        return ()
    places: dict[str, dict[tuple[str, str], None]] = {shown.lap: {shown.spot: None}}
    for need in (one for one in alike if shown.curved or not one.curved):
        places.setdefault(need.lap, {})[need.spot] = None
    return tuple((lap, _listed(where)) for lap, where in places.items())


def _listed(places: Iterable[tuple[str, str]]) -> str:
    """Places face by face, the name of each face once: ``Street A, B, Lane eave``."""
    words: list[str] = []
    face = ""
    for name, rest in places:
        words.append(rest if name == face else f"{closed(name)} {rest}".strip())
        face = name
    return ", ".join(words)


def _weight(need: Need) -> float:
    if need.edge is None:
        return -float(need.base.course) if need.base is not None else 0.0
    level = (not need.curved) * 1e-2  # a curve is told beside a level edge, which has more to it
    return round(need.edge.furring, 6) + level + (need.edge.importance != "ignore") * 1e-3


def _detail(need: Need, several: bool) -> Detail:
    ways = {**(_PANELS if need.cladding.family == "panel" else _BOARDS), **_ENDS}
    drawn = ways[need.kind](need)
    title = drawn.title
    if several:
        siding = gettext(_FAMILIES[need.cladding.family])
        title = gettext("{title}: {siding}", title=title, siding=siding)
    notes = (*drawn.notes, *_where(need))
    marks, box = drawn.section.finished(title, notes, WIDTH)
    return Detail(need.number, need, title, marks, box)


def _where(need: Need) -> Iterator[str]:
    """Whose numbers a cut is drawn to: the others stand on their faces."""
    if need.ends and need.edge is not None:
        face = need.face
        if need.edge.edge == "eave left":
            yield gettext("Drawn at the left end of the eave of {face}; others: see the faces.", face=face)
        else:
            yield gettext("Drawn at the right end of the eave of {face}; others: see the faces.", face=face)
    elif need.kind.endswith("cut"):
        subject = (
            need.edge.opening
            if need.edge is not None and need.edge.opening
            else edge_name(need.kind.removesuffix(" cut"))
        )
        yield gettext("For {face}, {edge}; others: see the faces.", face=need.face, edge=subject)


def _needs(plan: Plan) -> Iterator[Need]:
    def need(face: ElevationPlan, key: Key, **what: Edge | Base | Rake | LowSlope) -> Need:
        cladding = plan.job.claddings[key[1]]
        return Need(plan, key[0], cladding, face.elevation.name, **what)  # type: ignore[arg-type]

    for face in plan.elevations:
        for base in face.bases:
            if _hung(plan, face, base):
                continue
            cut = [one for one in face.edges if one.edge == "base" and _same(one, base)]
            ripped = {"edge": cut[0]} if base.result == "rip" and cut else {}
            yield need(face, _base_key(plan, base), base=base, **ripped)
        for edge in face.edges:
            if edge.edge != "base" and not _hung(plan, face, edge):
                yield need(face, _edge_key(plan, face, edge), edge=edge)
        for rake in face.rakes:
            for key, _, _ in _rake_keys(face, rake):
                yield need(face, key, rake=rake)
        for slope in face.low_slopes:
            for key, _, _ in _rake_keys(face, slope):
                yield need(face, key, slope=slope)
        for hand in ("left", "right"):
            for key, _, _ in _corner_keys(face, hand):
                yield need(face, key)


def _hung(plan: Plan, face: ElevationPlan, end: Edge | Base) -> bool:
    """Whether the course that is cut there hangs already: it is cut on the wall, nothing goes behind it."""
    return end.result not in ("flush", "whole", "hung over") and is_packed(plan, face, end)


def _edge_key(plan: Plan, face: ElevationPlan, edge: Edge) -> Key:
    flush, cut = _EDGES[edge.edge]
    if edge.edge == "over roof" and _roof_kind(face, edge.roof) == "roof":
        flush = cut = "roof"
    return (flush if edge.result == "flush" else cut, plan.course_sets[edge.course_set].cladding.name)


def _base_key(plan: Plan, base: Base) -> Key:
    return ("base cut" if base.result == "rip" else "base", plan.course_sets[base.course_set].cladding.name)


def _rake_keys(face: ElevationPlan, rake: Rake | LowSlope) -> Iterator[tuple[Key, float, float]]:
    over: Kind = "roof" if _roof_kind(face, rake.roof) == "roof" else "sloping deck"
    gentle = rake.roof is None and isinstance(rake, LowSlope)
    kind: Kind = "rake" if rake.side == "top" else "sloping base" if gentle else over
    return _clad(face, kind, *sorted((rake.start[1], rake.end[1])))


def _roof_kind(face: ElevationPlan, mark: str | None) -> RoofKind:
    """What siding meets: a roof, of its own building where it has no mark, a deck or a ledger."""
    return next((roof.kind for roof in face.elevation.roofs if roof.mark == mark), "roof")


def _corner_keys(face: ElevationPlan, hand: Literal["left", "right"]) -> Iterator[tuple[Key, float, float]]:
    kind = _CORNERS.get(face.elevation.left if hand == "left" else face.elevation.right)
    if kind is not None:
        outline = face.elevation.outline
        end = (min if hand == "left" else max)(x for x, _ in outline)
        heights = [y for x, y in outline if abs(x - end) <= SAME]
        yield from _clad(face, kind, min(heights), max(heights))


def _clad(face: ElevationPlan, kind: Kind, low: float, high: float) -> Iterator[tuple[Key, float, float]]:
    """Every cladding between two heights, and from where to where it is there [job units].

    Between heights at which there is none, on a band board, it is the one over it, or else the last.
    """
    found = []
    for number, zone in enumerate(face.zones):
        bottom = max(low, zone.bottom) if number else low
        top = min(high, zone.top) if number < len(face.zones) - 1 else high
        if top - bottom > SAME:
            found.append(((kind, zone.zone.cladding), bottom, top))
    if not found:
        zone = next((zone for zone in face.zones if zone.top > low + SAME), face.zones[-1])
        found.append(((kind, zone.zone.cladding), low, high))
    yield from found


def _same(edge: Edge, base: Base) -> bool:
    return (edge.left, edge.height) == (base.left, base.height)


def _face(plan: Plan, face: ElevationPlan, numbers: dict[Key, str]) -> FaceDetails:
    def edge_number(edge: Edge) -> str:
        base = next(
            (one for one in face.bases if edge.edge == "base" and _same(edge, one)),
            None,
        )
        if _hung(plan, face, edge if base is None else base):
            return ""
        return numbers[_edge_key(plan, face, edge) if base is None else _base_key(plan, base)]

    def spans(keys: Iterator[tuple[Key, float, float]]) -> tuple[DetailSpan, ...]:
        return tuple(DetailSpan(numbers[key], low, high) for key, low, high in keys)

    slopes: list[Rake | LowSlope] = [*face.rakes, *face.low_slopes]
    return FaceDetails(
        edges=tuple(edge_number(edge) for edge in face.edges),
        bases=tuple("" if _hung(plan, face, base) else numbers[_base_key(plan, base)] for base in face.bases),
        rakes=tuple(spans(_rake_keys(face, rake)) for rake in slopes),
        corners=(spans(_corner_keys(face, "left")), spans(_corner_keys(face, "right"))),
    )
