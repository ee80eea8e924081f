"""The job file's tables and keys: one declarative list that drives reading and every message about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencourse.layout.language.speech import LANGUAGES
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
        doc: what it means, in one line.
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
        Key("job", "table", "the job", True, items="job"),
        Key("cladding", "table", "one cladding for the whole job", items="cladding"),
        Key("claddings", "table", "several claddings by name", items="cladding"),
        Key("limits", "table", "what the course lines must keep to", items="limits"),
        Key("trim", "table", "width of trim outside openings", items="trim"),
        Key("framing", "table", "studs behind the wall", items="framing"),
        Key("seams", "table", "limits on seams", items="seams"),
        Key("order", "table", "what the order adds and costs", items="order"),
        Key("openings", "file", "a CSV file of openings, one a row, with a column elevation"),
        Key("elevation", "tables", "one face of the building", True, items="elevation"),
        Key("as_built", "table", "what is already installed, and what was measured again", items="as_built"),
    ),
    "job": (
        Key("name", "text", "the job's name", True),
        Key("units", "word", "units of bare numbers and of the plan", words=("in", "mm"), default="in"),
        Key("round", "size", "the finest mark used on the tape"),
        Key("datum", "text", "the datum in words", default=DATUM),
        Key("author", "text", "who measured", default=""),
        Key("temperature", "temperature", "temperature at installation"),
        Key("model_datum", "length", "height of the datum in a building model"),
        Key("language", "word", "language of sheets, page and lists", words=tuple(LANGUAGES)),
        Key("crew_languages", "names", "languages that the cautions are in as well", words=tuple(LANGUAGES)),
    ),
    "cladding": (
        Key("profile", "text", "a shipped profile", True),
        Key("label", "text", "the profile in words"),
        Key("material", "text", "vinyl, steel, aluminium, wood or fiber cement"),
        Key("source", "text", "where the values come from"),
        Key("family", "word", "how the siding goes on", words=FAMILIES),
        *(Key(name, "amount", words) for name, words in LENGTHS.items()),
        Key("lap", "amount", "least lap of boards"),
        Key("faces", "count", "steps molded into one panel; a double 4 has two"),
        Key("carton", "count", "pieces in a carton"),
        Key("carton_squares", "number", "squares that a carton covers"),
        Key("cold", "number", "degrees F at or below which the cold end gap holds"),
    ),
    "limits": (
        Key("starter", "range", "limits of butt line 1, the starter line"),
        Key("tolerance", "amount", "flush within this", rule="limits.tolerance"),
        Key("strip_min", "amount", "a thinner strip is a sliver", rule="limits.strip_min"),
        Key("jump", "amount", "greatest change of exposure between neighboring courses", rule="limits.jump"),
    ),
    "trim": (
        Key("head", "amount", "width of the trim over an opening", rule="trim.head"),
        Key("sill", "amount", "width of the trim below it", rule="trim.sill"),
        Key("side", "amount", "width of the trim beside it", rule="trim.side"),
        Key(
            "outside_corner",
            "amount",
            "siding ends so far inside an outside corner",
            rule="trim.outside_corner",
        ),
        Key(
            "inside_corner", "amount", "siding ends so far inside an inside corner", rule="trim.inside_corner"
        ),
    ),
    "framing": (
        Key("spacing", "size", "studs, center to center", rule="framing.spacing"),
        Key("offset", "length", "left corner to the center of the first stud", rule="framing.offset"),
    ),
    "seams": (
        Key("shortest", "amount", "shortest piece worth installing", rule="seams.shortest"),
        Key("apart", "amount", "seams of neighboring courses apart", rule="seams.apart"),
    ),
    "order": (
        Key("spare", "share", "extra added to every quantity, as a share", default=0.0),
        Key("currency", "text", "shown before prices", default=""),
        Key("prices", "prices", "price by item"),
        Key("lengths", "lengths", "stock length by kind of trim"),
        Key("heap", "count", "most cutoffs kept at once", default=8),
        Key("faces", "names", "names of faces in order of installation; the others follow"),
    ),
    "elevation": (
        Key("name", "text", "the face's name", True),
        Key("width", "size", "width of the wall"),
        Key("base", "heights", "height of the wall's base"),
        Key("eave", "heights", "height of the eave"),
        Key("gable", "table", "a gable on the eave", items="gable"),
        Key("outline", "points", "the wall's corners, counter-clockwise"),
        Key("left", "word", "what the siding ends against on the left", words=CORNERS, default=CORNERS[0]),
        Key("right", "word", "what the siding ends against on the right", words=CORNERS, default=CORNERS[0]),
        Key("grade", "ground", "the ground: one height, [left, right], or points as [x, height]"),
        Key(
            "turn",
            "word",
            "way the walk turns at its right corner; else as the corner says. A dormer is not in the walk",
            words=TURNS,
        ),
        Key("weight", "number", "how much this face matters", default=1.0),
        Key("courses", "text", "faces with the same name share their course lines", default="main"),
        Key("cladding", "text", "the cladding when there are several and no zones"),
        Key("entrance", "length", "x that seams face away from"),
        Key("on_plan", "line", "its left and right end on the plan of a building model, as [x, y]"),
        Key("openings", "file", "a CSV file of the face's openings, one a row"),
        Key("opening", "tables", "a window, a door, a vent", items="opening"),
        Key("fixture", "tables", "a thing on the wall", items="fixture"),
        Key("roof", "tables", "a roof, a deck or a ledger against the wall", items="roof"),
        Key("zone", "tables", "one cladding's part of the wall", items="zone"),
    ),
    "gable": (
        Key("pitch", "pitch", "rise over 12, as 6/12"),
        Key("peak", "length", "height of the peak"),
        Key("at", "length", "x of the peak"),
    ),
    "opening": (
        Key("mark", "text", "the opening's mark", True),
        Key("kind", "word", "what it is", words=KINDS, default=KINDS[0]),
        Key("left", "length", "from the left corner to the opening"),
        Key("right", "length", "from the right corner to the opening"),
        Key("sill", "length", "height of its bottom; a door may leave it out: the highest base under it"),
        Key("width", "size", "its width", True),
        Key("height", "size", "its height"),
        Key("head_edge", "word", "how much a flush head matters", words=IMPORTANCE, default="want"),
        Key("sill_edge", "word", "how much a flush sill matters", words=IMPORTANCE, default="want"),
        Key("shape", "word", "its outline", words=SHAPES, default=SHAPES[0]),
        Key("rise", "size", "rise of an arch above its springing"),
        Key("trim", "table", "its own trim", items="opening trim"),
    ),
    "opening trim": (
        Key("head", "amount", "width of the trim over it; the job's when left out"),
        Key("sill", "amount", "width of the trim below it; the job's when left out"),
        Key("side", "amount", "width of the trim beside it; the job's when left out"),
    ),
    "fixture": (
        Key("mark", "text", "the fixture's mark", True),
        Key("left", "length", "from the left corner to the fixture", True),
        Key("bottom", "length", "height of its bottom", True),
        Key("width", "size", "its width", True),
        Key("height", "size", "its height", True),
        Key("block", "flag", "a mounting block carries it", default=True),
    ),
    "roof": (
        Key("mark", "text", "the roof's mark", True),
        Key("kind", "word", "what it is", words=ROOFS, default=ROOFS[0]),
        Key("line", "line", "its top on the wall, from left to right, as [x, height]", True),
        Key("depth", "size", "plumb from that line down; below it siding goes on", True),
    ),
    "zone": (
        Key("cladding", "text", "the zone's cladding", True),
        Key("top", "length", "height where it ends; the last zone has none"),
        Key("trim", "amount", "height of the band board on that line", default=0.0),
        Key("starter", "range", "limits of its first butt line"),
        Key("courses", "text", "name of its course set"),
    ),
    "as_built": (
        Key("course", "tables", "a butt line that is installed", items="built course"),
        Key("opening", "tables", "an opening found elsewhere", items="found opening"),
    ),
    "built course": (
        Key("face", "text", "the face it was measured on; all that share the courses when left out"),
        Key("courses", "text", "the course set; that of the face's lowest zone when left out"),
        Key("course", "count", "number of the course whose bottom it is, from 1", True),
        Key("left", "length", "its height at the left corner", True),
        Key("right", "length", "its height at the right corner", True),
    ),
    "found opening": (
        Key("face", "text", "the face it is on", True),
        Key("mark", "text", "the opening's mark", True),
        Key("left", "length", "from the left corner to the opening, as found"),
        Key("right", "length", "from the right corner to the opening, as found"),
        Key("sill", "length", "height of its bottom, as found"),
        Key("width", "size", "its width, as found"),
        Key("height", "size", "its height, as found"),
    ),
}
#: The table of what hangs already, and those in it.
BUILT = ("as_built", "built course", "found opening")
#: Columns of a CSV file of openings: the keys of an opening; those of its trim after ``trim_``.
COLUMNS = (
    *(key.name for key in TABLES["opening"] if key.kind != "table"),
    *(f"trim_{key.name}" for key in TABLES["opening trim"]),
)
