"""What siding ends against, in section: wall, frames, trim, channels, roofs. Heights and stand-off in inches.

The face of the sheathing is x = 0, outside lies to the right; each part says how it is labelled.
"""

from __future__ import annotations

from evencourse.layout.language.speech import gettext
from evencourse.render.details.cross_section import CrossSection
from evencourse.render.details.sizes import Profile, size
from evencourse.render.drawing.pens import DETAIL_ACT, DETAIL_BEYOND, DETAIL_HEAVY, DETAIL_OFF

#: Thickness of bent metal and of extruded trim, and how far trim stands off the sheathing [in].
METAL, TRIM, OFF = 0.04, 0.05, 0.09
#: A frame shows so much of itself beside its trim, and stands so far out [in].
FRAME, OUT = 1.1, 0.5
#: The rough opening lies so far behind the trim [in].
_ROUGH = 0.5


def wall(section: CrossSection, profile: Profile, low: float, high: float) -> None:
    """Sheathing and weather barrier between two heights, with break lines where the wall goes on."""
    inside, thick = -size("wall", "shown"), size("wall", "sheathing")
    section.body([(-thick, low), (0.0, low), (0.0, high), (-thick, high)], "sheathing")
    section.line([(0.05, low), (0.05, high)], DETAIL_OFF)
    section.line([(inside, low), (inside, high)], DETAIL_BEYOND)
    for level in (section.clip.bottom, section.clip.top):
        if low <= level <= high:
            section.cut_off(level, profile.projection + 0.2)


def framing(section: CrossSection, low: float) -> None:
    """A member of the framing, across the grain: a plate, a header, a rough sill."""
    inside, thick, high = -size("wall", "shown"), size("wall", "sheathing"), low + size("wall", "strip")
    section.body([(inside, low), (-thick, low), (-thick, high), (inside, high)], "across")


def frame(section: CrossSection, at: float, way: float, solid: bool) -> None:
    """The frame of a window or a door, with what it holds: a sash and its panes, or a leaf.

    Args:
        section: where it is drawn.
        at: height where the frame begins.
        way: 1 for upward, -1 for downward.
        solid: a leaf of wood instead of a sash.
    """
    inside, end = -size("wall", "shown"), at + way * FRAME
    leaf = end + way * (3.0 if solid else 0.6)
    section.body([(inside, at), (OUT, at), (OUT, end), (inside, end)], "wood", DETAIL_HEAVY)
    section.body([(-1.1, end), (0.1, end), (0.1, leaf), (-1.1, leaf)], "wood")
    if not solid:
        for x in (-0.65, -0.35):
            section.line([(x, leaf), (x, leaf + way * 0.2)], DETAIL_BEYOND)


def board(section: CrossSection, low: float, high: float, part: str = "") -> float:
    """A board flat on the wall; how far its face stands off."""
    face = OFF + size("wall", "board")
    section.body([(OFF, low), (face, low), (face, high), (OFF, high)], "wood", DETAIL_HEAVY, part)
    return face


def over_opening(
    section: CrossSection, profile: Profile, trim: float, solid: bool, capped: bool = True
) -> float:
    """Wall, trim, drip cap and frame at a head at height 0; returns the stand-off of the trim's face."""
    rough = _ROUGH - trim if trim > 0 else 0.3
    wall(section, profile, rough, section.clip.top)
    framing(section, rough)
    frame(section, -trim - (0.05 if trim <= 0 else 0.0), -1.0, solid)
    if trim <= 0:
        section.solid([(0.03, -0.4), (0.03, 1.2)], METAL)
        section.label(gettext("nailing fin, flashed"), (0.05, 1.0))
        return OUT
    face = board(section, -trim, -0.1 if capped else 0.0)
    section.label(gettext("head trim"), (face, -trim / 2))
    if capped:
        cap(section, 0.0, face)
        section.label(gettext("drip cap, its leg behind the weather barrier"), (0.07, 2.1))
    return face


def cap(section: CrossSection, at: float, face: float) -> None:
    """A drip cap on a board whose face stands off so far."""
    lip = face + 0.16
    section.solid([(0.07, at + 2.4), (0.07, at - 0.07), (lip, at - 0.09), (lip, at - 0.4)], METAL)


def under_opening(section: CrossSection, profile: Profile, trim: float, solid: bool) -> float:
    """Wall, trim and frame at a sill at height 0; returns the stand-off of the trim's face."""
    rough = trim - _ROUGH if trim > 0 else -0.3
    wall(section, profile, section.clip.bottom, rough)
    framing(section, rough - size("wall", "strip"))
    frame(section, trim, 1.0, solid)
    if trim <= 0:
        return OUT
    face = board(section, 0.0, trim)
    section.label(gettext("sill trim"), (face, trim / 2))
    return face


def channel(section: CrossSection, profile: Profile, at: float, up: bool) -> None:
    """A channel that opens upward over a head or a base, downward under a sill."""
    way = 1.0 if up else -1.0
    flange, lip = size("channel", "flange"), 0.75
    inner = OFF + TRIM / 2
    front = inner + profile.pocket
    section.solid(
        [
            (inner, at + way * flange),
            (inner, at - way * TRIM / 2),
            (front, at - way * TRIM / 2),
            (front, at + way * lip),
            (front - 0.12, at + way * lip),
        ],
        TRIM,
        "channel",
    )


def utility(section: CrossSection, face: float, back: float, at: float) -> None:
    """Utility or finish trim that opens downward: it grips a cut edge at a height by its lugs.

    Args:
        section: where it is drawn.
        face: stand-off of the siding's face at the cut.
        back: what it is nailed to stands off so far: furring, or nothing.
        at: height of the cut.
    """
    inner, grip = back + TRIM / 2, size("utility", "grip")
    top, front = at + 0.06, face + 0.07
    section.solid(
        [(inner, at - size("utility", "flange")), (inner, top), (front, top), (front, at - grip)],
        TRIM,
        "utility trim",
    )
    lug = at - size("lugs", "below")
    section.solid([(face - 0.02, lug - 0.1), (face + 0.045, lug)], TRIM)


def furring(section: CrossSection, thick: float, top: float, tall: float, on: float = 0.0) -> None:
    """The strip behind a cut edge.

    Args:
        section: where it is drawn.
        thick: what it packs out.
        top: height of its upper edge.
        tall: from there down to its lower edge.
        on: what it lies on stands off so far; 0 for the wall.
    """
    low = top - tall
    section.body(
        [(on, low), (on + thick, low), (on + thick, top), (on, top)], "across", DETAIL_ACT, "furring"
    )


def soffit(section: CrossSection) -> None:
    """The soffit over a last course, its underside at height 0."""
    right = section.clip.right
    section.body([(0.0, 0.0), (right, 0.0), (right, 0.45), (0.0, 0.45)], "wood")
    framing(section, -size("wall", "strip"))


def foundation(section: CrossSection, top: float) -> None:
    """The foundation, its top at a height; the sheathing stands on it."""
    inside = -size("wall", "shown")
    section.body([(inside, -99.0), (0.0, -99.0), (0.0, top), (inside, top)], "concrete", DETAIL_HEAVY)
    framing(section, top)
