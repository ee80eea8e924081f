"""The DXF back end: the faces of a job at full size in model space, its sheets as layouts in paper space."""

from __future__ import annotations

from typing import Any

from evencourse.render.drawing.pens import NO_PLOT
from evencourse.render.formats.cad_set import CadSet, Layout, Version, Window, points
from evencourse.render.formats.dxf_document import NewDxf
from evencourse.render.formats.dxf_marks import Writer
from evencourse.render.formats.dxf_space import Space
from evencourse.render.formats.dxf_text import name

_LOCKED = 16384
_MARGIN = 1.04

#: Paper sizes that plotters know, shorter side first, with their CAD names: ISO 216 [mm], ASME Y14.1 and the
#: architectural sizes of the US National CAD Standard [in].
_PAPERS = {
    (210.0, 297.0): "ISO_A4",
    (297.0, 420.0): "ISO_A3",
    (8.5, 11.0): "ANSI_A",
    (11.0, 17.0): "ANSI_B",
    (18.0, 24.0): "ARCH_C",
    (24.0, 36.0): "ARCH_D",
}


def dxf(cad: CadSet, version: Version = "R2010") -> bytes:
    """A job as one DXF file.

    Model space holds every face once at full size, in the job's units, side by side on one datum; lettering
    there is sized for the scale that the sheets show it at. Each sheet is a layout in paper space, in the
    job's units too, with one locked viewport. Blocks carry attributes, facts are extended data under the
    application name ``EVENCOURSE``.

    Args:
        cad: faces and sheets.
        version: DXF version.

    Returns:
        The file's bytes. The same set gives the same bytes.
    """
    target = NewDxf(cad, version)
    writer = Writer(target)
    _model_space(writer, target, cad)
    taken = {"model", "layout1"}
    for number, layout in enumerate(cad.layouts, start=1):
        _sheet(writer, target, layout, number, taken)
    if cad.job:
        target.carry(cad.job)
    target.properties({"Title": cad.title, "Author": cad.author})
    return target.written(cad.date)


def _model_space(writer: Writer, target: NewDxf, cad: CadSet) -> None:
    space = target.doc.modelspace()
    xs, ys = [], []
    for model in cad.models:
        writer.write(model.drawing.marks, Space(space, 1 / model.factor, 1.0, (model.shift, 0.0)))
        for mark in model.drawing.marks:
            for x, y in points(mark, 1 / model.factor):
                xs.append(x + model.shift)
                ys.append(y)
    low, high = (min(xs), min(ys)), (max(xs), max(ys))
    space.dxf.extmin, space.dxf.extmax = (*low, 0.0), (*high, 0.0)
    space.reset_limits(low, high)
    view = target.doc.viewports.get_config("*Active")[0]
    view.dxf.center = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    aspect = view.dxf.get("aspect_ratio", 1.34)
    view.dxf.height = max(high[1] - low[1], (high[0] - low[0]) / aspect) * _MARGIN


def _sheet(writer: Writer, target: NewDxf, sheet: Layout, number: int, taken: set[str]) -> None:
    layouts = target.doc.layouts
    word = name(f"{sheet.code or number} {sheet.title.replace(', ', ' ')}", taken, f"sheet {number}")
    taken.add(word.lower())
    if number == 1:
        layouts.rename("Layout1", word)
        layout = layouts.get(word)
    else:
        layout = layouts.new(word)
    _page(layout, sheet.paper, target.unit)
    mm = 1 / target.unit
    _viewport(layout, sheet.window, mm)
    for view in sheet.own:
        at = (view.at[0] * mm, view.at[1] * mm)
        writer.write(view.drawing.marks, Space(layout, mm, view.factor * mm, at))
    writer.write(sheet.marks, Space(layout, mm, mm))


def _page(layout: Any, paper: tuple[float, float], unit: float) -> None:
    width, height = (side / unit for side in paper)
    inches = unit != 1.0
    layout.page_setup(
        size=(width, height), margins=(0, 0, 0, 0), units="inch" if inches else "mm", scale=(1, 1), device=""
    )
    page = layout.dxf_layout.dxf
    page.plot_configuration_file = "none_device"
    page.paper_size = _paper_name(width, height, inches)
    page.plot_type = 5  # the layout
    page.limmin, page.limmax = (0.0, 0.0), (width, height)
    page.extmin, page.extmax = (0.0, 0.0, 0.0), (width, height, 0.0)
    layout.set_plot_style("monochrome.ctb", show=False)  # black, whatever colour a layer has on a screen
    layout.print_lineweights(True)
    layout.scale_lineweights(False)
    for viewport in layout.viewports():
        viewport.dxf.layer = NO_PLOT.layer


def _paper_name(width: float, height: float, inches: bool) -> str:
    """The name that plotters know a paper size by.

    Args:
        width: [in or mm].
        height: likewise.
        inches: which of the two.
    """
    unit, kind = (25.4, "Inches") if inches else (1.0, "MM")
    millimetres = sorted(side * unit for side in (width, height))
    word = "Custom"
    for sides, known in _PAPERS.items():
        own = 1.0 if known.startswith("ISO") else 25.4
        if all(abs(one - other * own) < 0.6 for one, other in zip(millimetres, sides, strict=True)):
            word = known
    return f"{word}_({width:.2f}_x_{height:.2f}_{kind})"


def _viewport(layout: Any, window: Window, mm: float) -> None:
    left, bottom, right, top = window.box
    factor, shift = window.model.factor, window.model.shift
    middle = ((left + right) / 2, (bottom + top) / 2)
    centre = ((middle[0] - window.at[0]) / factor + shift, (middle[1] - window.at[1]) / factor)
    viewport = layout.add_viewport(
        (middle[0] * mm, middle[1] * mm),
        ((right - left) * mm, (top - bottom) * mm),
        centre,
        (top - bottom) / factor,
        status=2,
    )
    viewport.dxf.layer = NO_PLOT.layer
    viewport.dxf.status = viewport.dxf.id
    viewport.dxf.flags |= _LOCKED
    viewport.frozen_layers = list(window.frozen)
