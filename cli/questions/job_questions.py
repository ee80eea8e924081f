"""The questions of a new job, in the order in which one walks round a building."""

from __future__ import annotations

import re
from collections.abc import Mapping

from evencourse.cli.questions.interview import NOTHING, Interview
from evencourse.cli.questions.wall_questions import HEIGHT, WallQuestions, base_ends
from evencourse.layout.jobfile.job_draft import (
    CORNERS,
    KINDS,
    SHAPES,
    FaceDraft,
    JobDraft,
    Value,
)
from evencourse.layout.model.lengths import show_length
from evencourse.layout.trade.profiles import profile_names, profiles
from evencourse.layout.trade.rules import rules

INTRO = (
    "Lengths as on the tape: 36-1/2, 14' 3-1/2, 4356 mm. Heights from the datum: up is plus, down is minus. "
    "Enter takes what stands in [ ], back goes back one question, back 3 three, back width to the one about "
    "width; ? says more, Ctrl-C stops and keeps what was answered."
)
#: Names offered for the faces, as one meets them.
NAMES = ("Front", "Right side", "Rear", "Left side")
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
        interview.note(INTRO)
        self._job()
        while self._face():
            pass
        self._starter()
        return self.draft

    def _job(self) -> None:
        job = self.draft.job
        self._put(job, "job", "name", "Name of the job", free=True)
        more = "in: inches and feet; mm: millimetres"
        units = self._put(job, "job", "units", "Tape reads in or mm", "in", more)
        mark = "1/16" if units == "in" else "1"
        self._put(job, "job", "round", "Finest mark on the tape", mark, "every shown length is rounded to it")
        more = "a level line struck round the building; every height is measured from it"
        self._put(job, "job", "datum", "Datum, in words", "level line round the building", more, free=True)
        self._put(job, "job", "author", "Who measures", NOTHING, free=True)
        more = "as 55 F or 13 C: it sets the gap at panel ends"
        self._put(job, "job", "temperature", "Temperature when it goes up", NOTHING, more)
        self._ask.note(f"Profiles: {', '.join(profile_names())}.")
        self._siding("Siding")
        self._ask.note(
            "Trim round openings, outside the hole. Openings are measured as the hole in the wall."
        )
        for name, text in (("head", "over them"), ("sill", "below them"), ("side", "beside them")):
            self._put(self.draft.trim, "trim", name, f"Width of trim {text}", "0")

        more = "joints of boards fall on studs; none: not known"
        if self._put(self.draft.framing, "framing", "spacing", "Studs, center to center", NOTHING, more):
            self._put(self.draft.framing, "framing", "offset", "First stud, from the left corner", "0")

    def _starter(self) -> None:
        """Where the first course may begin, when something but base and ground decides that."""
        start = self._ask.place
        more = "the bottom of the first course. none: found from the base and the ground"
        over = base_ends(self.draft.faces[0])["left"]
        low = self._key("limits", "starter", "Starter line, the lowest it may lie", NOTHING, more, over=over)
        if low:
            text = "Starter line, the highest it may lie"
            high = self._key("limits", "starter", text, low, over=over)
            self.draft.limits["starter"] = (low, high)
        self._check(start)

    def _siding(self, text: str, default: str | None = None) -> str:
        """Ask for a shipped profile, and note it among the job's claddings."""
        more = (
            f"{', '.join(profile_names())}. evencourse claddings shows their sizes; another exposure "
            "can be written into the job file"
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
        length = self._key("cladding", "length", f"Stock length of {profile}", shown, "as it is bought")
        if length != shown:
            self.draft.stock[profile] = length

    def _face(self) -> bool:
        """One face; False after the last one."""
        number = len(self._named) + len(self.draft.faces) + 1
        start = self._ask.place
        corner = "at the front" if number == 1 else "round its right corner"
        self._ask.note("")
        self._ask.note(f"Face {number}, {corner}, seen from outside.")
        face = FaceDraft()
        self.draft.faces.append(face)
        name = NAMES[number - 1] if number <= len(NAMES) else f"Face {number}"
        beside = [*self._named, *(other.values for other in self.draft.faces[:-1])]
        more = "what the crew calls this side of the building; sheets and lists call it so"
        face.values["name"] = self._own("elevation", "name", "Name of the face", beside, name, more)
        more = (
            "no: one width, a level or sloping base and eave, and perhaps a gable; what stands against the "
            "wall is asked for after its openings"
        )
        steps = self._yes("Steps in its base or its top", "no", more)
        if steps:
            self._corners(face)
        else:
            self._plain(face)
        self._grounds(face)
        more = "1, or more for a face that shows"
        self._put(face.values, "elevation", "weight", "How much this face matters", "1", more, usual="1")
        before = self.draft.faces[-2].values.get("right") if len(self.draft.faces) > 1 else None
        ends = {"left": CORNERS[1] if before == CORNERS[1] else CORNERS[0], "right": CORNERS[0]}
        for side, end in ends.items():  # the corner that the face before ends at is of its kind
            text = f"{side.capitalize()} end: outside corner, inside corner or butts"
            more = "butts: it ends against trim or another wall"
            self._put(face.values, "elevation", side, text, end, more, usual=CORNERS[0])
        self._zones(face)
        self._check(start)
        while self._opening(face):
            pass
        if any(opening.get("kind") in DOORS for opening in face.openings):
            text = "Entrance, its middle from the left corner"
            self._put(face.values, "elevation", "entrance", text, NOTHING, "seams face away from it")
        self._check(start)
        while self._roof(face):
            pass
        while self._fixture(face):
            pass
        more = "yes: the next side of the building, round the corner; no: that was the last one"
        return self._yes("Another face", "yes" if number < 4 and not self._named else "no", more)

    def _zones(self, face: FaceDraft) -> None:
        """The siding of a face, or several, one above another."""
        first = self.draft.claddings[0]
        profile = self._siding("Siding on this face, from the base up", first)
        more = "yes: it ends at a height, and another siding goes on above it"
        while self._yes(f"Another siding above the {profile}", "no", more):
            zone: dict[str, Value] = {"cladding": profile}
            face.zones.append(zone)
            self._put(zone, "zone", "top", f"Height where the {profile} ends")
            self._put(zone, "zone", "trim", "Band board on that line, its height", "0")
            profile = self._siding(f"Siding above the {profile}")
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
            self._ask.note("Openings, from left to right.")
        text = "Opening: its mark, as A; none when there are no more"
        mark = self._own("opening", "mark", text, face.openings)
        if not mark:
            return False
        opening: dict[str, Value] = {"mark": mark}
        face.openings.append(opening)
        text = f"{mark}: window, door, garage door, vent or other"
        kind = self._put(opening, "opening", "kind", text, KINDS[0], usual=KINDS[0])
        more = ", ".join(SHAPES)
        shape = self._put(opening, "opening", "shape", f"{mark}: shape", SHAPES[0], more, usual=SHAPES[0])
        self._put(opening, "opening", "left", f"{mark}: left corner of the wall to its left side")
        door = kind in DOORS
        standing = "none: it stands on the base of the wall"
        text, more = f"{mark}: height of its bottom", standing if door else HEIGHT
        self._put(opening, "opening", "sill", text, NOTHING if door else None, more)
        self._put(opening, "opening", "width", f"{mark}: width of the hole")
        if shape != "round":
            self._put(opening, "opening", "height", f"{mark}: height of the hole")
        if shape == "arch":
            self._put(opening, "opening", "rise", f"{mark}: rise of the arch")
        edges = ("head",) if door and "sill" not in opening else ("head", "sill")
        for edge in edges:
            text = f"{mark}: flush {edge}: must, want or ignore"
            self._put(opening, "opening", f"{edge}_edge", text, "want", usual="want")
        self._check(start)
        return True

    def _fixture(self, face: FaceDraft) -> bool:
        """One thing on the wall; False when there are no more."""
        start = self._ask.place
        if not face.fixtures:
            self._ask.note("Spigots, lights, meters, vents: what siding is cut round.")
        text = "On the wall: its mark, as S1; none when there is no more"
        mark = self._own("fixture", "mark", text, face.fixtures)
        if not mark:
            return False
        fixture: dict[str, Value] = {"mark": mark}
        face.fixtures.append(fixture)
        self._put(fixture, "fixture", "left", f"{mark}: left corner of the wall to its left side")
        self._put(fixture, "fixture", "bottom", f"{mark}: height of its bottom", help=HEIGHT)
        self._put(fixture, "fixture", "width", f"{mark}: width")
        self._put(fixture, "fixture", "height", f"{mark}: height")
        more = "yes: siding is cut round its block; no: a seam falls on it, or it is cut into a piece"
        if not self._yes(f"{mark}: on a mounting block", "yes", more):
            fixture["block"] = "false"
        self._check(start)
        return True
