"""A profile by itself: a course of it on the wall in section, to tell it from others at a glance."""

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

#: How far the wall shows below the lowest course, and beside the siding [in].
BELOW, BESIDE = 0.4, 0.5


def profile_section(cladding: Cladding, units: Units, scale: float) -> tuple[Drawing, Box]:
    """A course of a siding at its usual exposure with what laps over it, and their box [job units].

    Args:
        cladding: the siding, lengths in ``units``.
        units: of the drawing.
        scale: paper over real size that lines and hatching are meant for.
    """
    inch = 1.0 if units == "in" else 25.4
    one = profile(cladding, cladding.exposure, inch, cladding.end_gap)
    high = one.exposure + max(0.8, one.lap)
    clip = Box(-BESIDE, -BELOW, one.face(0.0) + BESIDE, high)
    section = CrossSection(units, scale, clip, "")
    wall(section, one, -BELOW + 0.01, high - 0.01)  # without the break lines of a wall that goes on
    if one.family == "panel":
        panel(section, one, 0.0)
        panel(section, one, one.exposure)
    else:
        over(section, one, 0.0)
    box = Box(*(side * inch for side in (clip.left, clip.bottom, clip.right, clip.top)))
    return Drawing(cladding.label, units, section.parts()), box
