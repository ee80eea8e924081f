"""The job file's tables and keys: one declarative list that drives reading and every message about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencourse.layout.language.speech import LANGUAGES, noop
from evencourse.layout.model.cladding import FAMILIES
from evencourse.layout.model.job import DATUM
from evencourse.layout.trade.profiles import LENGTHS

Kind = Literal[
    "text", "number", "count", "share", "flag", "word", "length", "amount", "size", "heights", "range",
    "pitch", "temperature", "points", "ground", "line", "file", "prices", "lengths", "names", "table",
    "tables",
]  # fmt: skip


@dataclass(frozen=True)
class Key:
    """One key of a table.

    Attributes:
        name: as written.
        kind: what its value is. ``amount`` is a length that is not negative, ``size`` one above zero,
            ``heights`` one height or [left, right], ``ground`` that or a list of points, ``line``
            such a list alone, ``range`` [lowest, highest].
        doc: what it means, in one line, in English: ``gettext`` says it.
        required: whether it must be there.
        words: allowed words of a ``word``, or of each of ``names``.
        default: what holds when it is left out or cannot be read; None: nothing, or what the code says.
        rule: the same as ``table.key`` of the rules [inches there]; "" without.
        items: name of the schema of a table, or of each of several.
    """

    name: str
    kind: Kind
    doc: str
    required: bool = False
    words: tuple[str, ...] = ()
    default: str | float | bool | None = None
    rule: str = ""
    items: str = ""


IMPORTANCE = ("must", "want", "ignore")
KINDS = ("window", "door", "garage door", "vent", "other")
SHAPES = ("rectangle", "round", "half-round", "arch", "triangle")
CORNERS = ("outside corner", "inside corner", "butts")
TURNS = ("left", "right", "straight", "not in walk")
ROOFS = ("roof", "deck", "ledger")

TABLES: dict[str, tuple[Key, ...]] = {
    "": (
        Key("job", "table", noop("the job"), True, items="job"),
        Key("cladding", "table", noop("one cladding for the whole job"), items="cladding"),
        Key("claddings", "table", noop("several claddings by name"), items="cladding"),
        Key("limits", "table", noop("what the course lines must keep to"), items="limits"),
        Key("trim", "table", noop("width of trim outside openings"), items="trim"),
        Key("framing", "table", noop("studs behind the wall"), items="framing"),
        Key("seams", "table", noop("limits on seams"), items="seams"),
        Key("order", "table", noop("what the order adds and costs"), items="order"),
        Key("openings", "file", noop("a CSV file of openings, one a row, with a column elevation")),
        Key("elevation", "tables", noop("one face of the building"), True, items="elevation"),
        Key(
            "as_built",
            "table",
            noop("what is already installed, and what was measured again"),
            items="as_built",
        ),
    ),
    "job": (
        Key("name", "text", noop("the job's name"), True),
        Key("units", "word", noop("units of bare numbers and of the plan"), words=("in", "mm"), default="in"),
        Key("round", "size", noop("the finest mark used on the tape")),
        Key("datum", "text", noop("the datum in words"), default=DATUM),
        Key("author", "text", noop("who measured"), default=""),
        Key("temperature", "temperature", noop("temperature at installation")),
        Key("model_datum", "length", noop("height of the datum in a building model")),
        Key("language", "word", noop("language of sheets, page and lists"), words=tuple(LANGUAGES)),
        Key(
            "crew_languages",
            "names",
            noop("languages that the cautions are in as well"),
            words=tuple(LANGUAGES),
        ),
    ),
    "cladding": (
        Key("profile", "text", noop("a shipped profile"), True),
        Key("label", "text", noop("the profile in words")),
        Key("material", "text", noop("vinyl, steel, aluminium, wood or fiber cement")),
        Key("source", "text", noop("where the values come from")),
        Key("family", "word", noop("how the siding goes on"), words=FAMILIES),
        *(Key(name, "amount", words) for name, words in LENGTHS.items()),
        Key("lap", "amount", noop("least lap of boards")),
        Key("faces", "count", noop("steps molded into one panel; a double 4 has two")),
        Key("carton", "count", noop("pieces in a carton")),
        Key("carton_squares", "number", noop("squares that a carton covers")),
        Key("cold", "number", noop("degrees F at or below which the cold end gap holds")),
    ),
    "limits": (
        Key("starter", "range", noop("limits of butt line 1, the starter line")),
        Key("tolerance", "amount", noop("flush within this"), rule="limits.tolerance"),
        Key("strip_min", "amount", noop("a thinner strip is a sliver"), rule="limits.strip_min"),
        Key(
            "jump",
            "amount",
            noop("greatest change of exposure between neighboring courses"),
            rule="limits.jump",
        ),
    ),
    "trim": (
        Key("head", "amount", noop("width of the trim over an opening"), rule="trim.head"),
        Key("sill", "amount", noop("width of the trim below it"), rule="trim.sill"),
        Key("side", "amount", noop("width of the trim beside it"), rule="trim.side"),
        Key(
            "outside_corner",
            "amount",
            noop("siding ends so far inside an outside corner"),
            rule="trim.outside_corner",
        ),
        Key(
            "inside_corner",
            "amount",
            noop("siding ends so far inside an inside corner"),
            rule="trim.inside_corner",
        ),
    ),
    "framing": (
        Key("spacing", "size", noop("studs, center to center"), rule="framing.spacing"),
        Key("offset", "length", noop("left corner to the center of the first stud"), rule="framing.offset"),
    ),
    "seams": (
        Key("shortest", "amount", noop("shortest piece worth installing"), rule="seams.shortest"),
        Key("apart", "amount", noop("seams of neighboring courses apart"), rule="seams.apart"),
    ),
    "order": (
        Key("spare", "share", noop("extra added to every quantity, as a share"), default=0.0),
        Key("currency", "text", noop("shown before prices"), default=""),
        Key("prices", "prices", noop("price by item")),
        Key("lengths", "lengths", noop("stock length by kind of trim")),
        Key("heap", "count", noop("most cutoffs kept at once"), default=8),
        Key("faces", "names", noop("names of faces in order of installation; the others follow")),
    ),
    "elevation": (
        Key("name", "text", noop("the face's name"), True),
        Key("width", "size", noop("width of the wall")),
        Key("base", "heights", noop("height of the wall's base")),
        Key("eave", "heights", noop("height of the eave")),
        Key("gable", "table", noop("a gable on the eave"), items="gable"),
        Key("outline", "points", noop("the wall's corners, counter-clockwise")),
        Key(
            "left",
            "word",
            noop("what the siding ends against on the left"),
            words=CORNERS,
            default=CORNERS[0],
        ),
        Key(
            "right",
            "word",
            noop("what the siding ends against on the right"),
            words=CORNERS,
            default=CORNERS[0],
        ),
        Key("grade", "ground", noop("the ground: one height, [left, right], or points as [x, height]")),
        Key(
            "turn",
            "word",
            noop(
                "way the walk turns at its right corner; else as the corner says. A dormer is not in the walk"
            ),
            words=TURNS,
        ),
        Key("weight", "number", noop("how much this face matters"), default=1.0),
        Key("courses", "text", noop("faces with the same name share their course lines"), default="main"),
        Key("cladding", "text", noop("the cladding when there are several and no zones")),
        Key("entrance", "length", noop("x that seams face away from")),
        Key("on_plan", "line", noop("its left and right end on the plan of a building model, as [x, y]")),
        Key("openings", "file", noop("a CSV file of the face's openings, one a row")),
        Key("opening", "tables", noop("a window, a door, a vent"), items="opening"),
        Key("fixture", "tables", noop("a thing on the wall"), items="fixture"),
        Key("roof", "tables", noop("a roof, a deck or a ledger against the wall"), items="roof"),
        Key("zone", "tables", noop("one cladding's part of the wall"), items="zone"),
    ),
    "gable": (
        Key("pitch", "pitch", noop("rise over 12, as 6/12")),
        Key("peak", "length", noop("height of the peak")),
        Key("at", "length", noop("x of the peak")),
    ),
    "opening": (
        Key("mark", "text", noop("the opening's mark"), True),
        Key("kind", "word", noop("what it is"), words=KINDS, default=KINDS[0]),
        Key("left", "length", noop("from the left corner to the opening")),
        Key("right", "length", noop("from the right corner to the opening")),
        Key(
            "sill", "length", noop("height of its bottom; a door may leave it out: the highest base under it")
        ),
        Key("width", "size", noop("its width"), True),
        Key("height", "size", noop("its height")),
        Key("head_edge", "word", noop("how much a flush head matters"), words=IMPORTANCE, default="want"),
        Key("sill_edge", "word", noop("how much a flush sill matters"), words=IMPORTANCE, default="want"),
        Key("shape", "word", noop("its outline"), words=SHAPES, default=SHAPES[0]),
        Key("rise", "size", noop("rise of an arch above its springing")),
        Key("trim", "table", noop("its own trim"), items="opening trim"),
    ),
    "opening trim": (
        Key("head", "amount", noop("width of the trim over it; the job's when left out")),
        Key("sill", "amount", noop("width of the trim below it; the job's when left out")),
        Key("side", "amount", noop("width of the trim beside it; the job's when left out")),
    ),
    "fixture": (
        Key("mark", "text", noop("the fixture's mark"), True),
        Key("left", "length", noop("from the left corner to the fixture"), True),
        Key("bottom", "length", noop("height of its bottom"), True),
        Key("width", "size", noop("its width"), True),
        Key("height", "size", noop("its height"), True),
        Key("block", "flag", noop("a mounting block carries it"), default=True),
    ),
    "roof": (
        Key("mark", "text", noop("the roof's mark"), True),
        Key("kind", "word", noop("what it is"), words=ROOFS, default=ROOFS[0]),
        Key("line", "line", noop("its top on the wall, from left to right, as [x, height]"), True),
        Key("depth", "size", noop("plumb from that line down; below it siding goes on"), True),
    ),
    "zone": (
        Key("cladding", "text", noop("the zone's cladding"), True),
        Key("top", "length", noop("height where it ends; the last zone has none")),
        Key("trim", "amount", noop("height of the band board on that line"), default=0.0),
        Key("starter", "range", noop("limits of its first butt line")),
        Key("courses", "text", noop("name of its course set")),
    ),
    "as_built": (
        Key("course", "tables", noop("a butt line that is installed"), items="built course"),
        Key("opening", "tables", noop("an opening found elsewhere"), items="found opening"),
    ),
    "built course": (
        Key("face", "text", noop("the face it was measured on; all that share the courses when left out")),
        Key("courses", "text", noop("the course set; that of the face's lowest zone when left out")),
        Key("course", "count", noop("number of the course whose bottom it is, from 1"), True),
        Key("left", "length", noop("its height at the left corner"), True),
        Key("right", "length", noop("its height at the right corner"), True),
    ),
    "found opening": (
        Key("face", "text", noop("the face it is on"), True),
        Key("mark", "text", noop("the opening's mark"), True),
        Key("left", "length", noop("from the left corner to the opening, as found")),
        Key("right", "length", noop("from the right corner to the opening, as found")),
        Key("sill", "length", noop("height of its bottom, as found")),
        Key("width", "size", noop("its width, as found")),
        Key("height", "size", noop("its height, as found")),
    ),
}
#: The table of what hangs already, and those in it.
BUILT = ("as_built", "built course", "found opening")
#: Columns of a CSV file of openings: the keys of an opening; those of its trim after ``trim_``.
COLUMNS = (
    *(key.name for key in TABLES["opening"] if key.kind != "table"),
    *(f"trim_{key.name}" for key in TABLES["opening trim"]),
)
