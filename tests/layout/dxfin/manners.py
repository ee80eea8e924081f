"""Elevations as other programs and drafters leave them: one building, drawn in many manners.

Each manner draws a plain shed, a house or a villa, says what a person sees on it, and which regions have to
be picked by hand; none where the program finds all by itself.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tests.layout.dxfin.drawings import Point, box, drawing, lines, outline, sides

Box = tuple[float, float, float, float]
#: Openings: left, bottom, width, height from the wall's lower left corner [in].
SHED: tuple[Point, list[Box]] = ((144, 96), [(54, 0, 36, 80), (12, 40, 24, 24)])
HOUSE: tuple[Point, list[Box]] = (
    (360, 108),
    [(30, 32, 36, 48), (100, 32, 36, 48), (170, 0, 36, 82), (240, 32, 72, 48)],
)
VILLA: tuple[Point, list[Box]] = (
    (480, 222),
    [(x, y, 40, 60) for y in (30, 144) for x in (40, 130, 310, 400) if (x, y) != (130, 30)]
    + [(220, 0, 42, 84)],
)


@dataclass
class Seen:
    """What a person sees on a drawing.

    Attributes:
        document: the drawing.
        faces: width, height and openings of each [in].
        units: what has to be said of them; None where the header is right.
        faces_picked: numbers to pick.
        openings_picked: numbers to pick.
    """

    document: Any
    faces: list[tuple[Point, list[Box]]]
    units: str | None = None
    faces_picked: list[str] = field(default_factory=list)
    openings_picked: list[str] = field(default_factory=list)


def at(place: Point, one: Box) -> list[Point]:
    return box(place[0] + one[0], place[1] + one[1], one[2], one[3])


def plain(
    space: Any,
    place: Point,
    building: tuple[Point, list[Box]],
    layers: tuple[str, str, str] = ("0", "0", "0"),
) -> None:
    """Closed polylines: a wall, windows, and doors that stand on its base."""
    (width, height), openings = building
    outline(space, box(*place, width, height), layers[0])
    for one in openings:
        outline(space, at(place, one), layers[2] if one[1] == 0 else layers[1])


def polylines_on_layer_0() -> Seen:
    document = drawing()
    plain(document.modelspace(), (1000, 500), HOUSE)
    return Seen(document, [HOUSE])


def old_polylines() -> Seen:
    document = drawing(version="R12")
    space = document.modelspace()
    for ring in (box(0, 0, *SHED[0]), *(at((0, 0), one) for one in SHED[1])):
        space.add_polyline2d(ring, close=True)
    return Seen(document, [SHED], units="in")


def single_lines() -> Seen:
    document = drawing()
    space = document.modelspace()
    for ring in (box(0, 0, *VILLA[0]), *(at((0, 0), one) for one in VILLA[1])):
        lines(space, sides(ring), "0")
    return Seen(document, [VILLA])


def lines_that_fall_short() -> Seen:
    """Ends miss their corners by up to 0.04 in."""
    document = drawing()
    space = document.modelspace()
    for ring in (box(0, 0, *HOUSE[0]), *(at((0, 0), one) for one in HOUSE[1])):
        lines(space, [((x + 0.03, y), (u, v - 0.02)) for (x, y), (u, v) in sides(ring)], "0")
    return Seen(document, [HOUSE])


def lines_that_overshoot() -> Seen:
    """Corners drawn as crossing lines, 3 in too long, as sketched construction lines are."""
    document = drawing()
    space = document.modelspace()
    for ring in (box(0, 0, *HOUSE[0]), *(at((0, 0), one) for one in HOUSE[1] if one[1])):
        for (x, y), (u, v) in sides(ring):
            run, rise = (u - x) / math.hypot(u - x, v - y) * 3, (v - y) / math.hypot(u - x, v - y) * 3
            space.add_line((x - run, y - rise), (u + run, v + rise))
    return Seen(document, [(HOUSE[0], [one for one in HOUSE[1] if one[1]])])


def jambs_that_end_on_the_base() -> Seen:
    """T-junctions: a door is two jambs and a head on the wall's base; an eave line runs under the gable."""
    document = drawing()
    space = document.modelspace()
    lines(space, sides([(0, 0), (360, 0), (360, 108), (180, 198), (0, 108)]), "0")
    space.add_line((0, 108), (360, 108))
    lines(space, [((170, 0), (170, 82)), ((170, 82), (206, 82)), ((206, 82), (206, 0))], "0")
    lines(space, sides(box(30, 32, 36, 48)), "0")
    lines(space, sides(box(162, 130, 36, 30)), "0")
    openings = [(170, 0, 36, 82), (30, 32, 36, 48), (162, 130, 36, 30)]
    return Seen(document, [((360.0, 198.0), openings)])


def siding_drawn_up_to_the_openings() -> Seen:
    """Courses of 8 in end at jambs and at both ends of the wall; windows have a frame and a glass bar."""
    document = drawing()
    space = document.modelspace()
    (width, height), openings = HOUSE
    lines(space, sides(box(0, 0, width, height)), "0")
    for one in openings:
        lines(space, sides(at((0, 0), one)), "0")
        if one[1]:
            outline(space, box(one[0] + 2, one[1] + 2, one[2] - 4, one[3] - 4), "0")
            x = one[0] + one[2] / 2
            space.add_line((x, one[1] + 2), (x, one[1] + one[3] - 2))
    for course in range(1, 14):
        y, start = 8.0 * course, 0.0
        for left, low, wide, tall in sorted(openings):
            if low < y < low + tall:
                space.add_line((start, y), (left, y))
                start = left + wide
        space.add_line((start, y), (width, y))
    return Seen(document, [HOUSE])


def mitred_casings() -> Seen:
    """Trim of 3-1/2 in with mitres round windows with a sash: the hole is within the trim."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, *HOUSE[0]), "0")
    holes = [one for one in HOUSE[1] if one[1]]
    for one in holes:
        inner = at((0, 0), one)
        outer = box(one[0] - 3.5, one[1] - 3.5, one[2] + 7, one[3] + 7)
        lines(space, [*sides(inner), *sides(outer), *zip(inner, outer, strict=True)], "0")
        outline(space, box(one[0] + 2, one[1] + 2, one[2] - 4, one[3] - 4), "0")
    return Seen(document, [(HOUSE[0], holes)])


def nested_blocks() -> Seen:
    """The elevation in a block within a block, drawn in inches, inserted at 25.4 into millimetres."""
    document = drawing(4)
    inner = document.blocks.new("A$C1")
    plain(inner, (0, 0), HOUSE)
    document.blocks.new("A$C2").add_blockref("A$C1", (12, 7))
    scaled = {"xscale": 25.4, "yscale": 25.4}
    document.modelspace().add_blockref("A$C2", (5000, 9000), scaled)
    return Seen(document, [HOUSE])


def mirrored_block() -> Seen:
    document = drawing()
    plain(document.blocks.new("SIDE"), (0, 0), HOUSE)
    document.modelspace().add_blockref("SIDE", (0, 0), {"xscale": -1})
    wide, openings = HOUSE[0][0], HOUSE[1]
    return Seen(document, [(HOUSE[0], [(wide - x - w, y, w, h) for x, y, w, h in openings])])


def inches_in_the_header_millimetres_drawn() -> Seen:
    document = drawing(1)
    scaled = [(x * 25.4, y * 25.4, w * 25.4, h * 25.4) for x, y, w, h in VILLA[1]]
    plain(document.modelspace(), (0, 0), ((VILLA[0][0] * 25.4, VILLA[0][1] * 25.4), scaled))
    return Seen(document, [VILLA], units="mm")


def no_units_drawn_in_metres() -> Seen:
    document = drawing(0)
    scaled = [(x * 0.0254, y * 0.0254, w * 0.0254, h * 0.0254) for x, y, w, h in HOUSE[1]]
    plain(document.modelspace(), (0, 0), ((HOUSE[0][0] * 0.0254, HOUSE[0][1] * 0.0254), scaled))
    return Seen(document, [HOUSE], units="m")


def layered(walls: str, windows: str, doors: str) -> Seen:
    document = drawing()
    plain(document.modelspace(), (0, 0), HOUSE, (walls, windows, doors))
    return Seen(document, [HOUSE])


def sheet_with_plan() -> Seen:
    """A frame with a title block round two elevations, a section and a plan with swings of doors."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(-100, -700, 1500, 1200), "0")
    outline(space, box(-90, -690, 1480, 1180), "0")
    lines(space, sides(box(1000, -690, 390, 60)), "0")
    plain(space, (0, 100), HOUSE)
    plain(space, (600, 100), VILLA)
    for x, title in ((60, "FRONT ELEVATION"), (700, "ALZADO NORTE")):
        space.add_text(title, height=12).set_placement((x, 60))
    outline(space, box(0, -600, 360, 300), "0")
    outline(space, box(6, -594, 348, 288), "0")
    space.add_arc((100, -594), 32, 0, 90)
    space.add_line((100, -594), (100, -562))
    space.add_text("FLOOR PLAN", height=12).set_placement((60, -640))
    plain(space, (600, -600), ((300, 108), [(20, 30, 36, 36)]))
    space.add_text("SECTION A-A", height=12).set_placement((650, -560))
    return Seen(document, [HOUSE, VILLA])


def arches_and_splines() -> Seen:
    """A round window as a closed spline of nine points, an arch of lines and an arc."""
    document = drawing()
    space = document.modelspace()
    lines(space, sides(box(0, 0, *HOUSE[0])), "0")
    circle = [
        (60 + 15 * math.cos(math.tau * k / 48), 60 + 15 * math.sin(math.tau * k / 48)) for k in range(49)
    ]
    space.add_spline(circle)
    lines(space, [((150, 20), (190, 20)), ((190, 20), (190, 70)), ((150, 70), (150, 20))], "0")
    space.add_arc((170, 70), 20, 0, 180)
    space.add_ellipse((280, 60), (20, 0), 1.0)
    openings = [(45, 45, 30, 30), (150, 20, 40, 70), (260, 40, 40, 40)]
    return Seen(document, [(HOUSE[0], openings)])


def roof_and_foundation() -> Seen:
    """A roof from the side, overhanging by 16 in; 12 in of foundation; the ground past both ends."""
    document = drawing()
    space = document.modelspace()
    (width, height), _ = HOUSE
    lines(space, sides(box(0, 0, width, height)), "0")
    for one in HOUSE[1]:
        lines(space, sides(at((0, 0), one)), "0")
    lines(space, sides([(-16, height), (width + 16, height), (width + 4, 190), (-4, 190)]), "0")
    lines(space, [((0, 0), (0, -12)), ((width, 0), (width, -12)), ((-80, -12), (width + 80, -12))], "0")
    return Seen(document, [HOUSE])


def base_closed_by_the_ground() -> Seen:
    """A wall of three lines on its layer; the fourth is the ground's, on another one."""
    document = drawing()
    space = document.modelspace()
    (width, height), openings = HOUSE
    lines(space, sides(box(0, 0, width, height))[1:], "WALLS")
    space.add_line((-50, 0), (width + 50, 0), {"layer": "TERRAIN LINE 2"})
    for one in openings:
        outline(space, at((0, 0), one), "GLAZING" if one[1] else "DOORS")
    return Seen(document, [HOUSE])


def bound_reference() -> Seen:
    return layered("HOUSE-07$0$A-WALL", "HOUSE-07$0$A-GLAZ", "HOUSE-07$0$A-DOOR")


def cut_and_drawn_twice() -> Seen:
    """Every side in three pieces that overlap, and once more as a whole: what exploding hatches leaves."""
    document = drawing()
    space = document.modelspace()
    for ring in (box(0, 0, *SHED[0]), *(at((0, 0), one) for one in SHED[1])):
        for (x, y), (u, v) in sides(ring):
            for start, end in ((0, 0.4), (0.3, 0.7), (0.7, 1), (0, 1)):
                space.add_line(
                    (x + start * (u - x), y + start * (v - y)), (x + end * (u - x), y + end * (v - y))
                )
    return Seen(document, [SHED])


def panel_joints() -> Seen:
    """Joints divide the wall into panels as small as openings; windows lie free in them."""
    document = drawing()
    space = document.modelspace()
    (width, height), _ = HOUSE
    lines(space, sides(box(0, 0, width, height)), "0")
    for x in range(60, 360, 60):
        space.add_line((x, 0), (x, height))
    space.add_line((0, 54), (width, 54))
    holes: list[Box] = [(12, 60, 36, 40), (132, 60, 36, 40)]
    for one in holes:
        lines(space, sides(at((0, 0), one)), "0")
    return Seen(document, [(HOUSE[0], holes)])


def a_wall_among_furniture() -> Seen:
    """A blank wall, and a recess that is no window for the program: one pick makes it one."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, *HOUSE[0]), "0")
    outline(space, box(100, 40, 60, 8), "0")
    outline(space, [(30, 30), (70, 30), (75, 60), (50, 75), (25, 60)], "0")
    return Seen(document, [(HOUSE[0], [(25, 30, 50, 45)])], openings_picked=["2"])


def cased(space: Any, one: Box, inner: str = "", width: float = 3.5) -> None:
    """A hole with trim round it, on three sides where it stands on the base; a rail or bars within."""
    x, y, w, h = one
    lines(space, sides(at((0, 0), one)), "0")
    if y:
        outline(space, box(x - width, y - width, w + 2 * width, h + 2 * width), "0")
    else:
        legs = [(x - width, 0.0), (x - width, h + width), (x + w + width, h + width), (x + w + width, 0.0)]
        outline(space, legs, "0", closed=False)
    if inner:
        space.add_line((x, y + h / 2), (x + w, y + h / 2))
    if inner == "muntins":
        space.add_line((x + w / 2, y), (x + w / 2, y + h))


def casings(inner: str) -> Seen:
    """Trim of 3-1/2 in round every opening, doors too, and no sash: the hole is within the trim."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, *HOUSE[0]), "0")
    for one in HOUSE[1]:
        cased(space, one, inner)
    return Seen(document, [HOUSE])


def a_cased_door(panels: list[Box], wide: float = 36, high: float = 80, trim: float = 3.5) -> Seen:
    """A door at 40 in with trim that runs to the base, panels in it, and a window beside it."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 480, 108), "0")
    cased(space, (40, 0, wide, high), width=trim)
    for x, y, w, h in panels:
        outline(space, box(40 + x, y, w, h), "0")
    lines(space, sides(box(370, 40, 60, 44)), "0")
    return Seen(document, [((480, 108), [(40, 0, wide, high), (370, 40, 60, 44)])])


#: Panels of a garage door of 16 by 7 ft: four by four, 3-1/4 in apart.
SECTIONS: list[Box] = [(3 + 47.25 * i, 3 + 20.5 * j, 44, 17) for i in range(4) for j in range(4)]


def butt_jointed_casings() -> Seen:
    """Trim of four boards, the head and the sill longer than the hole is wide; a meeting rail."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, *HOUSE[0]), "0")
    holes = [one for one in HOUSE[1] if one[1]]
    for x, y, w, h in holes:
        for board in (
            (x, y, w, h),
            (x - 3.5, y, 3.5, h),
            (x + w, y, 3.5, h),
            (x - 4.5, y + h, w + 9, 5),
            (x - 4.5, y - 2, w + 9, 2),
        ):
            outline(space, box(*board), "0")
        space.add_line((x, y + h / 2), (x + w, y + h / 2))
    return Seen(document, [(HOUSE[0], holes)])


def windows_in_one_casing() -> Seen:
    """Three windows side by side, and two with a board of 4 in between: each group is one hole."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 400, 110), "0")
    outline(space, box(96.5, 32.5, 115, 61), "0")
    outline(space, box(296.5, 32.5, 79, 61), "0")
    for x, w in ((100, 36), (136, 36), (172, 36), (300, 34), (338, 34)):
        outline(space, box(x, 36, w, 54), "0")
    return Seen(document, [((400, 110), [(100, 36, 108, 54), (300, 36, 72, 54)])])


def ground_across(panels: bool) -> Seen:
    """The ground falls by 24 in past both ends, across the wall's base and a garage door."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 480, 108), "0")
    openings: list[Box] = [(40, 0, 192, 84), (370, 40, 60, 44)]
    for one in openings:
        outline(space, at((0, 0), one), "0")
    for x, y, w, h in SECTIONS if panels else ():
        outline(space, box(40 + x, y, w, h), "0")
    space.add_line((-60, 6), (540, -18))
    return Seen(document, [((480, 108), openings)])


def ground_as_the_base() -> Seen:
    """Ends of a wall that run past the sloping ground, and no other base: it falls by 1 in 40."""
    document = drawing()
    space = document.modelspace()
    lines(space, [((0, -20), (0, 108)), ((0, 108), (480, 108)), ((480, 108), (480, -20))], "0")
    space.add_line((-60, 3), (540, -12))
    cased(space, (300, 36, 36, 54))
    return Seen(document, [((480, 118.5), [(300, 46.5, 36, 54)])])


def a_lower_wing(roofs: bool, windows: int = 1) -> Seen:
    """A main wall of two storeys and a wing of one: no larger than a garage door may be, and no door."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 300, 216), "0")
    outline(space, box(300, 0, 200, 100), "0")
    if roofs:
        outline(space, [(-12, 216), (312, 216), (290, 290), (10, 290)], "0")
        outline(space, [(300, 100), (512, 100), (495, 150), (300, 150)], "0")
    openings: list[Box] = [(40, 36, 36, 54), (200, 140, 36, 50), (120, 0, 36, 80)]
    openings += [(330 + 70 * n, 36, 48, 44) for n in range(windows)]
    for one in openings:
        cased(space, one)
    return Seen(document, [((500, 216), openings)])


def a_garage_wing() -> Seen:
    """A wing of one storey at the left, with a door of 8 by 7 ft with trim: door, trim and wing are three."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(200, 0, 300, 216), "0")
    outline(space, box(0, 0, 200, 100), "0")
    openings: list[Box] = [(50, 0, 96, 84), (240, 36, 36, 54)]
    for one in openings:
        cased(space, one)
    return Seen(document, [((500, 216), openings)])


def gable_with_corner_boards() -> Seen:
    """Corner boards of 4 in up to the rakes, less than half as high as the ridge; a foundation and steps."""
    document = drawing()
    space = document.modelspace()
    lines(space, sides([(0, 0), (360, 0), (360, 108), (180, 288), (0, 108)]), "0")
    lines(space, [((4, 0), (4, 112)), ((356, 0), (356, 112))], "0")
    lines(space, [((0, 0), (0, -24)), ((0, -24), (360, -24)), ((360, -24), (360, 0))], "0")
    outline(space, box(140, -7, 56, 7), "0")
    openings: list[Box] = [(40, 36, 36, 54), (165, 130, 30, 40), (150, 0, 36, 80)]
    for one in openings:
        cased(space, one)
    return Seen(document, [((360, 288), openings)])


def steps_under_a_door() -> Seen:
    """A landing below the base, larger than the door that stands on it."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 480, 108), "0")
    outline(space, box(220, -30, 100, 30), "0")
    openings: list[Box] = [(250, 0, 36, 80), (140, 30, 36, 48)]
    for one in openings:
        outline(space, at((0, 0), one), "0")
    return Seen(document, [((480, 108), openings)])


def two_storeys_and_a_band() -> Seen:
    """A band board of 9 in from end to end between two storeys: one wall, with one datum."""
    document = drawing()
    space = document.modelspace()
    outline(space, box(0, 0, 400, 216), "0")
    outline(space, box(0, 104, 400, 9), "0")
    openings: list[Box] = [(x, 140, 36, 50) for x in (40, 180, 320)]
    openings += [(40, 30, 36, 54), (320, 30, 36, 54), (180, 0, 36, 80)]
    for one in openings:
        lines(space, sides(at((0, 0), one)), "0")
    return Seen(document, [((400, 216), openings)])


#: The manners, by name.
MANNERS: dict[str, Callable[[], Seen]] = {
    "polylines on layer 0": polylines_on_layer_0,
    "old polylines, no units": old_polylines,
    "single lines": single_lines,
    "lines that fall short": lines_that_fall_short,
    "lines that overshoot": lines_that_overshoot,
    "T-junctions": jambs_that_end_on_the_base,
    "siding drawn": siding_drawn_up_to_the_openings,
    "mitred casings": mitred_casings,
    "casings, nothing in them": lambda: casings(""),
    "casings, a rail in them": lambda: casings("rail"),
    "casings, muntins in them": lambda: casings("muntins"),
    "cased door": lambda: a_cased_door([]),
    "cased door, one panel": lambda: a_cased_door([(4, 10, 28, 60)]),
    "cased door, two panels": lambda: a_cased_door([(4, 8, 28, 26), (4, 42, 28, 30)]),
    "cased garage door": lambda: a_cased_door(SECTIONS, 192, 84, 6),
    "butt-jointed casings": butt_jointed_casings,
    "windows in one casing": windows_in_one_casing,
    "ground across a door": lambda: ground_across(False),
    "ground across a door with panels": lambda: ground_across(True),
    "ground as the base": ground_as_the_base,
    "lower wing": lambda: a_lower_wing(False),
    "lower wing, two windows": lambda: a_lower_wing(False, 2),
    "lower wing with a roof": lambda: a_lower_wing(True),
    "garage wing": a_garage_wing,
    "corner boards": gable_with_corner_boards,
    "steps under a door": steps_under_a_door,
    "band board": two_storeys_and_a_band,
    "nested blocks": nested_blocks,
    "mirrored block": mirrored_block,
    "wrong header units": inches_in_the_header_millimetres_drawn,
    "no units, metres": no_units_drawn_in_metres,
    "Spanish layers": lambda: layered("MUROS", "VENTANAS", "PUERTAS"),
    "German layers": lambda: layered("Außenwand", "Fenster", "Türen"),
    "French layers": lambda: layered("Façades", "Fenêtres", "Portes"),
    "Japanese layers": lambda: layered("外壁", "窓", "ドア"),
    "sheet with plan": sheet_with_plan,
    "arches and splines": arches_and_splines,
    "roof and foundation": roof_and_foundation,
    "base closed by the ground": base_closed_by_the_ground,
    "bound reference": bound_reference,
    "cut and drawn twice": cut_and_drawn_twice,
    "panel joints": panel_joints,
    "one pick": a_wall_among_furniture,
}
