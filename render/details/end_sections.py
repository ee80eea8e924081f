"""Sections where siding ends on a slope or at a corner: under a rake, over a roof, on a base. Inches."""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce

from evencourse.layout.language.speech import decimals, gettext, pgettext
from evencourse.layout.model.course_plan import Rake
from evencourse.layout.trade.rules import rules
from evencourse.render.details.board_parts import course, hatching, over, under
from evencourse.render.details.cross_section import CrossSection
from evencourse.render.details.need import Drawn, Need
from evencourse.render.details.sizes import Profile, size
from evencourse.render.details.wall_parts import METAL, OFF, TRIM, channel, foundation, soffit, wall
from evencourse.render.drawing.drawing import Point
from evencourse.render.drawing.pens import DETAIL_HEAVY, DETAIL_OFF
from evencourse.render.words.plan_words import layout_words, layouts_shown, pitch_words

#: How much of a wall is shown, and of a wall at a corner [in].
_SHOWN, _ALONG = 3.0, 5.2
#: Most slopes told one by one in a title.
_MOST_TOLD = 3


def _siding(section: CrossSection, profile: Profile, low: float, high: float) -> float:
    """Siding whose end is cut across its courses, at half its depth: returns the stand-off of its face."""
    middle = profile.exposure / profile.steps / 2
    face = profile.face(middle)
    if profile.family == "panel":
        if profile.foam:
            skin = face - profile.butt
            section.body([(OFF, low), (skin, low), (skin, high), (OFF, high)], "foam")
        section.solid([(face - profile.butt / 2, low), (face - profile.butt / 2, high)], profile.butt, "kept")
    else:
        back = profile.back(middle)
        section.body([(back, low), (face, low), (face, high), (back, high)], hatching(profile), part="kept")
    return face


def rake(need: Need) -> Drawn:
    """Siding under a rake, or under a roof or a deck out of level, the section square to the slope."""
    profile, slope = need.profile, need.rake
    panel = profile.family == "panel"
    section = need.section(-_SHOWN, 1.2, right=3.4)
    wall(section, profile, -_SHOWN, 0.0)
    soffit(section)
    gap = profile.gap
    if panel:
        channel(section, profile, -TRIM, False)
        section.label(gettext("channel along the slope"), (profile.pocket + OFF, -0.6))
    face = _siding(section, profile, -_SHOWN, -gap)
    section.height(-gap, 0.0, need.tape(gap), pgettext("under a dimension", "gap"))
    section.label(gettext("soffit or rake board"), (3.0, 0.2))
    section.label(gettext("end cut to the slope"), (face, -1.6))
    if slope is None:
        note = gettext(
            "Section square to the slope. Cut each course to the slope as the list says; leave the gap."
        )
        return Drawn(section, gettext("Under a roof out of level"), (note,))
    rises = list(dict.fromkeys(map(_rise, sorted(need.rakes, key=lambda one: one.pitch))))
    if len(rises) > 1:
        title = gettext("Rakes, {rises} in 12", rises=reduce(_and, rises))
        if len(rises) > _MOST_TOLD:
            title = gettext("Rakes, {least} to {most} in 12", least=rises[0], most=rises[-1])
        note = gettext(
            "Section square to the slope. Lay each cut out to its own pitch, as told at the rakes; "
            "leave the gap, measured along the wall."
        )
        return Drawn(section, title, (note,))
    layouts = [layout_words(need.plan.job, *one) for one in layouts_shown(slope, need.plan.job)[:2]]
    note = gettext(
        "Section square to the slope. Lay the cut out {layout}; leave the gap, measured along the wall.",
        layout=reduce(_or, layouts),
    )
    return Drawn(section, gettext("Rake, {pitch}", pitch=pitch_words(slope)), (note,))


def _rise(slope: Rake) -> str:
    """How far a slope rises in 12."""
    return decimals(f"{slope.pitch:.2f}".rstrip("0").rstrip("."))


def _and(before: str, last: str) -> str:
    return gettext("{before} and {last}", before=before, last=last)


def _or(before: str, last: str) -> str:
    return gettext("{before} or {last}", before=before, last=last)


def roof(need: Need) -> Drawn:
    """Siding that dies on a lower roof, the section square to the roof."""
    profile = need.profile
    panel = profile.family == "panel"
    deck = need.kind == "sloping deck"
    clear, leg = _ledge_clear() if deck else profile.roof, size("wall", "flashing")
    top = 0.2
    edge = top + clear
    section = need.section(-0.9, max(leg + 0.8, edge + 2.2), right=leg + 0.5)
    wall(section, profile, -0.9, section.clip.top)
    right = section.clip.right
    section.body([(0.0, -0.5), (right, -0.5), (right, 0.0), (0.0, 0.0)], "sheathing")
    section.body([(0.3, 0.0), (right, 0.0), (right, top), (0.3, top)], "cement")
    section.solid([(0.06, leg + top), (0.06, 0.09), (leg, 0.09)], METAL)
    low = edge
    if panel:
        channel(section, profile, edge + TRIM / 2, True)
        low = edge + TRIM + profile.gap
        section.label(gettext("channel, clear of it"), (profile.pocket + OFF, edge + 0.6))
    face = _siding(section, profile, low, section.clip.top)
    section.height(top, edge, need.tape(clear), pgettext("under a dimension", "clear"))
    if deck:
        title = gettext("Over a deck out of level")
        flashing, below = gettext("flashing, its leg behind the barrier"), gettext("deck or ledger")
        note = gettext("Section square to the deck. Flashing first; leave the gap open, uncaulked.")
    else:
        title = gettext("Over a roof")
        flashing, below = gettext("step flashing, its leg behind the barrier"), gettext("roofing")
        note = gettext("Section square to the roof. Flashing first; leave the gap open, uncaulked.")
    section.label(flashing, (0.06, leg - 0.5))
    section.label(below, (2.4, top))
    section.label(gettext("end cut to the slope"), (face, max(low + 1.2, leg + 0.3)))
    if panel or not _begins_whole(need):
        return Drawn(section, title, (note,))
    behind = (
        gettext(
            "A second layer of shingles goes under a whole course that begins on its line, "
            "as over a flush head."
        )
        if profile.family == "shingle"
        else gettext(
            "Starter furring goes under a whole course that begins on its line, as over a flush head."
        )
    )
    return Drawn(section, title, (note, behind))


def _ledge_clear() -> float:
    """What siding keeps off a deck or a ledger, which a flashing covers [in]."""
    return rules().limits["ledger_clearance"]


def deck(need: Need) -> Drawn:
    """Siding over a level deck or ledger: on a channel, whole on a strip, or cut."""
    profile, leg, clear = need.profile, size("wall", "flashing"), _ledge_clear()
    panel, cut = profile.family == "panel", need.kind == "deck cut"
    section = need.section(-1.6 - clear, leg + 1.4, right=3.4)
    wall(section, profile, -0.9 - clear, section.clip.top)
    right, top = section.clip.right, -clear
    section.body([(0.0, -1.5 - clear), (right, -1.5 - clear), (right, top), (0.0, top)], "wood", DETAIL_HEAVY)
    lip = right - 0.5
    section.solid([(0.06, leg), (0.06, top + METAL), (lip, top + METAL)], METAL)
    section.label(gettext("flashing, its leg behind the barrier"), (0.06, leg - 0.5))
    section.label(gettext("deck or ledger"), (2.4, top - 0.7))
    notes = [gettext("Flashing first; leave the gap open, uncaulked.")]
    if panel:
        channel(section, profile, TRIM / 2, True)
        section.label(gettext("channel, clear of it"), (profile.pocket + OFF, 0.6))
        face = _siding(section, profile, TRIM + profile.gap, section.clip.top)
        section.label(gettext("course ends in the channel"), (face, 1.8))
    elif cut:
        course(section, profile, -need.cut, need.cut, profile.width, part="kept")
        over(section, profile, profile.exposure - need.cut)
        section.label(gettext("cut edge"), (profile.face(need.cut), 0.1))
        off, kept = need.below_and_above[0], need.kept
        notes.append(gettext("{off} off the bottom; keep {kept}, lap included.", off=off, kept=kept))
    else:
        under(section, profile, 0.0, 0.0, 99.0)
        over(section, profile, 0.0)
        section.label(gettext("whole course, butt line over it"), (profile.face(1.2), 1.2))
        shingle = profile.family == "shingle"
        behind = gettext("a second layer of shingles") if shingle else gettext("starter furring")
        section.label(behind, (profile.back(0.4), 0.4))
    section.height(top, 0.0, need.tape(clear), pgettext("under a dimension", "clear"))
    title = gettext("Over a deck or ledger, cut") if cut else gettext("Over a deck or ledger")
    return Drawn(section, title, tuple(notes))


def _begins_whole(need: Need) -> bool:
    """Whether a whole course of its siding begins on the line over some roof or deck."""
    return any(
        edge.edge == "over roof"
        and edge.result == "flush"
        and need.plan.course_sets[edge.course_set].cladding.name == need.cladding.name
        for face in need.plan.elevations
        for edge in face.edges
    )


def sloping_base(need: Need) -> Drawn:
    """Siding that ends on a base out of level, the section square to it."""
    profile = need.profile
    over = need.inches(need.slope.overhang) if need.slope is not None else 0.0
    section = need.section(-0.9 - over, _SHOWN, right=3.4)
    foundation(section, 0.0)
    wall(section, profile, 0.0, _SHOWN)
    low = -over
    if profile.family == "panel":
        channel(section, profile, TRIM / 2, True)
        low = TRIM + profile.gap
        section.label(gettext("channel along the base"), (profile.pocket + OFF, 0.6))
        section.height(TRIM, low, need.tape(profile.gap), pgettext("under a dimension", "gap"))
    face = _siding(section, profile, low, _SHOWN)
    section.label(gettext("courses cut along the base, packed out behind"), (face, low + 1.2))
    if need.measurable(over):
        section.label(gettext("top of the foundation"), (0.0, 0.0))
        section.height(low, 0.0, need.tape(over), pgettext("under a dimension", "below it"))
    note = gettext("Section square to the base. Cut each course to the base as the list says.")
    return Drawn(section, gettext("Base out of level"), (note,))


def outside_corner(need: Need) -> Drawn:
    """Two faces that end at an outside corner, in plan."""
    profile = need.profile
    panel = profile.family == "panel"
    board = size("wall", "board")
    reach = profile.pocket + OFF if panel else board + OFF
    section = need.section(-reach - 0.5, _ALONG, right=reach + 0.1, left=-_ALONG)
    _two_walls(section, True)
    gap = profile.gap
    if panel:
        end = _post(section, profile, True) + gap
        words = gettext("corner post; panel ends {gap} short of its pocket", gap=need.tape(gap))
        section.label(words, (reach - TRIM / 2, -reach / 2))
    else:
        wide = 3.5
        section.body([(OFF, -OFF), (reach, -OFF), (reach, wide), (OFF, wide)], "wood", DETAIL_HEAVY)
        section.body([(-wide, -OFF), (-wide, -reach), (reach, -reach), (reach, -OFF)], "wood", DETAIL_HEAVY)
        end = wide + gap
        words = gettext("corner boards; siding {gap} off them, caulked", gap=need.tape(gap))
        section.label(words, (reach, 1.6))
    _both(section, profile, end)
    section.label(gettext("barrier lapped round the corner"), (0.05, 4.9))
    return Drawn(section, gettext("Outside corner, plan"), tuple(_meeting(need)))


def inside_corner(need: Need) -> Drawn:
    """Two faces that end at an inside corner, in plan."""
    profile = need.profile
    panel = profile.family == "panel"
    reach = profile.pocket + OFF
    section = need.section(-0.9, _ALONG, right=_ALONG, left=-0.9)
    _two_walls(section, False)
    gap = profile.gap
    if panel:
        end = _post(section, profile, False) + gap
        words = gettext("inside post; panel ends {gap} short of its pocket", gap=need.tape(gap))
        section.label(words, (1.4, reach))
    else:
        strip = size("wall", "board") + OFF
        section.body([(OFF, OFF), (strip, OFF), (strip, strip), (OFF, strip)], "wood", DETAIL_HEAVY)
        end = strip + gap
        words = gettext("corner strip; siding {gap} off it, caulked", gap=need.tape(gap))
        section.label(words, (strip, strip))
    _both(section, profile, end, inside=True)
    return Drawn(section, gettext("Inside corner, plan"), tuple(_meeting(need)))


def _meeting(need: Need) -> Iterator[str]:
    """Whether course lines go on round the corner: faces that hang from one starter line have them level."""
    faces = [{zone.course_set for zone in face.zones} for face in need.plan.elevations]
    if len(faces) > 1 and all(sets == faces[0] for sets in faces) and len(faces[0]) == 1:
        yield gettext("Course lines of the two faces meet here: same height on both.")
    elif len(faces) > 1 and sum(map(len, faces)) > len(set().union(*faces)):
        yield gettext("Where both faces hang from one starter line, their course lines meet here.")


def _two_walls(section: CrossSection, outside: bool) -> None:
    """Sheathing and barrier of two walls whose corner is at the origin."""
    thick, far = size("wall", "sheathing"), _ALONG
    if outside:  # one face looks down, one to the right
        section.body(
            [(-far, 0.0), (0.0, 0.0), (0.0, far), (-thick, far), (-thick, thick), (-far, thick)], "sheathing"
        )
        section.line([(-far, -0.05), (0.05, -0.05), (0.05, far)], DETAIL_OFF)
        section.body(
            [(-thick - 1.5, thick), (-thick, thick), (-thick, thick + 1.5), (-thick - 1.5, thick + 1.5)],
            "across",
        )
        return
    section.body(
        [(-thick, -thick), (far, -thick), (far, 0.0), (0.0, 0.0), (0.0, far), (-thick, far)], "sheathing"
    )
    section.line([(0.05, far), (0.05, 0.05), (far, 0.05)], DETAIL_OFF)


def _post(section: CrossSection, profile: Profile, outside: bool) -> float:
    """A corner post with its two pockets; returns how far from the corner a pocket ends."""
    reach, face = profile.pocket + OFF, size("post", "face")
    flange = OFF + TRIM / 2
    if outside:
        back, lip = 0.4, reach - face
        for turn in (_down, _right):
            section.solid(
                [turn(p) for p in ((-lip + 1.2, flange), (back, flange), (back, reach - TRIM / 2))], TRIM
            )
        outer = reach - TRIM / 2
        section.solid(
            [(lip, -outer + 0.15), (lip, -outer), (outer, -outer), (outer, -lip), (outer - 0.15, -lip)],
            TRIM,
            "post",
        )
        return back + TRIM
    lip = 1.5
    for turn in (_across, _up):
        section.solid([turn(p) for p in ((lip + 0.9, flange), (flange, flange))], TRIM)
    section.solid([(lip, reach), (reach, reach), (reach, lip)], TRIM, "post")
    section.solid([(flange, flange), (reach, reach)], TRIM)
    return reach + TRIM


def _down(point: Point) -> Point:
    """Along one wall of an outside corner, and off it: the face that looks down."""
    return (-point[0], -point[1])


def _right(point: Point) -> Point:
    """The same on the face that looks to the right."""
    return (point[1], point[0])


def _across(point: Point) -> Point:
    """Along one wall of an inside corner: the one at the foot."""
    return point


def _up(point: Point) -> Point:
    """The other one."""
    return (point[1], point[0])


def _both(section: CrossSection, profile: Profile, end: float, inside: bool = False) -> None:
    """Siding on both faces, from where it ends at the corner."""
    middle = profile.exposure / profile.steps / 2
    face, back = profile.face(middle), profile.back(middle) if profile.family != "panel" else OFF
    for turn in (_across, _up) if inside else (_down, _right):
        if profile.family == "panel":
            skin = face - profile.butt
            if profile.foam:
                section.body([turn(p) for p in ((end, back), (9.0, back), (9.0, skin), (end, skin))], "foam")
            line = face - profile.butt / 2
            section.solid([turn(p) for p in ((end, line), (9.0, line))], profile.butt, "kept")
        else:
            ends = ((end, back), (9.0, back), (9.0, face), (end, face))
            section.body([turn(p) for p in ends], hatching(profile), part="kept")
