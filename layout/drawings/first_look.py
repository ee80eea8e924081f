"""A drawing before anything is decided: what the user says of it, and what its layers hold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from fractions import Fraction
from typing import BinaryIO

from evencourse.layout.drawings.drawing_units import UnitScale
from evencourse.layout.drawings.drawn_faces import find_faces
from evencourse.layout.drawings.drawn_outlines import role_of_group
from evencourse.layout.drawings.picks import Pick
from evencourse.layout.dxf.block_placing import PlacedDrawing, place
from evencourse.layout.dxf.dxf_content import DxfContent, read_document
from evencourse.layout.dxf.dxf_entities import Curve, Insert, Item
from evencourse.layout.dxf.layers import DRAWN, KINDS, Role, Roles, idle_block, says_wall
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.job import Job, Point
from evencourse.layout.trade.profiles import profile_names

#: How many times wider a tolerance is tried where no line meets another, and on how many lines at most.
_WIDER, _MOST_TRIED = (2, 4, 8), 1_000


@dataclass(frozen=True)
class Wishes:
    """What the user says about a drawing.

    Attributes:
        layers: layer names or patterns by role.
        accept: take layers whose name may mean something else, too.
        units: what one drawing unit is; None for what the header says.
        datum: points at the height of the datum [drawing units]; each face takes the nearest.
        tolerance: ends nearer than this meet, and shapes may be off by it [in]; None for the usual one.
        cladding: a shipped profile for the job.
        like: a job from which everything is taken that a drawing does not say.
        faces: regions that are faces; empty for what is found.
        openings: regions that are openings of the faces they lie in; empty for what is found.
        name: the job's name, unless another job gives one.
        file: the drawing's name, for the job file's first line.
    """

    layers: Mapping[str, Sequence[str]] = field(default_factory=dict)
    accept: bool = False
    units: str | None = None
    datum: tuple[Point, ...] = ()
    tolerance: float | None = None
    cladding: str | None = None
    like: Job | None = None
    faces: tuple[Pick, ...] = ()
    openings: tuple[Pick, ...] = ()
    name: str = ""
    file: str = field(default_factory=lambda: gettext("a drawing"))


@dataclass(frozen=True)
class LayerUse:
    """A layer with what it is taken for.

    Attributes:
        name: as written.
        role: what it holds, or may hold.
        count: entities on it.
        hidden: it is off or frozen, and therefore left out.
        given: the user has named it.
        doubtful: its name may mean another thing, and it is not taken for what it may hold.
    """

    name: str
    role: Role
    count: int
    hidden: bool
    given: bool
    doubtful: bool


@dataclass(frozen=True)
class Look:
    """A drawing before anything is decided.

    Attributes:
        document: what was kept of it.
        roles: what its layers hold.
        layers: every layer with lines, those of walls and openings first.
    """

    document: DxfContent
    roles: Roles
    layers: tuple[LayerUse, ...]


def look(file: BinaryIO, wishes: Wishes) -> Look:
    """Read a drawing.

    Args:
        file: a DXF file, text or binary.
        wishes: what the user says; only ``layers`` and ``accept`` count here.

    Raises:
        JobError: no DXF file, cut off, or too large.
    """
    roles = Roles(wishes.layers, wishes.accept)

    def wanted(layer: str, hidden: bool, in_block: bool) -> bool:
        held = roles.of(layer).roles
        if "ignore" in held or (hidden and not roles.named(layer)):
            return False
        return in_block or bool(set(held) & set(DRAWN))

    def spare(layer: str, hidden: bool) -> bool:
        return not hidden and roles.bounds(layer)

    document = read_document(file, wanted, spare)
    counts: Counter[str] = Counter()
    for (layer, _), number in document.counts.items():
        counts[layer] += number
    rank = {role: place for place, role in enumerate((*DRAWN, "name", "ignore"))}
    layers = [
        LayerUse(
            name,
            roles.perhaps(name),
            number,
            name.casefold() in document.hidden,
            roles.named(name),
            roles.of(name) != roles.perhaps(name),
        )
        for name, number in counts.items()
    ]
    layers.sort(key=lambda layer: (min((rank[role] for role in layer.role.roles), default=99), layer.name))
    return Look(document, roles, tuple(layers))


def cladding_faults(wishes: Wishes, like: Job | None, faults: list[Fault]) -> None:
    """Add what is the matter with the siding that the user names, or does not."""
    if wishes.cladding is None:
        if like is None:
            found = gettext("nothing: a drawing does not say")
            wanted = gettext("--cladding PROFILE, or --like JOB.toml")
            faults.append(Fault(gettext("the siding"), found, wanted))
        return
    if wishes.cladding not in profile_names():
        near = get_close_matches(wishes.cladding, profile_names(), 1, 0.4)
        wanted = f'"{near[0]}"' if near else gettext("a shipped profile")
        wanted = gettext("{profile}; evencourse claddings lists them", profile=wanted)
        faults.append(Fault("--cladding", f'"{wishes.cladding}"', wanted))
    if like is not None and len(like.claddings) > 1:
        found = gettext("one profile for the claddings {names}", names=", ".join(like.claddings))
        faults.append(Fault("--cladding", found, gettext("a job with one cladding, or no --cladding")))


def placed_blocks(seen: Look) -> PlacedDrawing:
    """A drawing with its blocks set in place: what stands for one thing as groups."""
    document, roles = seen.document, seen.roles

    def wanted(layer: str) -> bool:
        held = roles.of(layer).roles
        hidden = layer.casefold() in document.hidden and not roles.named(layer)
        return not hidden and "ignore" not in held and bool(set(held) & set(DRAWN))

    def whole(insert: Insert, layer: str) -> bool:
        if layer.casefold() in document.hidden and not roles.named(layer):
            return False
        if role_of_group(insert.block, insert.attributes.items(), layer, roles):
            return True
        block = document.blocks.get(insert.block.casefold())
        return block is not None and bool(insert.attributes) and _shows_opening(block.items, roles)

    def spare(layer: str, block: str) -> bool:
        hidden = layer.casefold() in document.hidden
        return not hidden and roles.bounds(layer) and not wanted(layer) and not idle_block(block)

    return place(document, wanted, whole, spare)


def _shows_opening(items: Sequence[Item], roles: Roles) -> bool:
    """Whether a block's own lines stand on layers of openings, and none on those of walls."""
    held = [roles.of(item.source.layer).roles for item in items if isinstance(item, Curve)]
    return not any("wall" in one for one in held) and any({*KINDS, "fixture"} & set(one) for one in held)


def why_no_face(seen: Look, placed: PlacedDrawing, scale: UnitScale, tolerance: float) -> str:
    """Why a drawing shows no face, in words, and what may help.

    Args:
        seen: the drawing.
        placed: it without blocks.
        scale: its units.
        tolerance: ends nearer than this meet [drawing units].
    """
    document, roles = seen.document, seen.roles
    counts: Counter[str] = Counter()
    for (layer, kind), number in document.counts.items():
        if "wall" in roles.of(layer).roles:
            counts[kind] += number
    among = ", ".join(f"{number} {kind}" for kind, number in counts.most_common(5))
    if among:
        return gettext("no closed outline on a layer of walls, which hold {entities}", entities=among)
    lines = len(placed.curves) + len(placed.others)
    for times in _WIDER if lines <= _MOST_TRIED else ():
        if find_faces(placed, roles, scale, times * tolerance).faces:
            inches = Fraction(times * tolerance * scale.factor / scale.inch).limit_denominator(64)
            hint = gettext("--tolerance {inches} lets them meet", inches=inches)
            return gettext("no outline that may be a face: ends lie apart; {hint}", hint=hint)
    for use in seen.layers:
        if "ignore" in use.role.roles and not use.given and says_wall(use.name):
            name = use.name
            hint = gettext('--layer "wall={layer}" takes it', layer=name)
            return gettext(
                'no outline that may be a face; "{layer}" is not read: {hint}', layer=name, hint=hint
            )
    return gettext("no outline that may be a face, on any layer")
