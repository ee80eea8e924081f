"""A band board in section, with the siding that begins over it, whatever its family. Inches."""

from __future__ import annotations

from evencourse.layout.language.speech import gettext
from evencourse.render.details.board_parts import over, under
from evencourse.render.details.cross_section import CrossSection
from evencourse.render.details.need import Need
from evencourse.render.details.panel_parts import panel, starter
from evencourse.render.details.wall_parts import board, cap, wall

#: How much of the siding over the board is shown [in].
_ABOVE = 2.4


def band_board(need: Need, low: float) -> CrossSection:
    """A section with the wall, the band board over height 0, its drip cap, and what begins on it.

    Args:
        need: what the section is drawn for.
        low: where it begins [in].
    """
    trim, above = need.band_trim, need.above
    section = need.section(low, trim + _ABOVE)
    wall(section, need.profile, low, section.clip.top)
    if trim > 0:
        face = board(section, 0.0, trim - 0.1)
        section.label(gettext("band board"), (face, trim / 2))
        cap(section, trim, face)
        section.label(gettext("drip cap"), (0.07, trim + 2.0))
    if above is not None and above.family == "panel":
        panel(section, above, trim)
        starter(section, above, trim)
    elif above is not None:
        under(section, above, trim, trim, section.clip.top)
        over(section, above, trim)
    if above is not None:
        section.label(gettext("the next siding begins here"), (above.face(0.8), trim + 0.8))
    return section
