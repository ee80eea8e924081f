"""A profile by itself: some courses of it on the wall in section, to tell it from others at a glance."""

from __future__ import annotations

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Units
from evencourse.render.details.board_parts import over
from evencourse.render.details.cross_section import CrossSection
from evencourse.render.details.panel_parts import panel
from evencourse.render.details.sizes import profile
from evencourse.render.details.wall_parts import wall
from evencourse.render.drawing.drawing import Drawing
from evencourse.render.drawing.placement import Box

#: Courses that are shown, and how far the wall shows below them [in].
COURSES, BELOW = 2, 1.0


def profile_section(cladding: Cladding, units: Units, scale: float) -> tuple[Drawing, Box]:
    """Two courses of a siding at their usual exposure, and the box that they take [job units].

    Args:
        cladding: the siding, lengths in ``units``.
        units: of the drawing.
        scale: paper over real size that lines and hatching are meant for.
    """
    inch = 1.0 if units == "in" else 25.4
    one = profile(cladding, cladding.exposure, inch, cladding.end_gap)
    high = COURSES * one.exposure + max(0.0, one.lap) + 0.6
    clip = Box(-1.2, -BELOW, max(1.6, one.face(0.0) + 0.6), high)
    section = CrossSection(units, scale, clip, "")
    wall(section, one, -BELOW, high)
    if one.family == "panel":
        for course in range(COURSES):
            panel(section, one, course * one.exposure)
    else:
        over(section, one, 0.0)
    box = Box(*(side * inch for side in (clip.left, clip.bottom, clip.right, clip.top)))
    return Drawing(cladding.label, units, section.parts()), box
