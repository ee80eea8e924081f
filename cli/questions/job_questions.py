"""The questions of a new job, in the order in which one walks round a building."""

from __future__ import annotations

import re
from collections.abc import Mapping

from evencourse.cli.questions.interview import BACK, NO, NOTHING, YES, Interview
from evencourse.cli.questions.wall_questions import HEIGHT, WallQuestions, base_ends, one_of
from evencourse.layout.jobfile.job_draft import (
    CORNERS,
    KINDS,
    SHAPES,
    FaceDraft,
    JobDraft,
    Value,
)
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import gettext, noop, pgettext
from evencourse.layout.model.lengths import show_length
from evencourse.layout.trade.profiles import profile_names, profiles
from evencourse.layout.trade.rules import rules

INTRO = noop(
    "Lengths as on the tape: 36-1/2, 14' 3-1/2, 4356 mm. Heights from the datum: up is plus, down is minus. "
    "Enter takes what stands in [ ], {back} goes back one question, {back} 3 three, {back} width to the one "
    "about width; ? says more, Ctrl-C stops and keeps what was answered."
)
#: Names offered for the faces, as one meets them.
NAMES = (noop("Front"), noop("Right side"), noop("Rear"), noop("Left side"))
DOORS = ("door", "garage door")
_PITCH = re.compile(r".*(?:/|in|:) ?12", re.ASCII)


class JobQuestions(WallQuestions):
    """A script for :class:`evencourse.cli.questions.interview.Interview`.

    ``draft`` is what is known, also when it is stopped.

    Attributes:
        draft: the answers so far.
    """

    def __init__(self) -> None:
        super().__init__()
        #: The siding of faces that have one, by the face's place.
        self._alone: dict[int, str] = {}
        #: Names of the faces that the job has already.
        self._named: list[Mapping[str, Value]] = []

    def __call__(self, interview: Interview) -> JobDraft:
        """Ask everything; the finished draft is a job without a fault."""
        self.draft, self._alone = JobDraft(), {}
        self._ask = interview
        interview.note(gettext(INTRO, back=BACK))
        self._job()
        while self._face():
            pass
        self._starter()
        return self.draft

    def _job(self) -> None:
        job = self.draft.job
        self._put(job, "job", "name", gettext("Name of the job"), free=True)
        more = gettext("{inches}: inches and feet; {millimetres}: millimetres", inches="in", millimetres="mm")
        text = gettext("Tape reads {units}", units=either(("in", "mm")))
        units = self._put(job, "job", "units", text, "in", more)
        mark, more = "1/16" if units == "in" else "1", gettext("every shown length is rounded to it")
        self._put(job, "job", "round", gettext("Finest mark on the tape"), mark, more)
        text, line = gettext("Datum, in words"), gettext("level line round the building")
        more = gettext("a level line struck round the building; every height is measured from it")
        self._put(job, "job", "datum", text, line, more, free=True)
        self._put(job, "job", "author", gettext("Who measures"), NOTHING, free=True)
        more = gettext("as 55 F or 13 C: it sets the gap at panel ends")
        self._put(job, "job", "temperature", gettext("Temperature when it goes up"), NOTHING, more)
        self._ask.note(gettext("Profiles: {profiles}.", profiles=", ".join(profile_names())))
        self._siding(pgettext("question", "Siding"))
        self._ask.note(
            gettext("Trim round openings, outside the hole. Openings are measured as the hole in the wall.")
        )
        trim = self.draft.trim
        self._put(trim, "trim", "head", gettext("Width of trim over them"), "0")
        self._put(trim, "trim", "sill", gettext("Width of trim below them"), "0")
        self._put(trim, "trim", "side", gettext("Width of trim beside them"), "0")

        framing, text = self.draft.framing, gettext("Studs, center to center")
        more = gettext("joints of boards fall on studs; {none}: not known", none=NOTHING)
        if self._put(framing, "framing", "spacing", text, NOTHING, more):
            self._put(framing, "framing", "offset", gettext("First stud, from the left corner"), "0")

    def _starter(self) -> None:
        """Where the first course may begin, when something but base and ground decides that."""
        start = self._ask.place
        more = gettext(
            "the bottom of the first course. {none}: found from the base and the ground", none=NOTHING
        )
        over = base_ends(self.draft.faces[0])["left"]
        text = gettext("Starter line, the lowest it may lie")
        low = self._key("limits", "starter", text, NOTHING, more, over=over)
        if low:
            text = gettext("Starter line, the highest it may lie")
            high = self._key("limits", "starter", text, low, over=over)
            self.draft.limits["starter"] = (low, high)
        self._check(start)

    def _siding(self, text: str, default: str | None = None) -> str:
        """Ask for a shipped profile, and note it among the job's claddings."""
        more = gettext(
            "{profiles}. {command} shows their sizes; another exposure can be written into the job file",
            profiles=", ".join(profile_names()),
            command="evencourse claddings",
        )
        profile = self._key("cladding", "profile", text, default, more)
        if profile not in self.draft.claddings:
            self.draft.claddings.append(profile)
            self._stock(profile)
        return profile

    def _stock(self, profile: str) -> None:
        """The length in which a profile is bought; shingles come in random widths."""
        usual = profiles(self._units)[profile].length
        if usual <= 0:
            return
        shown = show_length(usual, self._units, rules().round[self._units])
        text = gettext("Stock length of {profile}", profile=profile)
        length = self._key("cladding", "length", text, shown, gettext("as it is bought"))
        if length != shown:
            self.draft.stock[profile] = length

    def _face(self) -> bool:
        """One face; False after the last one."""
        number = len(self._named) + len(self.draft.faces) + 1
        start = self._ask.place
        self._ask.note("")
        if number == 1:
            self._ask.note(gettext("Face {number}, at the front, seen from outside.", number=number))
        else:
            self._ask.note(
                gettext("Face {number}, round its right corner, seen from outside.", number=number)
            )
        face = FaceDraft()
        self.draft.faces.append(face)
        known = number <= len(NAMES)
        name = gettext(NAMES[number - 1]) if known else gettext("Face {number}", number=number)
        beside = [*self._named, *(other.values for other in self.draft.faces[:-1])]
        more = gettext("what the crew calls this side of the building; sheets and lists call it so")
        text = gettext("Name of the face")
        face.values["name"] = self._own("elevation", "name", text, beside, name, more)
        more = gettext(
            "{no}: one width, a level or sloping base and eave, and perhaps a gable; what stands against the "
            "wall is asked for after its openings",
            no=gettext(NO),
        )
        steps = self._yes(gettext("Steps in its base or its top"), NO, more)
        if steps:
            self._corners(face)
        else:
            self._plain(face)
        self._grounds(face)
        text, more = gettext("How much this face matters"), gettext("1, or more for a face that shows")
        self._put(face.values, "elevation", "weight", text, "1", more, usual="1")
        before = self.draft.faces[-2].values.get("right") if len(self.draft.faces) > 1 else None
        ends = {"left": CORNERS[1] if before == CORNERS[1] else CORNERS[0], "right": CORNERS[0]}
        for side, end in ends.items():  # the corner that the face before ends at is of its kind
            text = gettext("Right end: {words}", words=one_of(CORNERS))
            if side == "left":
                text = gettext("Left end: {words}", words=one_of(CORNERS))
            more = gettext("{butts}: it ends against trim or another wall", butts=CORNERS[2])
            self._put(face.values, "elevation", side, text, end, more, usual=CORNERS[0])
        self._zones(face)
        self._check(start)
        while self._opening(face):
            pass
        if any(opening.get("kind") in DOORS for opening in face.openings):
            text, more = (
                gettext("Entrance, its middle from the left corner"),
                gettext("seams face away from it"),
            )
            self._put(face.values, "elevation", "entrance", text, NOTHING, more)
        self._check(start)
        while self._roof(face):
            pass
        while self._fixture(face):
            pass
        more = gettext(
            "{yes}: the next side of the building, round the corner; {no}: that was the last one",
            yes=gettext(YES),
            no=gettext(NO),
        )
        return self._yes(gettext("Another face"), YES if number < 4 and not self._named else NO, more)

    def _zones(self, face: FaceDraft) -> None:
        """The siding of a face, or several, one above another."""
        first = self.draft.claddings[0]
        profile = self._siding(gettext("Siding on this face, from the base up"), first)
        more = gettext("{yes}: it ends at a height, and another siding goes on above it", yes=gettext(YES))
        while self._yes(gettext("Another siding above the {profile}", profile=profile), NO, more):
            zone: dict[str, Value] = {"cladding": profile}
            face.zones.append(zone)
            self._put(zone, "zone", "top", gettext("Height where the {profile} ends", profile=profile))
            self._put(zone, "zone", "trim", gettext("Band board on that line, its height"), "0")
            profile = self._siding(gettext("Siding above the {profile}", profile=profile))
        if face.zones:
            face.zones.append({"cladding": profile})
        else:
            self._alone[len(self.draft.faces) - 1] = profile
        if len(self.draft.claddings) > 1:
            for index, alone in self._alone.items():
                self.draft.faces[index].values["cladding"] = alone

    def _opening(self, face: FaceDraft) -> bool:
        """One opening; False when there are no more."""
        start = self._ask.place
        if not face.openings:
            self._ask.note(gettext("Openings, from left to right."))
        text = gettext("Opening: its mark, as A; {none} when there are no more", none=NOTHING)
        mark = self._own("opening", "mark", text, face.openings)
        if not mark:
            return False
        opening: dict[str, Value] = {"mark": mark}
        face.openings.append(opening)
        text = gettext("{mark}: {words}", mark=mark, words=one_of(KINDS))
        kind = self._put(opening, "opening", "kind", text, KINDS[0], usual=KINDS[0])
        text, more = gettext("{mark}: shape", mark=mark), ", ".join(SHAPES)
        shape = self._put(opening, "opening", "shape", text, SHAPES[0], more, usual=SHAPES[0])
        text = gettext("{mark}: left corner of the wall to its left side", mark=mark)
        self._put(opening, "opening", "left", text)
        door = kind in DOORS
        more = gettext(HEIGHT)
        if door:
            more = gettext("{none}: it stands on the base of the wall", none=NOTHING)
        text = gettext("{mark}: height of its bottom", mark=mark)
        self._put(opening, "opening", "sill", text, NOTHING if door else None, more)
        self._put(opening, "opening", "width", gettext("{mark}: width of the hole", mark=mark))
        if shape != "round":
            self._put(opening, "opening", "height", gettext("{mark}: height of the hole", mark=mark))
        if shape == "arch":
            self._put(opening, "opening", "rise", gettext("{mark}: rise of the arch", mark=mark))
        words = one_of(("must", "want", "ignore"))
        text = gettext("{mark}: flush head: {words}", mark=mark, words=words)
        self._put(opening, "opening", "head_edge", text, "want", usual="want")
        if not door or "sill" in opening:
            text = gettext("{mark}: flush sill: {words}", mark=mark, words=words)
            self._put(opening, "opening", "sill_edge", text, "want", usual="want")
        self._check(start)
        return True

    def _fixture(self, face: FaceDraft) -> bool:
        """One thing on the wall; False when there are no more."""
        start = self._ask.place
        if not face.fixtures:
            self._ask.note(gettext("Spigots, lights, meters, vents: what siding is cut round."))
        text = gettext("On the wall: its mark, as S1; {none} when there is no more", none=NOTHING)
        mark = self._own("fixture", "mark", text, face.fixtures)
        if not mark:
            return False
        fixture: dict[str, Value] = {"mark": mark}
        face.fixtures.append(fixture)
        text = gettext("{mark}: left corner of the wall to its left side", mark=mark)
        self._put(fixture, "fixture", "left", text)
        text = gettext("{mark}: height of its bottom", mark=mark)
        self._put(fixture, "fixture", "bottom", text, help=gettext(HEIGHT))
        self._put(fixture, "fixture", "width", gettext("{mark}: width", mark=mark))
        self._put(fixture, "fixture", "height", gettext("{mark}: height", mark=mark))
        more = gettext(
            "{yes}: siding is cut round its block; {no}: a seam falls on it, or it is cut into a piece",
            yes=gettext(YES),
            no=gettext(NO),
        )
        if not self._yes(gettext("{mark}: on a mounting block", mark=mark), YES, more):
            fixture["block"] = "false"
        self._check(start)
        return True
