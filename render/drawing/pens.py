"""The one table of pens: layer, line width, colour and dash of every kind of mark.

Layers follow the US National CAD Standard (discipline, major group, minor group of four letters); minor
groups of our own stand where the standard has none. Line widths are of the ISO 128 series.
"""

from __future__ import annotations

from dataclasses import dataclass

from evencourse.layout.language.speech import noop


@dataclass(frozen=True)
class Pen:
    """A kind of mark.

    Attributes:
        name: what it draws.
        layer: CAD layer.
        width: line width [mm].
        colour: red, green, blue, 0 to 255.
        aci: DXF colour index of the layer, 7 = black or white.
        dash: dash and gap lengths [mm of paper]; empty for a continuous line.
        note: what is on the layer, in English: its description in a CAD file and in the documentation.
        off: the layer is off in a CAD file until someone turns it on.
    """

    name: str
    layer: str
    width: float
    colour: tuple[int, int, int] = (0, 0, 0)
    aci: int = 7
    dash: tuple[float, ...] = ()
    note: str = ""
    off: bool = False


INK = (32, 32, 32)
GREY = (90, 90, 90)  # lines of this a copier still takes
RULED = (100, 100, 100)  # a rule of 0.25 mm in this a copier still takes wherever it falls between its dots
PALE = (205, 205, 205)
GROUND = (236, 236, 232)
WHITE = (255, 255, 255)
ACT = (0, 84, 147)  # what the crew acts on: starter, flush; 40 % grey in a photocopy
LOOK = (176, 48, 16)  # what they must look at: sliver

OUTLINE = Pen("outline", "A-ELEV-OTLN", 0.7, note=noop("wall outline"))
OPENING = Pen("opening", "A-GLAZ", 0.5, note=noop("windows and vents: the hole"))
DOOR = Pen("door", "A-DOOR", 0.5, note=noop("doors and garage doors: the hole"))
TRIM = Pen("trim", "A-ELEV-TRIM", 0.35, note=noop("trim round openings, band boards, corner posts"))
SHADE = Pen("shade", "A-ELEV-TRIM", 0.35, note=noop("shadow under eave and head trim, sills"))
SASH = Pen("sash", "A-ELEV-SASH", 0.18, note=noop("frame and sash of windows, panels of doors"))
FIXTURE = Pen("fixture", "A-ELEV-FIXT", 0.25, note=noop("spigots, lights, meters, vents on the wall"))
FASCIA = Pen("fascia", "A-ELEV-EAVE", 0.35, note=noop("roof edge: fascia as drawn"))
ROOF = Pen("roof", "A-ELEV-ROOF", 0.5, note=noop("roofs, decks and ledgers against the wall"))
STARTER = Pen(
    "starter", "A-ELEV-STRT", 0.5, ACT, 5, (6.0, 1.2, 1.2, 1.2), note=noop("starter line and chalk line")
)
STARTER_THIN = Pen("starter thin", "A-ELEV-STRT", 0.18, ACT, 5, note=noop("starter line under a chalk line"))
DATUM = Pen("datum", "A-ELEV-DATM", 0.25, INK, 7, (8.0, 1.5, 1.5, 1.5), note=noop("datum"))
LEVEL_MARK = Pen("level mark", "A-ANNO-SYMB", 0.25, INK, 7, note=noop("level mark of the datum"))
BAND = Pen("band", "A-ELEV-BAND", 0.35, note=noop("butt lines where the exposure changes"))
BUILT = Pen("built", "A-ELEV-BILT", 0.5, note=noop("butt lines already installed, as measured"))
BUTT = Pen("butt", "A-ELEV-CRSE", 0.25, INK, 7, note=noop("butt lines"))
BUTT_FINE = Pen("butt fine", "A-ELEV-CRSE", 0.18, INK, 7, note=noop("butt lines of a wall with many courses"))
SHADOW = Pen("shadow", "A-ELEV-SHDW", 0.18, PALE, 9, note=noop("shadow under a butt line"))
FACE = Pen("face", "A-ELEV-FACE", 0.18, PALE, 9, note=noop("lines between the steps of one panel"))
SEAM = Pen("seam", "A-ELEV-SEAM", 0.25, note=noop("seams"))
PIECE_MARK = Pen("piece mark", "A-ELEV-PIDN", 0.25, INK, 7, note=noop("marks of pieces"))
PIECE_RUN = Pen(
    "piece run",
    "A-ELEV-PIDN",
    0.18,
    INK,
    7,
    note=noop("marks of pieces: from the first to the last of a run"),
)
PIECE = Pen("piece", "A-ELEV-PIEC", 0.18, GREY, 8, note=noop("outline of every piece (off)"), off=True)
PATTERN = Pen(
    "pattern", "A-ELEV-PATT", 0.18, PALE, 9, note=noop("hatching of the ground, parts of garage doors")
)
GRADE = Pen("grade", "A-ELEV-GRND", 0.5, note=noop("ground line"))
LADDER = Pen("ladder", "A-ANNO-LADR", 0.18, note=noop("height ladder"))
LADDER_HEAVY = Pen("ladder heavy", "A-ANNO-LADR", 0.5, note=noop("every fifth step of the height ladder"))
DIMENSION = Pen("dimension", "A-ANNO-DIMS", 0.18, note=noop("dimensions"))
TEXT = Pen("text", "A-ANNO-TEXT", 0.25, note=noop("lettering"))
NOTE = Pen("note", "A-ANNO-NOTE", 0.25, note=noop("edge column, rake layouts, cautions"))
LEADER = Pen("leader", "A-ANNO-LEDR", 0.25, GREY, 8, note=noop("leaders"))
FLUSH = Pen("flush", "A-ANNO-SIGN", 0.5, ACT, 5, note=noop("signs at edges"))
NOTCH = Pen("notch", "A-ANNO-SIGN", 0.35, note=noop("signs at edges: notch"))
SLIVER = Pen("sliver", "A-ANNO-SIGN", 0.5, LOOK, 1, note=noop("signs at edges: sliver"))
TITLE = Pen("title", "A-ANNO-TTLB", 0.5, note=noop("title block"))
BORDER = Pen("border", "A-ANNO-TTLB", 0.7, note=noop("border of a sheet"))
TITLE_THIN = Pen("title thin", "A-ANNO-TTLB", 0.18, note=noop("thin rules of the title block"))
ROW_RULE = Pen("row rule", "A-ANNO-TTLB", 0.25, RULED, note=noop("rules between the rows of lists"))
SCALE = Pen("scale", "A-ANNO-SCAL", 0.25, note=noop("graphic scale, check bar"))
GREY_RULE = Pen(
    "match line", "A-ANNO-MATC", 0.5, GREY, 8, (10.0, 2.0, 2.0, 2.0, 2.0, 2.0), noop("match lines")
)
POLE = Pen("pole", "A-ANNO-LADR", 0.35, note=noop("story pole: butt lines, edges of the strip"))
POLE_HEAVY = Pen(
    "pole heavy", "A-ANNO-LADR", 0.7, note=noop("story pole: every fifth butt line, foot and top")
)
POLE_CUT = Pen(
    "pole cut", "A-ANNO-LADR", 0.25, INK, 7, (2.0, 1.0), note=noop("story pole: edges off the lines")
)
SECOND = Pen("second", "A-ANNO-LANG", 0.25, GREY, 8, note=noop("the second language"))
TEMPLATE = Pen("template", "A-ANNO-NOTE", 0.35, note=noop("full-size template: its straight edges"))
TEMPLATE_CUT = Pen("template cut", "A-ANNO-NOTE", 0.7, ACT, 5, note=noop("full-size template: the cut"))
INK_FILL = Pen("ink fill", "A-ANNO-SCAL", 0.25, note=noop("filled parts of the graphic scale"))
PAPER = Pen("paper", "A-ANNO-PATT", 0.18, WHITE, 255, note=noop("knocked-out ground"))
NO_PLOT = Pen(
    "not plotted",
    "A-ANNO-NPLT",
    0.18,
    GREY,
    8,
    note=noop("frames of viewports, origins of faces (not plotted)"),
)
GLASS = Pen("glass", "A-GLAZ-PATT", 0.18, GROUND, 254, note=noop("fill of openings"))
DETAIL = Pen("detail", "A-DETL-MCUT", 0.25, note=noop("details: what the section cuts"))
DETAIL_HEAVY = Pen(
    "detail heavy", "A-DETL-MCUT", 0.5, note=noop("details: trim and frames that the section cuts")
)
DETAIL_ACT = Pen(
    "detail act", "A-DETL-MCUT", 0.25, ACT, 5, note=noop("details: furring and strips to fix first")
)
DETAIL_BEYOND = Pen(
    "detail beyond", "A-DETL-MBND", 0.18, note=noop("details: what stands behind the section")
)
DETAIL_OFF = Pen(
    "detail off",
    "A-DETL-MBND",
    0.25,
    INK,
    7,
    (2.0, 1.0),
    note=noop("details: what comes off, weather barrier"),
)
DETAIL_HATCH = Pen("detail hatch", "A-DETL-PATT", 0.18, note=noop("details: hatching"))
DETAIL_MARK = Pen("detail mark", "A-ANNO-DETL", 0.35, note=noop("numbers of details at the edges"))

PENS: dict[str, Pen] = {pen.name: pen for pen in list(globals().values()) if isinstance(pen, Pen)}
