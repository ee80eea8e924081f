"""Boards and shingles in section, as they lie on each other. Inches."""

from __future__ import annotations

from math import ceil

from evencourse.render.details.cross_section import CrossSection, Hatch
from evencourse.render.details.sizes import Profile
from evencourse.render.drawing.drawing import Point
from evencourse.render.drawing.pens import DETAIL_OFF


def hatching(profile: Profile) -> Hatch:
    """How its material is hatched."""
    return "wood" if profile.material == "wood" else "cement"


def course(
    section: CrossSection,
    profile: Profile,
    at: float,
    low: float,
    high: float,
    out: tuple[float, float] = (0.0, 0.0),
    part: str = "",
) -> None:
    """A board or a shingle from one height above its butt to another.

    Args:
        section: where it is drawn.
        profile: of it.
        at: height of its butt.
        low: where it begins.
        high: where it ends.
        out: how far it is packed out at these two.
        part: what it is, for whoever measures the drawing.
    """
    if high - low < 1e-3:
        return
    section.body(outline(profile, at, low, high, out), hatching(profile), part=part)


def outline(profile: Profile, at: float, low: float, high: float, out: tuple[float, float]) -> list[Point]:
    """Its section, back and face; arguments as for :func:`course`."""
    layers = [layer * profile.exposure for layer in range(ceil(profile.width / profile.exposure))]
    levels = [low, *(level for level in layers if low < level < high), high]
    share = [(level - low) / (high - low) for level in levels]
    push = [out[0] + (out[1] - out[0]) * one for one in share]
    face = [(profile.face(y) + more, at + y) for y, more in zip(levels, push, strict=True)]
    back = [(profile.back(y) + more, at + y) for y, more in zip(levels, push, strict=True)]
    return [*back, *reversed(face)]


def under(section: CrossSection, profile: Profile, at: float, floor: float, ceiling: float) -> None:
    """The courses below one whose butt lies at a height, between a floor and a ceiling."""
    for layer in range(1, ceil((profile.width + 9) / profile.exposure)):
        foot = at - layer * profile.exposure
        if foot + profile.width > floor and foot < ceiling:
            course(section, profile, foot, max(0.0, floor - foot), min(profile.width, ceiling - foot))


def over(section: CrossSection, profile: Profile, at: float) -> None:
    """The courses from one whose butt lies at a height, up to where the section ends."""
    while at < section.clip.top:
        course(section, profile, at, 0.0, profile.width)
        at += profile.exposure


def ghost(section: CrossSection, profile: Profile, at: float, low: float, high: float) -> None:
    """What comes off."""
    if high - low > 0.05:
        ring = outline(profile, at, low, high, (0.0, 0.0))
        section.line([*ring, ring[0]], DETAIL_OFF)
