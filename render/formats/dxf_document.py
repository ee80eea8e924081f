"""An empty DXF document with what drawings need: units, layers, line types, text and dimension styles."""

from __future__ import annotations

import io
from collections.abc import Mapping
from typing import Any

from evencourse.layout.dxf.cad_library import load_cad
from evencourse.layout.language.speech import decimals, gettext
from evencourse.layout.model.tolerance import ROUNDING
from evencourse.render.drawing.flatten import ARROW, DOT, OVERSHOOT, TEXT_GAP, TICK
from evencourse.render.drawing.font_files import FAMILY, Weight, font_path
from evencourse.render.drawing.pens import NO_PLOT, PENS, Pen
from evencourse.render.formats.cad_set import CadSet, Version
from evencourse.render.formats.dxf_tape import DimensionTape
from evencourse.render.formats.dxf_text import name, plain

#: Name under which extended data stands.
APPID = "EVENCOURSE"
#: The record that holds the job file: its key among the document's, its first line, and the longest text
#: that any program keeps in one [characters].
RECORD_KEY, RECORD, _CHUNK = "EVENCOURSE_JOB", "evencourse job file", 240
#: Text styles: STANDARD is in every DXF file.
STYLE, BOLD_STYLE = "Standard", "Bold"
STYLES: dict[str, Weight] = {STYLE: "regular", BOLD_STYLE: "bold"}

#: Line weights that DXF knows [hundredths of a millimetre] (DXF reference, group code 370).
_LINE_WEIGHTS = (5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200)
_BY_BLOCK, _CANVAS = 0, 1
#: What is the same in every dimension style (DXF reference, DIMSTYLE): text over the line and along it, no
#: leading zero feet, fractions on one level with the inches, colours and line weights of the layer.
_DIM_LOOK = {
    "dimtad": 1,
    "dimtih": 0,
    "dimtoh": 0,
    "dimzin": 3,
    "dimfrac": 2,
    "dimclrd": _BY_BLOCK,
    "dimclre": _BY_BLOCK,
    "dimclrt": _BY_BLOCK,
    "dimlwd": -2,
    "dimlwe": -2,
}
#: No clock in an output: Julian day of 1 January 2000, which every program reads.
_NO_DATE = 2451545.0
_NO_GUID = "{00000000-0000-0000-0000-000000000000}"
#: Half, whole and double length of a pattern, from the shortest.
_SUFFIXES = {2: ("2", ""), 3: ("2", "", "X2")}


def line_weight(width: float) -> int:
    """The nearest line weight that DXF knows.

    Args:
        width: line width [mm].

    Returns:
        Hundredths of a millimetre.
    """
    return min(_LINE_WEIGHTS, key=lambda weight: abs(weight - width * 100))


class NewDxf:
    """A DXF document in the making.

    Attributes:
        doc: ezdxf's document.
        modern: the version knows masked lettering and document properties.
        unit: millimetres in one of its units, in model space as in paper space.
        tape: how its dimensions show lengths.
        layers: the first pen of each layer, which the layer takes its looks from.
        line_scale: what patterns in millimetres are scaled with all over the document.
    """

    def __init__(self, cad: CadSet, version: Version) -> None:
        load_cad()
        from ezdxf.filemanagement import new

        self.doc: Any = new(version, setup=False)
        self.modern = version != "R2000"
        self.metric = cad.units == "mm"
        self.unit = cad.unit
        self.tape = DimensionTape(cad.units, cad.mark or (1.0 if self.metric else 1 / 16))
        self.line_scale = 1 / cad.models[0].factor
        self.layers: dict[str, Pen] = {}
        self._linetypes: dict[tuple[float, ...], str] = {}
        self._dim_styles: set[str] = set()
        self._blocks: set[str] = set()
        self._header()
        self._styles()
        self._add_linetypes({pen.dash for pen in PENS.values()})
        used = {pen.layer for pen in cad.pens()}
        for pen in PENS.values():
            if pen.layer in used and pen.layer not in self.layers:
                self._add_layer(pen)
        self.doc.layers.get(NO_PLOT.layer).dxf.plot = 0
        self.doc.appids.new(APPID)

    def _header(self) -> None:
        header = self.doc.header
        header["$INSUNITS"] = 4 if self.metric else 1
        header["$MEASUREMENT"] = int(self.metric)
        header["$LUNITS"] = 2 if self.metric else 4  # decimal or architectural
        header["$LUPREC"] = self.tape.style["dimdec"]
        header["$LTSCALE"] = self.line_scale
        header["$PSLTSCALE"] = 0  # dashes shrink with what a viewport shows: they are to scale in model space
        header["$LWDISPLAY"] = 1
        header["$ATTMODE"] = 1

    def _styles(self) -> None:
        """The sheets' own font: by its file, and by its family for programs that look for that."""
        for style, weight in STYLES.items():
            found = self.doc.styles.get(style) if style == STYLE else self.doc.styles.new(style)
            found.dxf.font = font_path(weight).name
            found.set_extended_font_data(FAMILY, bold=weight == "bold")

    def _add_linetypes(self, dashes: set[tuple[float, ...]]) -> None:
        """Line types under the names that CAD programs know a like pattern by."""
        families: dict[str, list[tuple[float, ...]]] = {}
        for dash in sorted(dashes, key=lambda dash: (sum(dash), dash)):
            if dash:
                families.setdefault("DASHED" if len(dash) <= 2 else "CENTER", []).append(dash)
        for family, patterns in families.items():
            words = ["", *(f"_{number}" for number in range(2, len(patterns) + 1))]
            if len(patterns) in _SUFFIXES:
                words = [*_SUFFIXES[len(patterns)]]
            for suffix, dash in zip(words, patterns, strict=True):
                strokes = [part if place % 2 == 0 else -part for place, part in enumerate(dash)]
                lengths = decimals(" ".join(f"{part:g}" for part in dash))
                text = gettext("{lengths} mm of paper", lengths=lengths)
                word = family + suffix
                self.doc.linetypes.add(word, [sum(dash), *strokes], description=text)
                self._linetypes[dash] = word

    def carry(self, job: str) -> None:
        """Put a job file into the document: a record of its lines, which ``evencourse import`` reads."""
        tags = [(1, RECORD)]
        for line in job.splitlines():
            parts = [line[at : at + _CHUNK] for at in range(0, len(line), _CHUNK)]
            tags += [(3 if at else 1, part) for at, part in enumerate(parts)]
        self.doc.rootdict.add_xrecord(RECORD_KEY).reset(tags)

    def linetype(self, pen: Pen) -> str:
        """Name of the pen's line type."""
        return self._linetypes[pen.dash] if pen.dash else "Continuous"

    def _add_layer(self, pen: Pen) -> None:
        """A layer by the index of its colour: a plot style table leaves true colours as they are."""
        layer = self.doc.layers.new(pen.layer, dxfattribs={"color": pen.aci, "linetype": self.linetype(pen)})
        layer.dxf.lineweight = line_weight(pen.width)
        layer.description = plain(gettext(pen.note))
        if pen.off:
            layer.off()
        self.layers[pen.layer] = pen

    def look(self, pen: Pen, mm: float) -> dict[str, Any]:
        """Layer of a mark, and what it does not take from that layer.

        Args:
            pen: of the mark.
            mm: units of its space in one millimetre of paper.
        """
        first = self.layers[pen.layer]
        look: dict[str, Any] = {"layer": pen.layer}
        if pen.dash and abs(mm / self.line_scale - 1) > ROUNDING:
            look["ltscale"] = mm / self.line_scale
        if pen is first:
            return look
        if pen.width != first.width:
            look["lineweight"] = line_weight(pen.width)
        if pen.aci != first.aci:
            look["color"] = pen.aci
        if pen.dash != first.dash:
            look["linetype"] = self.linetype(pen)
        return look

    def block_name(self, wanted: str) -> str:
        """A block name that is still free."""
        word = name(wanted, self._blocks, "block")
        self._blocks.add(word.lower())
        return word

    def dim_style(self, mm: float, height: float, head: str = "none", length_factor: float = 1.0) -> str:
        """The dimension style for lettering of one height at one scale, made on first use.

        Args:
            mm: units of its space in one millimetre of paper.
            height: lettering [mm of paper].
            head: of leaders: ``none``, ``dot`` or ``arrow``.
            length_factor: what a measured length is multiplied with to give the job's units.
        """
        scale = mm * self.unit
        parts = [f"{scale:.6g}", f"{height:g}mm", *([f"x{length_factor:.6g}"] if length_factor != 1 else [])]
        word = "-".join(["EC", *parts, *([head] if head != "none" else [])]).replace(".", "_").upper()
        if word in self._dim_styles:
            return word
        attributes = {
            **_DIM_LOOK,
            "dimscale": scale,
            "dimtxt": height / self.unit,
            "dimtxsty": STYLE,
            "dimtsz": TICK / 2**0.5 / self.unit if head == "none" else 0.0,
            "dimasz": {"dot": 2 * DOT, "arrow": ARROW}.get(head, TICK) / self.unit,
            "dimexe": OVERSHOOT / self.unit,
            "dimexo": 1.0 / self.unit,
            "dimgap": TEXT_GAP / self.unit,
            "dimlfac": length_factor,
            **self.tape.style,
        }
        style = self.doc.dimstyles.new(word)
        for attribute, value in attributes.items():
            style.dxf.set(attribute, value)
        if self.modern:
            style.dxf.dimtfill = _CANVAS
        if head == "dot":
            from ezdxf.render.arrows import ARROWS

            ARROWS.create_block(self.doc.blocks, ARROWS.dot)
            style.dxf.dimldrblk = ARROWS.dot
        if not self._dim_styles:
            style.copy_to_header(self.doc)
        self._dim_styles.add(word)
        return word

    def properties(self, texts: Mapping[str, str]) -> None:
        """Document properties that CAD programs list; R2000 has none."""
        for key, text in texts.items():
            if text and self.modern:
                self.doc.header.custom_vars.append(plain(key), plain(text))

    def written(self, date: str | None) -> bytes:
        """The document's bytes, free of clock, machine and chance.

        Args:
            date: ISO date for the document's times; None for none.
        """
        from ezdxf.lldxf.tagwriter import TagWriter

        doc = self.doc
        doc.commit_pending_changes()
        for kind in sorted(doc.entitydb.dxf_types_in_use()):
            doc.classes.add_class(kind)
        doc.update_all()
        stamp = _NO_DATE if date is None else _julian(date)
        for variable in ("$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"):
            doc.header[variable] = stamp
        for variable in ("$FINGERPRINTGUID", "$VERSIONGUID"):
            doc.header[variable] = _NO_GUID
        for variable in ("$TDINDWG", "$TDUSRTIMER"):
            doc.header[variable] = 0.0
        doc.header["$LASTSAVEDBY"] = "evencourse"
        metadata = doc.rootdict["EZDXF_META"]  # holds clock and version of the writing library
        for key in list(metadata.keys()):
            metadata.remove(key)
        doc.rootdict.remove("EZDXF_META")
        doc.appids.discard("EZDXF")
        stream = io.StringIO()
        doc.export_sections(TagWriter(stream, dxfversion=doc.dxfversion, write_handles=True))
        data: bytes = doc.encode(stream.getvalue())
        return data


def _julian(date: str) -> float:
    from datetime import date as Date  # noqa: N812

    return Date.fromisoformat(date).toordinal() + 1721424.5
