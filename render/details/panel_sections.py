"""Sections through panels at their edges: heads, sills, band boards, eaves, bases."""

from __future__ import annotations

from evencourse.layout.language.speech import gettext, noop, pgettext
from evencourse.layout.trade.materials import materials
from evencourse.render.details.band_board import band_board
from evencourse.render.details.cross_section import CrossSection
from evencourse.render.details.need import Drawn, Need, cut_note
from evencourse.render.details.panel_parts import (
    below,
    depth,
    lower_part,
    off_bottom,
    off_top,
    panel,
    starter,
    upper_part,
)
from evencourse.render.details.sizes import size
from evencourse.render.details.wall_parts import (
    OFF,
    channel,
    foundation,
    furring,
    over_opening,
    soffit,
    under_opening,
    utility,
    wall,
)
from evencourse.render.drawing.pens import DETAIL_ACT, STARTER

#: How much of a wall is shown beyond what matters [in].
_MORE = 1.4
#: No section is higher than this where nothing is measured [in].
_SHOWN = 3.3
#: Said of a course that ends on a line.
_HEM = noop("Lock and nail hem come off.")


def base(need: Need) -> Drawn:
    """A first course on its starter strip."""
    profile, at = need.profile, need.base
    cover = need.inches(at.cover) if at is not None else 1.0
    section = need.section(-1.2, profile.drop + 1.6)
    foundation(section, cover)
    wall(section, profile, cover, section.clip.top)
    panel(section, profile, 0.0)
    starter(section, profile, 0.0)
    section.height(0.0, profile.drop, need.tape(profile.drop), pgettext("under a dimension", "to chalk line"))
    section.label(gettext("chalk line: top of the starter strip"), (OFF, profile.drop), STARTER)
    apart = need.tape(materials()["trim"]["starter strip"]["apart"])
    section.label(gettext("starter strip, nailed {apart} apart", apart=apart), (OFF, profile.drop * 0.55))
    section.label(gettext("first course, hooked on the strip"), (profile.projection, 0.05))
    section.label(gettext("top of the foundation"), (0.0, cover))
    return Drawn(
        section,
        gettext("Base: starter strip"),
        (
            gettext(
                "Upper edge of the strip on the chalk line. The course covers the foundation by {cover}.",
                cover=need.tape(cover),
            ),
        ),
    )


def _without_its_foot(section: CrossSection, need: Need) -> None:
    """A course that is cut at height 0 and stands in a channel there; what comes off hangs below it."""
    profile, cut = need.profile, need.cut
    off, strip = need.below_and_above
    rest = profile.exposure - cut
    channel(section, profile, 0.0, True)
    upper_part(section, profile, -cut, cut, need.furring)
    _furred_head(section, need)
    panel(section, profile, rest, "")
    off_bottom(section, profile, -cut, cut)
    section.height(-cut, 0.0, off, pgettext("under a dimension", "off"))
    section.height(0.0, rest, strip, pgettext("under a dimension", "strip"))


def base_cut(need: Need) -> Drawn:
    """A first course ripped along a base: it has no hook."""
    profile, cut = need.profile, need.cut
    section = need.section(-cut - 0.5, profile.exposure - cut + _MORE)
    foundation(section, 0.0)
    wall(section, profile, 0.0, section.clip.top)
    _without_its_foot(section, need)
    section.label(gettext("channel"), (profile.pocket + OFF, 0.6))
    section.label(gettext("ripped: no hook"), (profile.face(cut) + need.furring, 0.15))
    note = gettext("Rip the bottom off; the cut edge stands in the channel.")
    return Drawn(section, gettext("Base without a lock"), (note,))


def head(need: Need) -> Drawn:
    """A butt line on a head."""
    profile, trim = need.profile, need.head_trim
    section = need.section(-trim - 1.9, _SHOWN)
    over_opening(section, profile, trim, need.solid)
    channel(section, profile, 0.0, True)
    panel(section, profile, 0.0)
    section.label(gettext("whole course, butt line on the head"), (profile.projection, 1.4))
    section.label(gettext("channel"), (profile.pocket + OFF, 0.6))
    note = gettext("No cut. The course hooks on its neighbors beside the opening.")
    return Drawn(section, gettext("Head, flush"), (note,))


def head_cut(need: Need) -> Drawn:
    """A course cut round a head: its lower part comes off."""
    profile, cut, trim = need.profile, need.cut, need.head_trim
    rest = profile.exposure - cut
    section = need.section(min(-cut - 0.4, -trim - 1.9), rest + _MORE)
    over_opening(section, profile, trim, need.solid)
    _without_its_foot(section, need)
    section.label(gettext("cut edge in the channel"), (profile.face(cut) + need.furring, 0.3))
    section.label(gettext("the course's own lock and hem hold it"), (depth(profile, 0.0), rest + 0.1))
    return Drawn(section, gettext("Head, cut"), (cut_note(need, "bottom"),))


def sill(need: Need) -> Drawn:
    """A butt line on a sill: lock and hem of the course below come off."""
    profile, trim = need.profile, need.sill_trim
    section = need.section(-_SHOWN, trim + 1.9)
    under_opening(section, profile, trim, need.solid)
    channel(section, profile, 0.0, False)
    face = lower_part(section, profile, -profile.exposure, profile.exposure, 0.0)
    utility(section, face, OFF, 0.0)
    off_top(section, profile, -profile.exposure, profile.exposure)
    section.label(gettext("channel"), (profile.pocket + OFF, -0.6))
    section.label(gettext("utility trim grips the lugs"), (face + 0.07, -0.35))
    section.label(gettext("course ends on the sill"), (profile.face(profile.exposure - 2), -2.0))
    return Drawn(section, gettext("Sill, flush"), (gettext(_HEM), _lugs(need)))


def sill_cut(need: Need) -> Drawn:
    """A course cut round a sill: its upper part comes off, what is left is packed and gripped."""
    trim = need.sill_trim
    section = need.section(-need.cut - 1.0, trim + 1.9)
    under_opening(section, need.profile, trim, need.solid)
    channel(section, need.profile, 0.0, False)
    _gripped(section, need, gettext("utility trim grips the lugs"))
    section.label(gettext("channel"), (need.profile.pocket + OFF, -0.6))
    return Drawn(section, gettext("Sill, cut"), _gripped_notes(need))


def eave(need: Need) -> Drawn:
    """A butt line under an eave."""
    profile = need.profile
    section = need.section(-_SHOWN, 1.9, right=3.4)
    wall(section, profile, -_SHOWN, 0.0)
    soffit(section)
    face = lower_part(section, profile, -profile.exposure, profile.exposure, 0.0)
    utility(section, face, OFF, 0.0)
    section.label(need.over, (3.0, 0.2))
    section.label(need.gripping, (face + 0.07, -0.35))
    section.label(gettext("last course"), (profile.face(profile.exposure - 2), -2.0))
    return Drawn(
        section,
        need.topped(ripped=False),
        (cut_note(need, "top") if need.ends else gettext(_HEM), _lugs(need)),
    )


def eave_cut(need: Need) -> Drawn:
    """A last course ripped under an eave."""
    section = need.section(-need.cut - 1.0, 1.2, right=3.4)
    wall(section, need.profile, section.clip.bottom, 0.0)
    soffit(section)
    _gripped(section, need, need.gripping, ghost=False)
    section.label(need.over, (3.0, 0.2))
    return Drawn(section, need.topped(ripped=True), _gripped_notes(need))


def under_band(need: Need) -> Drawn:
    """A course that ends under a band board."""
    cut = need.edge is not None and need.edge.result != "flush"
    profile = need.profile
    section = band_board(need, -(need.cut + 1.0 if cut else _SHOWN))
    if cut:
        _gripped(section, need, gettext("utility trim grips the lugs"), ghost=False)
        return Drawn(section, gettext("Band board, cut"), _gripped_notes(need))
    face = lower_part(section, profile, -profile.exposure, profile.exposure, 0.0)
    utility(section, face, OFF, 0.0)
    section.label(gettext("utility trim grips the lugs"), (face + 0.07, -0.35))
    return Drawn(section, gettext("Band board, flush"), (gettext(_HEM), _lugs(need)))


def _gripped(section: CrossSection, need: Need, words: str, ghost: bool = True) -> None:
    """A course cut at height 0 from its top: packed, gripped, with its dimension."""
    profile, cut, packed = need.profile, need.cut, need.furring
    keep, off = need.below_and_above
    below(section, profile, -cut)
    face = lower_part(section, profile, -cut, cut, packed)
    if packed:
        furring(section, packed, 0.0, min(size("wall", "strip"), cut))
        section.label(gettext("fur out {furring}", furring=need.tape(packed)), (packed / 2, -0.9), DETAIL_ACT)
    utility(section, face, max(packed, OFF), 0.0)
    if ghost:
        off_top(section, profile, -cut, cut)
    section.height(-cut, 0.0, keep, pgettext("under a dimension", "keep"))
    rest = profile.exposure - cut
    if ghost and rest <= section.clip.top:
        section.height(0.0, rest, off, pgettext("under a dimension", "off"))
    section.label(words, (face + 0.07, -0.3))


def _gripped_notes(need: Need) -> tuple[str, ...]:
    return (cut_note(need, "top"), _lugs(need))


def _furred_head(section: CrossSection, need: Need) -> None:
    packed, tall = need.furring, size("wall", "strip")
    if packed:
        furring(section, packed, tall, tall)
        section.label(gettext("fur out {furring}", furring=need.tape(packed)), (packed / 2, 1.0), DETAIL_ACT)


def _lugs(need: Need) -> str:
    return gettext(
        "Lugs raised every {apart}, {below} below the cut.",
        apart=need.tape(size("lugs", "apart")),
        below=need.tape(size("lugs", "below")),
    )
