"""Panels in section: steps, hook, lock and nail hem, drawn from the profile's own numbers. Inches."""

from __future__ import annotations

from math import inf

from evencourse.render.details.cross_section import CrossSection
from evencourse.render.details.sizes import Profile, size
from evencourse.render.details.wall_parts import OFF, TRIM
from evencourse.render.drawing.drawing import Point
from evencourse.render.drawing.pens import DETAIL_OFF

#: Where hook and lock lie between the face under a butt and the butt, as shares of what is between.
_HOOK, _LOCK = 0.36, 0.7
#: Foam begins so far above the butt: hook and starter strip have their place below it [in].
_FOAM = 0.7


def depth(profile: Profile, share: float) -> float:
    """A stand-off between the face under a butt and the butt [in]."""
    return profile.projection_top + share * (profile.projection - profile.projection_top)


def faces(profile: Profile, low: float, high: float) -> list[Point]:
    """The face from a height above the butt to another, step by step: stand-off and height."""
    step = profile.exposure / profile.steps
    points = [(profile.face(low), low)]
    for number in range(1, profile.steps):
        at = number * step
        if low < at < high - 1e-6:
            points += [(profile.projection_top, at), (profile.projection, at)]
    end = (
        profile.projection_top if abs(high % step) < 1e-6 or step - high % step < 1e-6 else profile.face(high)
    )
    return [*points, (end, high)]


def _hook(profile: Profile) -> list[Point]:
    inner = depth(profile, _HOOK)
    foot = profile.butt / 2
    return [(inner, size("panel", "hook")), (inner, foot), (profile.projection, foot)]


def _lock(profile: Profile) -> tuple[list[Point], list[Point]]:
    """What lies over the exposure: the web up to the nail hem, and the lip that takes the next hook."""
    e, lock = profile.exposure, size("panel", "lock")
    top = profile.projection_top
    web = [(top, e + lock), (OFF, e + lock + 0.15), (OFF, e + lock + 0.15 + size("panel", "hem"))]
    lip = [(top, e + lock), (depth(profile, _LOCK), e + lock), (depth(profile, _LOCK), e + lock - 0.28)]
    return web, lip


def _drawn(
    section: CrossSection,
    points: list[Point],
    at: float,
    profile: Profile,
    part: str = "",
    ends: tuple[float, float] = (-inf, inf),
) -> None:
    """A skin along its outside; ``ends``: levels at which it is cut off."""
    section.solid([(x - profile.butt / 2, y + at) for x, y in points], profile.butt, part, ends)


def _foam(section: CrossSection, face: list[Point], back: list[Point], at: float, profile: Profile) -> None:
    """The backing between the skin and the wall."""
    if not profile.foam:
        return
    low = min(y for _, y in back)
    face = [(profile.face(low), low), *(point for point in face if point[1] > low)]
    skin = [(x - profile.butt, y + at) for x, y in face]
    section.body([*skin, *((x, y + at) for x, y in reversed(back))], "foam")


def panel(section: CrossSection, profile: Profile, at: float, part: str = "panel") -> None:
    """A whole panel whose butt lies at a height."""
    face = faces(profile, 0.0, profile.exposure)
    web, lip = _lock(profile)
    _foam(section, face, [(OFF, _FOAM), (OFF, profile.exposure)], at, profile)
    _drawn(section, [*_hook(profile), *face[1:], *web], at, profile, part)
    _drawn(section, lip, at, profile)


def lower_part(section: CrossSection, profile: Profile, at: float, cut: float, furring: float) -> float:
    """What is left below a cut: the last step stands out by the furring; returns the face's stand-off there.

    Args:
        section: where it is drawn.
        profile: of the panel.
        at: height of its butt.
        cut: how far up it is cut.
        furring: how far the cut edge is packed out.
    """
    face = faces(profile, 0.0, cut)
    face[-1] = (face[-1][0] + furring, cut)
    foot = face[-2][1]
    _foam(section, face, [(OFF, _FOAM), (OFF, foot), (max(OFF, furring), cut)], at, profile)
    _drawn(section, [*_hook(profile), *face[1:]], at, profile, "kept", (-inf, at + cut))
    return face[-1][0]


def upper_part(section: CrossSection, profile: Profile, at: float, cut: float, furring: float) -> float:
    """What is left above a cut, likewise."""
    face = faces(profile, cut, profile.exposure)
    face[0] = (face[0][0] + furring, cut)
    head = face[1][1]
    web, lip = _lock(profile)
    _foam(section, face, [(max(OFF, furring), cut), (OFF, head), (OFF, profile.exposure)], at, profile)
    _drawn(section, [*face, *web], at, profile, "kept", (at + cut, inf))
    _drawn(section, lip, at, profile)
    return face[0][0]


def off_top(section: CrossSection, profile: Profile, at: float, cut: float) -> None:
    """What comes off the top of a panel: face, lock and hem."""
    web, lip = _lock(profile)
    rest = faces(profile, cut, profile.exposure) if profile.exposure - cut > 1e-6 else []
    for line in ([*rest, *web], lip):
        section.line([(x - profile.butt / 2, y + at) for x, y in line], DETAIL_OFF)


def off_bottom(section: CrossSection, profile: Profile, at: float, cut: float) -> None:
    """What comes off the bottom of a panel: hook and face."""
    line = [*_hook(profile), *faces(profile, 0.0, cut)[1:]]
    section.line([(x - profile.butt / 2, y + at) for x, y in line], DETAIL_OFF)


def below(section: CrossSection, profile: Profile, at: float) -> None:
    """The panel below one whose butt lies at a height: its lock holds the hook."""
    panel(section, profile, at - profile.exposure, "")


def starter(section: CrossSection, profile: Profile, at: float) -> None:
    """A starter strip whose top lies over a butt line by the profile's drop: its lip takes the hook."""
    lip = depth(profile, _LOCK)
    section.solid(
        [(OFF, at + profile.drop), (OFF, at + 0.62), (OFF, at + 0.5), (lip, at + 0.5), (lip, at + 0.2)],
        TRIM,
        "starter strip",
    )
