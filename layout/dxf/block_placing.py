"""Blocks set in place: what a drawing shows, each line on the layer and at the place where it shows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import reduce

from evencourse.layout.dxf.dxf_content import MOST, MOST_OTHERS, DxfContent, Unused
from evencourse.layout.dxf.dxf_entities import FARTHEST, Curve, DxfLabel, Insert, Source
from evencourse.layout.dxf.dxf_geometry import Affine
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.job import Point

#: Deepest nesting of blocks.
DEEPEST = 32


@dataclass
class PlacedBlock:
    """What one block shows that stands for one thing: a window, a door.

    Attributes:
        block: the block's name.
        attributes: tag and value.
        source: where it is inserted.
        curves: its lines, in the drawing's coordinates.
        labels: its lettering.
    """

    block: str
    attributes: Mapping[str, str]
    source: Source
    curves: list[Curve] = field(default_factory=list)
    labels: list[DxfLabel] = field(default_factory=list)


@dataclass(frozen=True)
class Origin:
    """Where a face's left corner meets the datum: a block with the attribute FACE.

    Attributes:
        face: the face's name.
        at: the place.
        source: the block.
    """

    face: str
    at: Point
    source: Source


@dataclass
class PlacedDrawing:
    """A drawing without blocks.

    Attributes:
        origins: marked left corners of faces.
        curves: lines that belong to no group.
        others: lines that belong to no group, on layers whose names say nothing.
        labels: lettering that belongs to no group.
        groups: blocks that stand for one thing.
        unused: blocks that show nothing.
        faults: blocks that have no end.
    """

    origins: list[Origin] = field(default_factory=list)
    curves: list[Curve] = field(default_factory=list)
    others: list[Curve] = field(default_factory=list)
    labels: list[DxfLabel] = field(default_factory=list)
    groups: list[PlacedBlock] = field(default_factory=list)
    unused: list[Unused] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)


def place(
    document: DxfContent,
    wanted: Callable[[str], bool],
    whole: Callable[[Insert, str], bool],
    spare: Callable[[str, str], bool] = lambda layer, block: False,
) -> PlacedDrawing:
    """Every block of a drawing set in place.

    Args:
        document: the drawing.
        wanted: whether lines on a layer matter.
        whole: whether a block stands for one thing, from its place and the layer that it shows on.
        spare: whether lines on a layer that does not matter are kept, from its name and that of the outermost
            block that they stand in, "" for none.
    """
    placed = PlacedDrawing()
    sizes = _Sizes(document)
    total = 0
    inserts = [item for item in (*document.items, *document.others) if isinstance(item, Insert)]
    fit = []
    for insert in inserts:
        size = sizes.of(insert.block.casefold(), ())
        if sizes.endless is not None:
            ending = gettext("blocks that come to an end")
            placed.faults.append(Fault(str(insert.source), sizes.endless, ending))
            sizes.endless = None
            continue
        total += size * len(insert.copies)
        if total > MOST:
            found = gettext(
                'the block "{block}", with which blocks come to more than {count} lines',
                block=insert.block[:60],
                count=MOST,
            )
            fewer = gettext("an elevation without what it needs not")
            placed.faults.append(Fault(str(insert.source), found, fewer))
            return placed
        fit.append(insert)
    setter = _Setter(document, placed, wanted, whole, spare)
    for item in (*document.items, *document.others):
        if not isinstance(item, Insert):
            setter.put(item, Affine(), item.source.layer, None)
    for insert in fit:
        setter.put(insert, Affine(), insert.source.layer, None)
    return placed


class _Sizes:
    """How much each block comes to, what it holds counted through."""

    def __init__(self, document: DxfContent) -> None:
        self.document = document
        self.known: dict[str, int] = {}
        self.endless: str | None = None

    def of(self, name: str, above: tuple[str, ...]) -> int:
        if name in self.known:
            return self.known[name]
        block = self.document.blocks.get(name)
        if block is None:
            return 0
        if name in above or len(above) >= DEEPEST:
            shown = [self.document.blocks[one].name[:60] for one in (*above, name)]
            chain = reduce(
                lambda inner, outer: gettext("{inner} in {outer}", inner=inner, outer=outer),
                [f'"{one}"' for one in reversed(shown[-4:])],
            )
            if name in above:
                self.endless = gettext("a block that holds itself: {blocks}", blocks=chain)
            else:
                self.endless = gettext(
                    "more than {count} blocks in one another: {blocks}", count=DEEPEST, blocks=chain
                )
            return 0
        size = 1
        for item in block.items:
            if isinstance(item, Insert):
                size += len(item.copies) * (1 + self.of(item.block.casefold(), (*above, name)))
            else:
                size += 1
            if self.endless is not None:
                return 0
        self.known[name] = min(size, 10**12)
        return self.known[name]


class _Setter:
    def __init__(
        self,
        document: DxfContent,
        placed: PlacedDrawing,
        wanted: Callable[[str], bool],
        whole: Callable[[Insert, str], bool],
        spare: Callable[[str, str], bool],
    ) -> None:
        self.document, self.placed, self.wanted, self.whole = document, placed, wanted, whole
        self.spare, self.within = spare, ""

    def put(self, item: Curve | DxfLabel | Insert, by: Affine, layer: str, group: PlacedBlock | None) -> None:
        """Set an item in place.

        Args:
            item: in the coordinates of its block.
            by: from there to the drawing's.
            layer: on which it shows.
            group: the thing it belongs to; None for none.
        """
        source = replace(item.source, layer=layer, at=by.point(item.source.at))
        if isinstance(item, Insert):
            for placing in self.places(item, by):
                self.insert(item, placing, source, group)
            return
        if not all(abs(value) <= FARTHEST for value in source.at):
            return
        if isinstance(item, DxfLabel):
            label = replace(item, height=item.height * abs(by.a * by.d - by.b * by.c) ** 0.5, source=source)
            (self.placed.labels if group is None else group.labels).append(label)
        elif group is not None or self.wanted(layer):
            parts = tuple(part.moved(by) for part in item.parts) if by != Affine() else item.parts
            curve = replace(item, parts=parts, source=source)
            (self.placed.curves if group is None else group.curves).append(curve)
        elif len(self.placed.others) < MOST_OTHERS and self.spare(layer, self.within):
            parts = tuple(part.moved(by) for part in item.parts) if by != Affine() else item.parts
            self.placed.others.append(replace(item, parts=parts, source=source))

    def places(self, insert: Insert, by: Affine) -> Iterator[Affine]:
        """Where the block goes: once for each of its rows and columns."""
        for x, y in insert.copies:
            shifted = replace(insert.placing, e=insert.placing.e + x, f=insert.placing.f + y)
            yield by.after(shifted)

    def insert(self, insert: Insert, by: Affine, source: Source, group: PlacedBlock | None) -> None:
        """Set a block in place: as an origin, as one thing, or line by line."""
        if insert.attributes.get("FACE"):
            self.placed.origins.append(Origin(insert.attributes["FACE"], source.at, source))
            return
        block = self.document.blocks.get(insert.block.casefold())
        if block is None or block.external or block.too_large or not block.items:
            if group is None and (self.wanted(source.layer) or self.whole(insert, source.layer)):
                what = (
                    gettext("a block that the file does not hold")
                    if block is None
                    else gettext("a block in another file: bind it first")
                    if block.external
                    else gettext("a block of very many lines")
                    if block.too_large
                    else gettext("a block without lines")
                )
                self.placed.unused.append(Unused(source, what))
            return
        if group is None and self.whole(insert, source.layer):
            group = PlacedBlock(block.name, insert.attributes, source)
            self.placed.groups.append(group)
        base = Affine(1.0, 0.0, 0.0, 1.0, -block.base[0], -block.base[1])
        inner = by.after(base)
        around, self.within = self.within, self.within or block.name
        for item in block.items:
            own = item.source.layer
            self.put(item, inner, source.layer if own == "0" else own, group)
        self.within = around
