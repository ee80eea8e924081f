"""The questions about a face's wall: its outline, the ground along it, and what stands against it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from evencourse.cli.questions.asked_keys import AskedKeys, Over
from evencourse.cli.questions.interview import NO, NOTHING, YES, AskedQuestion
from evencourse.layout.jobfile.job_draft import ROOFS, FaceDraft, Value, read_answer
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import decimals, gettext, noop
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.lengths import parse_length, show_length
from evencourse.layout.trade.plausible import doubt, usual_walk
from evencourse.layout.trade.rules import rules

_PITCH = re.compile(r".*(?:/|in|:) ?12", re.ASCII)
#: What is said of every height.
HEIGHT = noop("from the datum: up is plus, down is minus")


class WallQuestions(AskedKeys):
    """The part of a script that asks for one wall."""

    def _plain(self, face: FaceDraft) -> None:
        values, jumps = face.values, self._jumps(face)
        more = gettext(
            "what siding covers; bare walls: say {key} in the job file", key="[trim] outside_corner"
        )
        self._put(values, "elevation", "width", gettext("Width, corner board to corner board"), help=more)
        text, more = gettext("Base of the wall, height at the left"), gettext(HEIGHT)
        left = self._key("elevation", "base", text, help=more, doubted=jumps)
        text = gettext("Base of the wall, height at the right")
        right = self._key("elevation", "base", text, left)
        values["base"] = left if left == right else (left, right)
        base = gettext("the base")
        over = (left, base), (right, base)
        text = gettext("Eave, height at the left")
        left = self._key("elevation", "eave", text, help=more, over=over[0])
        text = gettext("Eave, height at the right")
        right = self._key("elevation", "eave", text, left, over=over[1])
        values["eave"] = left if left == right else (left, right)
        more = gettext("{yes}: the wall goes up to a peak above its eaves", yes=gettext(YES))
        if not self._yes(gettext("A gable on it"), NO, more):
            return
        text = gettext("Its pitch as 6/12, or the height of its peak")
        odd = partial(self._odd_rise, eave=left)
        more = gettext("6/12 rises 6 in for every 12 in along; a height is measured from the datum")
        rise = self._ask.ask(AskedQuestion(text, self._pitch_or_peak, None, more, doubt=odd))
        face.gable["pitch" if _PITCH.fullmatch(rise) else "peak"] = rise
        if "peak" in face.gable:
            more = gettext(
                "{none}: where both slopes have one pitch, the middle over level eaves", none=NOTHING
            )
            self._put(face.gable, "gable", "at", gettext("Peak, from the left corner"), NOTHING, more)

    def _pitch_or_peak(self, answer: str) -> str:
        if _PITCH.fullmatch(answer):
            return read_answer("gable", "pitch", answer, self._units)
        try:
            return read_answer("gable", "peak", answer, self._units)
        except JobError as error:
            raise JobError(
                replace(fault, wanted=gettext("a pitch as 6/12, or {wanted}", wanted=fault.wanted))
                for fault in error.faults
            ) from error

    def _odd_rise(self, answer: str, eave: str) -> str:
        if _PITCH.fullmatch(answer):
            return doubt("gable", "pitch", answer, self._units)
        return doubt("gable", "peak", answer, self._units, eave, gettext("the eave"))

    def _corners(self, face: FaceDraft) -> None:
        """Corners of a wall that no shorthand tells."""
        self._ask.note(
            gettext(
                "Its corners: from the lower left along the base to the right, then back along the top to "
                "the left. Each as x, height: x from the left corner, as 17' 6, -8."
            )
        )
        corners, jumps = list[Value](), self._jumps(face)
        while True:
            number = len(corners) + 1
            default = NOTHING if number > 3 else None
            text = gettext("Corner {number}", number=number)
            if default:
                text = gettext("Corner {number}, {none} after the last", number=number, none=NOTHING)
            corner = self._ask.ask(
                AskedQuestion(
                    text,
                    self._point,
                    default,
                    gettext("x, a comma, height: {example}", example="17' 6, -8"),
                    doubt=None if corners else lambda answer: jumps(answer.partition(",")[2]),
                )
            )
            if not corner:
                break
            x, _, height = corner.partition(",")
            corners.append((x, height))
            face.values["outline"] = tuple(corners)

    def _point(self, answer: str) -> str:
        x, comma, height = answer.partition(",")
        if not comma:
            wanted = gettext("x and height with a comma between: {example}", example="17' 6, -8")
            raise JobError([Fault("point", f'"{answer}"', wanted)])
        read = [read_answer("elevation", "entrance", part, self._units) for part in (x, height)]
        return ",".join(read)

    def _grounds(self, face: FaceDraft) -> None:
        text = gettext("Ground in points, as the base steps")
        more = gettext(
            "{yes}: under every stretch of the base; {no}: straight from one end to the other",
            yes=gettext(YES),
            no=gettext(NO),
        )
        if "outline" in face.values and self._yes(text, YES, more):
            self._ground_points(face)
            return
        over = base_ends(face)
        text, more = gettext("Ground, height at the left"), gettext(HEIGHT)
        left = self._key("elevation", "grade", text, NOTHING, more, over=over["left"])
        if left:
            text = gettext("Ground, height at the right")
            right = self._key("elevation", "grade", text, left, over=over["right"])
            face.values["grade"] = left if left == right else (left, right)

    def _ground_points(self, face: FaceDraft) -> None:
        """The ground along a base in steps."""
        self._ask.note(
            gettext("The ground from left to right, two points at one x where it steps. Each as x, height.")
        )
        points: list[Value] = []
        while True:
            number = len(points) + 1
            text = gettext(
                "Ground, point {number}, {none} where it was not measured", number=number, none=NOTHING
            )
            if points:
                text = gettext("Ground, point {number}, {none} after the last", number=number, none=NOTHING)
            more = gettext("x, a comma, height: {example}", example="17' 6, -28")
            asked = AskedQuestion(text, self._point, NOTHING, more)
            point = self._ask.ask(asked)
            if not point:
                return
            x, _, height = point.partition(",")
            points.append((x, height))
            face.values["grade"] = tuple(points)

    def _roof(self, face: FaceDraft) -> bool:
        """One roof, deck or ledger against the wall; False when there are no more."""
        start = self._ask.place
        if not face.roofs:
            self._ask.note(
                gettext("Against this wall, where no siding goes: a porch roof, a deck, a ledger.")
            )
        text = gettext("Roof, deck or ledger: its mark, as P1; {none} when there is no more", none=NOTHING)
        mark = self._own("roof", "mark", text, face.roofs)
        if not mark:
            return False
        roof: dict[str, Value] = {"mark": mark}
        face.roofs.append(roof)
        text = gettext("{mark}: {words}", mark=mark, words=one_of(ROOFS))
        self._put(roof, "roof", "kind", text, ROOFS[0], usual=ROOFS[0])
        ends: list[Value] = []
        height: str | None = None
        for side in ("left", "right"):
            text = gettext("{mark}: left corner of the wall to its right end", mark=mark)
            if side == "left":
                text = gettext("{mark}: left corner of the wall to its left end", mark=mark)
            more = gettext("along the wall, from its left corner")
            x = self._key("elevation", "entrance", text, help=more)
            text = gettext("{mark}: height of its top at its right end", mark=mark)
            if side == "left":
                text = gettext("{mark}: height of its top at its left end", mark=mark)
            more = gettext("from the datum: up is plus, down is minus; it slopes where its ends differ")
            height = self._key("elevation", "entrance", text, height, more)
            ends.append((x, height))
        roof["line"] = tuple(ends)
        more = gettext(
            "plumb, from its top down to where siding goes on: rafters and ceiling, or joists and ledger"
        )
        self._put(roof, "roof", "depth", gettext("{mark}: its depth", mark=mark), help=more)
        self._check(start)
        return True

    def _jumps(self, face: FaceDraft) -> Callable[[str], str]:
        """What speaks against a height of the base at the left: the face before ends at another."""
        before = self.draft.faces[-2] if len(self.draft.faces) > 1 else None
        end = self._right_end(before) if before is not None else None
        name = before.values.get("name") if before is not None else ""

        def jumps(answer: str) -> str:
            if end is None:
                return ""
            off = parse_length(answer, self._units) - end
            inch = 1.0 if self._units == "in" else 25.4
            if abs(off) <= usual_walk("corner") * inch:
                return ""
            shown = decimals(show_length(abs(off), self._units, rules().round[self._units]))
            if off > 0:
                return gettext(
                    "that is {length} above the base of {face} at their corner", length=shown, face=name
                )
            return gettext(
                "that is {length} below the base of {face} at their corner", length=shown, face=name
            )

        return jumps

    def _right_end(self, face: FaceDraft) -> float | None:
        """Height of a face's base at its right end; None where it is not known."""
        outline = face.values.get("outline")
        if isinstance(outline, tuple):
            points = [
                (parse_length(str(point[0]), self._units), parse_length(str(point[1]), self._units))
                for point in outline
            ]
            right = max(x for x, _ in points)
            return min(y for x, y in points if x == right)
        end = base_ends(face)["right"]
        return parse_length(end[0], self._units) if end is not None else None


def base_ends(face: FaceDraft) -> dict[str, Over | None]:
    """The height of a face's base at its ends, and what it is called; None for a wall with steps."""
    base = face.values.get("base")
    if base is None:
        return {"left": None, "right": None}
    left, right = (base, base) if isinstance(base, str) else base
    words = gettext("the base")
    return {"left": (str(left), words), "right": (str(right), words)}


def one_of(words: Sequence[str]) -> str:
    """Words that can be typed, the last of them after ``or``."""
    return either((", ".join(words[:-1]), words[-1]))
