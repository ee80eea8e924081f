"""Sections through boards and shingles at their edges: laps, notches, starter strips. Inches."""

from __future__ import annotations

from collections.abc import Iterator

from evencourse.layout.language.speech import gettext, pgettext
from evencourse.render.details.band_board import band_board
from evencourse.render.details.board_parts import course, ghost, over, under
from evencourse.render.details.cross_section import CrossSection
from evencourse.render.details.need import Drawn, Need, cut_note
from evencourse.render.details.sizes import size
from evencourse.render.details.wall_parts import (
    foundation,
    furring,
    over_opening,
    soffit,
    under_opening,
    wall,
)
from evencourse.render.drawing.pens import DETAIL_ACT

#: Heights of sections where nothing is measured, and what is shown beyond what matters [in].
_SHOWN, _MORE = 3.6, 1.4
#: Less bare wall than this holds no strip [in].
_BARE = 0.4


def _packed(section: CrossSection, need: Need, up: bool, starter: bool = False) -> float:
    """The strip behind a cut edge at height 0, and how far it pushes that edge out.

    It lies on the wall where the wall is bare, else on what lies behind the course there.

    Args:
        section: where it is drawn.
        need: what the section is drawn for.
        up: what is left of the course lies above the cut.
        starter: it is a starter strip that is ripped.
    """
    thick, profile, tall = need.furring, need.profile, size("wall", "strip")
    if not thick:
        return 0.0
    behind = profile.back(need.cut)
    bare = 0.0 if profile.family == "shingle" else tall if up else need.cut - profile.lap
    on, push = (0.0, max(0.0, thick - behind)) if bare >= _BARE else (behind, thick)
    tall = min(tall, bare) if bare >= _BARE else min(tall, tall if up else need.cut)
    furring(section, thick, tall if up else 0.0, tall, on)
    middle = tall / 2 if up else -tall / 2
    if starter:
        words = gettext("starter strip, ripped to {thickness}", thickness=need.tape(thick))
    else:
        words = gettext("fur out {furring}", furring=need.tape(thick))
    section.label(words, (on + thick / 2, middle), DETAIL_ACT)
    return push


def base(need: Need) -> Drawn:
    """A first course on a strip of its own stock, with the lap of the next."""
    profile, at = need.profile, need.base
    cover = need.inches(at.cover) if at is not None else 1.0
    exposure = profile.exposure
    shingle = profile.family == "shingle"
    section = need.section(-1.2, exposure + (0.8 if shingle else profile.lap + 0.6))
    foundation(section, cover)
    wall(section, profile, cover, section.clip.top)
    under(section, profile, 0.0, 0.0, 99.0)
    over(section, profile, 0.0)
    section.height(0.0, exposure, need.tape(exposure), pgettext("under a dimension", "exposure"))
    if not shingle:
        section.height(
            exposure, exposure + profile.lap, need.tape(profile.lap), pgettext("under a dimension", "lap")
        )
    section.label(_behind(need, need.course), (profile.back(0.3), 0.3))
    words = gettext("course {course}", course=need.course)
    section.label(words, (profile.face(exposure / 2), exposure / 2))
    section.label(gettext("top of the foundation"), (0.0, cover))
    if shingle:
        return Drawn(
            section,
            gettext("Base: doubled"),
            (gettext("All butts level; they cover the foundation by {cover}.", cover=need.tape(cover)),),
        )
    section.label(gettext("the next course laps it"), (profile.face(0.2), exposure + 0.2))
    return Drawn(
        section,
        gettext("Base: strip and lap"),
        (
            gettext(
                "The strip gives course {course} the lean of the others. "
                "Course {course} covers the foundation by {cover}.",
                course=need.course,
                cover=need.tape(cover),
            ),
            *_strips(need),
        ),
    )


def _behind(need: Need, course: str = "") -> str:
    """What takes the place of the course below, where there is none.

    Args:
        need: what the section is drawn for.
        course: what shingles are doubled, by its name; empty where a leader shows it.
    """
    if need.profile.family == "shingle" and course:
        return gettext("course {course} doubled: shingles under it", course=course)
    if need.profile.family == "shingle":
        return gettext("doubled: shingles under it")
    if len(need.laps) > 1:
        return gettext("starter furring: the top of a board, ripped off")
    return gettext("starter furring: the top {lap} of a board, ripped off", lap=need.lap)


def base_cut(need: Need) -> Drawn:
    """A first course ripped along a base."""
    profile, cut, hang = need.profile, need.cut, need.hang
    off, strip = need.below_and_above
    rest, low = profile.exposure - cut, cut - hang
    section = need.section(-max(cut, 0.8) - 0.4, rest + _MORE)
    foundation(section, 0.0)
    wall(section, profile, 0.0, section.clip.top)
    push = _packed(section, need, True, starter=True)
    course(section, profile, -cut, low, profile.width, (push, 0.0), "kept")
    over(section, profile, rest)
    ghost(section, profile, -cut, 0.0, low)
    section.height(-cut, -hang, off, pgettext("under a dimension", "off"))
    section.height(0.0, rest, strip, pgettext("under a dimension", "strip"))
    words = gettext("{off} off the bottom; keep {kept}, lap included.", off=off, kept=need.kept)
    if need.measurable(hang):
        covers = gettext("It covers the foundation by {cover}.", cover=need.tape(hang))
        words = f"{words} {covers}"
    return Drawn(section, gettext("Base, ripped"), (words,))


def head(need: Need) -> Drawn:
    """A butt line on a head."""
    profile, trim = need.profile, need.head_trim
    section = need.section(-trim - 1.9, _SHOWN)
    over_opening(section, profile, trim, need.solid)
    under(section, profile, 0.0, 0.0, 99.0)
    over(section, profile, 0.0)
    section.label(gettext("whole course, butt line on the head"), (profile.face(1.2), 1.2))
    behind = gettext("top of the course below, cut to the outline") if need.curved else _behind(need)
    section.label(behind, (profile.back(0.4), 0.4))
    curves = gettext("Over a curve or a peak ({places}): no cut, nothing under it.", places=need.curves)
    if need.curved:
        return Drawn(section, gettext("Head, flush"), (curves,))
    note = (
        gettext("No cut. The shingles under it run over the whole head, casing included.")
        if profile.family == "shingle"
        else gettext("No cut. The strip keeps its lean and runs over the whole head, casing included.")
    )
    note = f"{note} {curves}" if need.curves else note
    return Drawn(section, gettext("Head, flush"), (note, *_strips(need)))


def _strips(need: Need) -> Iterator[str]:
    """How wide the strip under a whole course is, where it is not the same everywhere."""
    if need.profile.family == "lap" and len(need.laps) > 1:
        yield gettext("The strip: {widths}. Drawn for {place}.", widths=need.laps_told, place=need.place)


def head_cut(need: Need) -> Drawn:
    """A course cut round a head."""
    profile, cut, trim = need.profile, need.cut, need.head_trim
    off, strip = need.below_and_above
    rest = profile.exposure - cut
    section = need.section(min(-cut - 0.4, -trim - 1.9), rest + max(_MORE, min(profile.lap, 2.0) + 0.4))
    over_opening(section, profile, trim, need.solid)
    if profile.family == "shingle":
        under(section, profile, -cut, 0.0, section.clip.top)
    push = _packed(section, need, True)
    course(section, profile, -cut, cut, profile.width, (push, 0.0), "kept")
    over(section, profile, rest)
    ghost(section, profile, -cut, 0.0, cut)
    section.height(-cut, 0.0, off, pgettext("under a dimension", "off"))
    section.height(0.0, rest, strip, pgettext("under a dimension", "strip"))
    words = gettext("cut edge on the drip cap") if trim > 0 else gettext("cut edge")
    section.label(words, (profile.face(cut) + push, 0.1))
    section.label(gettext("the next course covers its lap"), (profile.face(0.2), rest + 0.2))
    return Drawn(
        section,
        gettext("Head, cut"),
        (
            cut_note(need, "bottom"),
            gettext("Keep {kept}, lap included.", kept=need.kept),
        ),
    )


def sill(need: Need) -> Drawn:
    """A butt line on a sill: the lap comes off."""
    profile, trim = need.profile, need.sill_trim
    section = need.section(-_SHOWN, trim + 1.9)
    under_opening(section, profile, trim, need.solid)
    _flush(section, need)
    curves = gettext("At a curve ({places}): the top is cut to the outline.", places=need.curves)
    notes = [_lap_off(need)] if not need.curved else []
    return Drawn(section, gettext("Sill, flush"), (*notes, *([curves] if need.curves else [])))


def _lap_off(need: Need) -> str:
    if need.ends:
        return cut_note(need, "top")
    if len(need.laps) < 2:
        return gettext("{lap} off the top: the lap.", lap=need.lap)
    return gettext(
        "The lap comes off the top: {widths}. Drawn for {place}.", widths=need.laps_told, place=need.place
    )


def _flush(section: CrossSection, need: Need) -> None:
    profile = need.profile
    under(section, profile, -profile.exposure, -99.0, 0.0)
    course(section, profile, -profile.exposure, 0.0, profile.exposure, part="kept")
    ghost(section, profile, -profile.exposure, profile.exposure, profile.width)
    section.label(gettext("the lap comes off"), (profile.face(profile.exposure), -0.05))
    section.label(gettext("course ends on the line"), (profile.face(profile.exposure - 2.2), -2.2))


def sill_cut(need: Need) -> Drawn:
    """A course cut round a sill; the course below, where there is one, may stand up behind the sill."""
    profile, cut, trim = need.profile, need.cut, need.sill_trim
    section = need.section(-cut - 1.4, trim + 1.9)
    under_opening(section, profile, trim, need.solid)
    _ripped(section, need)
    notes = [cut_note(need, "top")]
    if need.measurable(profile.lap - cut) and not need.begun:
        behind = need.tape(profile.lap - cut)
        ghost(section, profile, -cut - profile.exposure, cut + profile.exposure, profile.width)
        notes.append(
            gettext("The course below stands up behind the sill by {height}: notch it, too.", height=behind)
        )
    return Drawn(section, gettext("Sill, cut"), tuple(notes))


def _ripped(section: CrossSection, need: Need) -> None:
    """A course cut at height 0 from its top, with what is behind it."""
    profile, cut = need.profile, need.cut
    keep, _ = need.below_and_above
    under(section, profile, -cut, -99.0, 0.0)
    push = _packed(section, need, False)
    course(section, profile, -cut, 0.0, cut, (0.0, push), "kept")
    section.height(-cut, 0.0, keep, pgettext("under a dimension", "keep"))
    section.label(gettext("cut edge"), (profile.face(cut) + push, -0.2))


def eave(need: Need) -> Drawn:
    """A butt line under an eave."""
    section = need.section(-_SHOWN, 1.9, right=3.4)
    wall(section, need.profile, -_SHOWN, 0.0)
    soffit(section)
    _flush(section, need)
    section.label(need.over, (3.0, 0.2))
    return Drawn(section, need.topped(ripped=False), (_lap_off(need),))


def eave_cut(need: Need) -> Drawn:
    """A last course ripped under an eave."""
    section = need.section(-need.cut - 1.4, 1.2, right=3.4)
    wall(section, need.profile, section.clip.bottom, 0.0)
    soffit(section)
    _ripped(section, need)
    section.label(need.over, (3.0, 0.2))
    note = cut_note(need, "top")
    return Drawn(section, need.topped(ripped=True), (note,))


def under_band(need: Need) -> Drawn:
    """A course that ends under a band board."""
    cut = need.edge is not None and need.edge.result != "flush"
    section = band_board(need, -(need.cut + 1.4 if cut else _SHOWN))
    if cut:
        _ripped(section, need)
        note = cut_note(need, "top")
        return Drawn(section, gettext("Band board, cut"), (note,))
    _flush(section, need)
    return Drawn(section, gettext("Band board, flush"), (_lap_off(need),))
