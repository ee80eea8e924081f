"""What a DXF file holds on the layers that matter: header, layers, blocks and entities, in one pass."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import BinaryIO

from evencourse.layout.dxf.dxf_entities import (
    READERS,
    Curve,
    DxfLabel,
    EntityError,
    Insert,
    Item,
    Source,
    Tags,
    polyline_of,
    read_entity,
)
from evencourse.layout.dxf.dxf_records import Record, records
from evencourse.layout.dxf.dxf_texts import decoded, encoding, lettering
from evencourse.layout.dxf.layers import kind_of_block
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.job import Point

#: Most things kept: of lines and blocks, in one block, and of lettering; most layers.
MOST, MOST_IN_BLOCK, MOST_LABELS, MOST_LAYERS = 100_000, 20_000, 20_000, 20_000
#: Most lines kept of layers whose names say nothing.
MOST_OTHERS = 30_000
#: First text of the record in which our own drawings carry their job.
RECORD = "evencourse job file"

#: Records that belong to the one before them.
_PARTS = ("VERTEX", "ATTRIB", "SEQEND")


@dataclass(frozen=True, slots=True)
class Unused:
    """Something on a layer of walls or openings that could not be used.

    Attributes:
        source: where it stands.
        why: what is the matter with it.
    """

    source: Source
    why: str


@dataclass
class DxfBlock:
    """A block's content, in its own coordinates.

    Attributes:
        name: as written.
        base: its base point.
        items: what it holds.
        external: it stands in another file.
        size: how much it holds.
        too_large: it holds more than is kept.
    """

    name: str
    base: Point
    items: list[Item] = field(default_factory=list)
    external: bool = False
    size: int = 0
    too_large: bool = False


@dataclass
class DxfContent:
    """A drawing.

    Attributes:
        units: ``$INSUNITS``; None when the header does not say.
        metric: ``$MEASUREMENT`` is metric; None when the header does not say.
        hidden: layers that are off or frozen, in lower case.
        blocks: by name in lower case.
        items: what stands in model space, on the layers that matter.
        others: lines and blocks there on layers whose names say nothing.
        overfull: there are so many of those that none was kept.
        record: the job file that the drawing carries; empty without one.
        counts: entities in model space and in blocks, by layer and kind.
        in_model: entities in model space.
        on_paper: lines, lettering and blocks on paper, in layouts: none of them is kept.
        unused: what stands on the layers that matter and is no use, and what is damaged on others.
        faults: damaged entities there.
    """

    units: int | None = None
    metric: bool | None = None
    hidden: set[str] = field(default_factory=set)
    blocks: dict[str, DxfBlock] = field(default_factory=dict)
    items: list[Item] = field(default_factory=list)
    others: list[Item] = field(default_factory=list)
    overfull: bool = False
    record: str = ""
    counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    in_model: int = 0
    on_paper: int = 0
    unused: list[Unused] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)


def read_document(
    file: BinaryIO,
    wanted: Callable[[str, bool, bool], bool],
    spare: Callable[[str, bool], bool] = lambda layer, hidden: False,
) -> DxfContent:
    """A drawing, of its entities only what stands on wanted layers, and some of what stands on others.

    Args:
        file: a DXF file, text or binary.
        wanted: whether the lines on a layer matter, from its name, whether it is off or frozen, and whether
            they stand in a block. What a block has on layer 0 always matters: it takes its place's layer.
        spare: whether sound lines on a layer that does not matter are kept, from its name and whether it is
            off or frozen.

    Raises:
        JobError: no DXF file, cut off, or more on the wanted layers than an elevation can hold.
    """
    walk = _Walk(wanted, spare)
    for record in records(file):
        walk.take(record)
    walk.finish()
    if not walk.seen:
        found, wanting = gettext("no SECTION with entities"), gettext("a DXF file with an elevation")
        raise JobError([Fault(gettext("the drawing"), found, wanting)])
    return walk.document


class _Walk:
    def __init__(self, wanted: Callable[[str, bool, bool], bool], spare: Callable[[str, bool], bool]) -> None:
        self.wanted, self.spare, self.document = wanted, spare, DxfContent()
        self.codec, self.section, self.seen = "cp1252", "", False
        self.block: DxfBlock | None = None
        self.layers: dict[tuple[object, bool], tuple[str, bool, bool]] = {}
        self.open: tuple[Tags, list[Tags]] | None = None
        self.known_blocks: dict[str, bool] = {}
        self.kept = self.labels = self.spared = 0

    def take(self, record: Record) -> None:
        kind = record.kind
        if self.section in ("ENTITIES", "BLOCKS") and kind not in ("SECTION", "ENDSEC"):
            if kind in _PARTS:
                if self.open is not None and kind != "SEQEND":
                    self.open[1].append(Tags(record, self.codec))
                return
            if self.open is not None:
                self.finish()
            if kind == "BLOCK":
                self.begin_block(record)
            elif kind == "ENDBLK":
                self.block = None
            else:
                self.entity(record)
            return
        self.finish()
        if kind == "SECTION":
            self.section = Tags(record, self.codec).text(2).strip().upper()
            self.seen = self.seen or self.section == "ENTITIES"
            if self.section == "HEADER":
                self.header(record)
        elif kind == "ENDSEC":
            self.section, self.block = "", None
        elif self.section == "TABLES" and kind == "LAYER":
            self.layer(Tags(record, self.codec))
        elif self.section == "OBJECTS" and kind == "XRECORD":
            self.xrecord(Tags(record, self.codec))

    def header(self, record: Record) -> None:
        found: dict[str, object] = {}
        name = ""
        for code, value in zip(record.codes, record.values, strict=True):
            if code == 9:
                name = str(value).strip().upper()
            elif name:
                found[name], name = value, ""
        self.codec = encoding(str(found.get("$ACADVER", "")), str(found.get("$DWGCODEPAGE", "")))
        self.document.units = _whole(found.get("$INSUNITS"))
        metric = _whole(found.get("$MEASUREMENT"))
        self.document.metric = None if metric is None else metric == 1

    def layer(self, tags: Tags) -> None:
        try:
            if tags.count(62, 7) < 0 or tags.count(70) & 1:
                self.document.hidden.add(tags.text(2).strip().casefold())
        except EntityError:
            return

    def xrecord(self, tags: Tags) -> None:
        texts = [(code, value) for code, value in tags.pairs() if code in (1, 3)]
        if not texts or texts[0][1] != RECORD or len(texts) > 200_000:
            return
        lines: list[str] = []
        for code, value in texts[1:]:
            text = decoded(value, self.codec)
            if code == 3 and lines:
                lines[-1] += text
            else:
                lines.append(text)
        self.document.record = "\n".join(lines) + "\n"

    def begin_block(self, record: Record) -> None:
        tags = Tags(record, self.codec)
        try:
            base, flags = tags.point(10), tags.count(70)
        except EntityError as error:
            self.fault(tags, error)
            base, flags = (0.0, 0.0), 0
        self.block = DxfBlock(tags.text(2), base, external=bool(flags & (4 | 8)))
        self.document.blocks.setdefault(self.block.name.casefold(), self.block)

    def entity(self, record: Record) -> None:
        on_paper = 67 in record.codes and _whole(record.values[record.codes.index(67)]) == 1
        if on_paper or (self.block is not None and self.block.name.upper().startswith("*PAPER")):
            self.document.on_paper += record.kind in READERS
            return
        self.document.in_model += self.block is None
        raw = record.values[record.codes.index(8)] if 8 in record.codes else "0"
        in_block = self.block is not None
        known = self.layers.get((raw, in_block))
        if known is None:
            if len(self.layers) >= MOST_LAYERS:
                found = gettext("more than {count} layers", count=MOST_LAYERS)
                fewer = gettext("an elevation without what it needs not")
                raise JobError([Fault(gettext("the drawing"), found, fewer)])
            name = decoded(raw, self.codec).strip() or "0"
            hidden = name.casefold() in self.document.hidden
            wanted = self.wanted(name, hidden, in_block) or (in_block and name == "0")
            known = (name, wanted, not in_block and not wanted and self.spare(name, hidden))
            self.layers[raw, in_block] = known
        layer, wanted, spare = known
        kind = record.kind
        self.document.counts[layer, kind[:40]] += 1
        if not (wanted or spare or kind in ("INSERT", "TEXT", "MTEXT")):
            return
        if self.block is not None and self.block.too_large:
            return
        if kind in ("TEXT", "MTEXT") and self.labels > MOST_LABELS:
            return
        tags = Tags(record, self.codec)
        if kind == "INSERT" and not (wanted or in_block or record.codes.count(66)):
            name = tags.text(2).casefold()
            if not self.matters(name, 0):
                if spare:
                    self.set_aside(tags, [])
                return
        if kind == "POLYLINE" or (kind == "INSERT" and record.codes.count(66)):
            self.open = (tags, [])
        elif spare and kind not in ("INSERT", "TEXT", "MTEXT"):
            if kind in READERS:
                self.set_aside(tags, [])
        elif kind in READERS:
            self.read(tags, [])
        elif kind not in ("ATTDEF", "VIEWPORT") and not in_block:
            why = gettext("of no use for an outline")
            self.document.unused.append(Unused(tags.source(self.somewhere(tags)), why))
            self.counted(1, 0)

    def matters(self, name: str, depth: int) -> bool:
        """Whether a block that stands on a layer that does not matter shows something that does."""
        if name not in self.known_blocks:
            self.known_blocks[name] = False  # for one that holds itself
            block = self.document.blocks.get(name)
            items = [] if block is None else block.items
            self.known_blocks[name] = bool(kind_of_block(name)) or any(
                self.shows(item, depth) for item in items
            )
        return self.known_blocks[name]

    def shows(self, item: Item, depth: int) -> bool:
        """Whether one thing in such a block matters."""
        layer = item.source.layer
        if self.wanted(layer, layer.casefold() in self.document.hidden, False):
            return True
        if not isinstance(item, Insert):
            return False
        return bool(item.attributes) or depth > 30 or self.matters(item.block.casefold(), depth + 1)

    def finish(self) -> None:
        """End what a polyline or a block with attributes has begun."""
        if self.open is not None:
            tags, parts = self.open
            self.open = None
            known = tags.record.kind == "POLYLINE" and self.block is None
            if known and not self.wanted(
                tags.layer(), tags.layer().casefold() in self.document.hidden, False
            ):
                self.set_aside(tags, parts)
            else:
                self.read(tags, parts)

    def set_aside(self, tags: Tags, belonging: list[Tags]) -> None:
        """Keep a sound line of a layer whose name says nothing, as long as there are not too many."""
        if self.document.overfull:
            return
        try:
            item = _item(tags, belonging)
        except EntityError as error:
            if error.broken and len(self.document.unused) < 50:
                self.document.unused.append(Unused(tags.source(self.somewhere(tags)), error.found))
            return
        parts = item.parts if isinstance(item, Curve) else ()
        self.spared += 1 + sum(len(getattr(part, "points", "12")) for part in parts) // 8
        self.document.others.append(item)
        if self.spared > MOST_OTHERS:
            self.document.others.clear()
            self.document.overfull = True

    def read(self, tags: Tags, belonging: list[Tags]) -> None:
        try:
            item = _item(tags, belonging)
        except EntityError as error:
            if error.broken and tags.record.kind not in ("TEXT", "MTEXT"):
                self.fault(tags, error)
            elif self.block is None:
                self.document.unused.append(Unused(tags.source(self.somewhere(tags)), error.found))
                self.counted(1, 0)
            return
        if isinstance(item, DxfLabel):
            self.counted(0, 1)
            if self.labels > MOST_LABELS:
                return
        else:
            parts = item.parts if isinstance(item, Curve) else ()
            self.counted(1 + sum(len(getattr(part, "points", "12")) for part in parts) // 8, 0)
            if self.block is not None and self.block.too_large:
                return
        (self.document.items if self.block is None else self.block.items).append(item)

    def counted(self, things: int, labels: int) -> None:
        self.labels += labels
        block = self.block
        if block is not None:
            block.size += things
            if block.size > MOST_IN_BLOCK or self.kept + things > MOST:
                block.too_large = True
                self.kept -= block.size - things
                block.items.clear()
                return
        self.kept += things
        if self.kept > MOST:
            found = gettext("more than {count} entities on the layers of walls and openings", count=MOST)
            fewer = gettext("an elevation; name its layers with --layer")
            raise JobError([Fault(gettext("the drawing"), found, fewer)])

    def somewhere(self, tags: Tags) -> Point:
        try:
            return tags.point(10)
        except EntityError:
            return (0.0, 0.0)

    def fault(self, tags: Tags, error: EntityError) -> None:
        if len(self.document.faults) < 50:
            line = tags.record.line or None
            place = str(tags.source(self.somewhere(tags)))
            self.document.faults.append(Fault(place, error.found, gettext("an undamaged entity"), line))


def _item(tags: Tags, belonging: list[Tags]) -> Item:
    """An entity with the records that belong to it."""
    if tags.record.kind == "POLYLINE":
        return polyline_of(tags, [part for part in belonging if part.record.kind == "VERTEX"])
    item = read_entity(tags)
    if not isinstance(item, Insert):
        return item
    attributes = {
        part.text(2).strip().upper(): lettering(part.text(1))[:200]
        for part in belonging
        if part.record.kind == "ATTRIB"
    }
    return Insert(item.block, item.placing, item.copies, attributes, item.source)


def _whole(value: object) -> int | None:
    try:
        return None if value is None else int(float(str(value)))
    except (ValueError, OverflowError):
        return None
