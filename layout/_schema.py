"""The job file's tables and keys: one declarative list that drives reading and every message about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from layout.cladding import FAMILIES
from layout.claddings import LENGTHS

Kind = Literal[
    "text", "number", "count", "share", "flag", "word", "length", "size", "heights", "range", "pitch",
    "temperature", "points", "table", "tables",
]  # fmt: skip


@dataclass(frozen=True)
class Key:
    """One key of a table.

    Attributes:
        name: as written.
        kind: what its value is. ``size`` is a length above zero, ``heights`` one height or [left, right],
            ``range`` [lowest, highest].
        doc: what it means, in one line.
        required: whether it must be there.
        words: allowed words of a ``word``.
    """

    name: str
    kind: Kind
    doc: str
    required: bool = False
    words: tuple[str, ...] = ()


IMPORTANCE = ("must", "want", "ignore")
KINDS = ("window", "door", "garage door", "vent", "other")
SHAPES = ("rectangle", "round", "half-round", "arch", "triangle")
CORNERS = ("outside corner", "inside corner", "butts")

TRIM = (
    Key("head", "length", "width of the trim over an opening"),
    Key("sill", "length", "width of the trim below it"),
    Key("side", "length", "width of the trim beside it"),
)
TABLES: dict[str, tuple[Key, ...]] = {
    "": (
        Key("job", "table", "the job", True),
        Key("cladding", "table", "one cladding for the whole job"),
        Key("claddings", "table", "several claddings by name"),
        Key("limits", "table", "what the course lines must keep to"),
        Key("trim", "table", "width of trim outside openings"),
        Key("framing", "table", "studs behind the wall"),
        Key("seams", "table", "limits on seams"),
        Key("order", "table", "what the order adds and costs"),
        Key("elevation", "tables", "one face of the building", True),
    ),
    "job": (
        Key("name", "text", "the job's name", True),
        Key("units", "word", "units of bare numbers and of the plan", words=("in", "mm")),
        Key("round", "size", "the finest mark used on the tape"),
        Key("datum", "text", "the datum in words"),
        Key("author", "text", "who measured"),
        Key("temperature", "temperature", "temperature at installation"),
    ),
    "cladding": (
        Key("profile", "text", "a shipped profile", True),
        Key("label", "text", "the profile in words"),
        Key("material", "text", "vinyl, steel, aluminium, wood or fiber cement"),
        Key("source", "text", "where the values come from"),
        Key("family", "word", "how the siding goes on", words=FAMILIES),
        *(Key(name, "length", f"the cladding's {name.replace('_', ' ')}") for name in LENGTHS),
        Key("lap", "length", "least lap of boards"),
        Key("faces", "count", "faces moulded into one panel"),
        Key("carton", "count", "pieces in a carton"),
        Key("carton_squares", "number", "squares that a carton covers"),
        Key("cold", "number", "degrees F at or below which the cold end gap holds"),
    ),
    "limits": (
        Key("starter", "range", "where the first butt line may lie"),
        Key("tolerance", "length", "flush within this"),
        Key("strip_min", "length", "a thinner strip is a sliver"),
        Key("jump", "length", "greatest change of exposure between neighbouring courses"),
    ),
    "trim": TRIM,
    "framing": (
        Key("spacing", "size", "studs, centre to centre"),
        Key("offset", "length", "left corner to the centre of the first stud"),
    ),
    "seams": (
        Key("shortest", "length", "shortest piece worth hanging"),
        Key("apart", "length", "seams of neighbouring courses apart"),
    ),
    "order": (
        Key("spare", "share", "share added to every quantity"),
        Key("currency", "text", "shown before prices"),
        Key("prices", "table", "price by item"),
        Key("lengths", "table", "stock length by kind of trim"),
    ),
    "elevation": (
        Key("name", "text", "the face's name", True),
        Key("width", "size", "width of the wall"),
        Key("base", "heights", "height of the wall's base"),
        Key("eave", "heights", "height of the eave"),
        Key("gable", "table", "a gable on the eave"),
        Key("outline", "points", "the wall's corners, counter-clockwise"),
        Key("left", "word", "what the siding ends against on the left", words=CORNERS),
        Key("right", "word", "what the siding ends against on the right", words=CORNERS),
        Key("grade", "heights", "height of the ground, left and right"),
        Key("weight", "number", "how much this face matters"),
        Key("courses", "text", "faces with the same name share their course lines"),
        Key("cladding", "text", "the cladding when there are several and no zones"),
        Key("entrance", "length", "x that seams face away from"),
        Key("opening", "tables", "a window, a door, a vent"),
        Key("fixture", "tables", "a thing on the wall"),
        Key("zone", "tables", "one cladding's part of the wall"),
    ),
    "gable": (
        Key("pitch", "pitch", "rise over 12, as 6/12"),
        Key("peak", "length", "height of the peak"),
        Key("at", "length", "x of the peak"),
    ),
    "opening": (
        Key("mark", "text", "the opening's mark", True),
        Key("kind", "word", "what it is", words=KINDS),
        Key("left", "length", "from the left corner to the opening"),
        Key("right", "length", "from the right corner to the opening"),
        Key("sill", "length", "height of its bottom; a door may leave it out"),
        Key("width", "size", "its width", True),
        Key("height", "size", "its height"),
        Key("head_edge", "word", "how much a flush head matters", words=IMPORTANCE),
        Key("sill_edge", "word", "how much a flush sill matters", words=IMPORTANCE),
        Key("shape", "word", "its outline", words=SHAPES),
        Key("rise", "size", "rise of an arch above its springing"),
        Key("trim", "table", "its own trim"),
    ),
    "opening trim": TRIM,
    "fixture": (
        Key("mark", "text", "the fixture's mark", True),
        Key("left", "length", "from the left corner to the fixture", True),
        Key("bottom", "length", "height of its bottom", True),
        Key("width", "size", "its width", True),
        Key("height", "size", "its height", True),
        Key("block", "flag", "a mounting block carries it"),
    ),
    "zone": (
        Key("cladding", "text", "the zone's cladding", True),
        Key("top", "length", "height where it ends; the last zone has none"),
        Key("trim", "length", "height of the band board on that line"),
        Key("starter", "range", "where its first butt line may lie"),
        Key("courses", "text", "name of its course set"),
    ),
}
