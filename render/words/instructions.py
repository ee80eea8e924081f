"""What a crew reads at each piece and each line of the order, composed once and shown by every output."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.course_plan import Edge, ElevationPlan, Plan
from evencourse.layout.order.material import Material
from evencourse.layout.order.order_items import WORDS
from evencourse.layout.order.trim_runs import RIPPED
from evencourse.render.words.as_built_words import hung_words, levelled_words, sheet_words
from evencourse.render.words.caution_words import face_cautions, piece_cautions
from evencourse.render.words.cut_words import cut_words
from evencourse.render.words.edge_words import edge_action
from evencourse.render.words.edges_not_met import (
    SLIVER_RANK,
    not_met,
    outcome_words,
    subject_words,
    worst_rank,
)
from evencourse.render.words.missed_words import missed_words
from evencourse.render.words.piece_words import figure_words, item_words, material_words, trim_cut_words
from evencourse.render.words.plan_words import kind_words, on_tape, show
from evencourse.render.words.rake_words import rake_words


@dataclass(frozen=True)
class NotMet:
    """Edges of a face that share a fate and are not flush.

    Attributes:
        subject: which they are.
        outcome: what became of them.
        why: why it did.
        count: how many edges they are.
        sliver: they leave a sliver.
        rank: sorts them, the worst first.
    """

    subject: str
    outcome: str
    why: str
    count: int
    sliver: bool
    rank: tuple[float, ...]

    @property
    def fate(self) -> str:
        """What became of them, and why."""
        return f"{self.outcome}; {self.why}"

    @property
    def words(self) -> str:
        """Which they are, what became of them, and why."""
        return gettext("{edges}: {outcome}", edges=self.subject, outcome=self.fate)


@dataclass(frozen=True)
class FaceInstructions:
    """What is read at one face.

    Attributes:
        edges: what to do at each of its edges, in the order of the plan.
        acts: the same by edge.
        rakes: how to mark each of its rakes, likewise.
        hung: courses on the wall that are not where they were planned.
        levelled: how the courses above come back to level.
        built: both in short, for a sheet.
        not_met: edges that are not flush, worst first, and why.
        missed: limits and must-meet edges that the lines of its course sets miss.
        cautions: what can go wrong there, the particular first.
    """

    edges: tuple[str, ...]
    acts: Mapping[Edge, str]
    rakes: tuple[str, ...]
    hung: tuple[str, ...]
    levelled: tuple[str, ...]
    built: tuple[str, ...]
    not_met: tuple[NotMet, ...]
    missed: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Instructions:
    """A job's instructions in words; those of a part are composed when they are first asked for.

    Attributes:
        plan: what is read of it.
        material: likewise.
    """

    plan: Plan
    material: Material

    @cached_property
    def faces(self) -> tuple[FaceInstructions, ...]:
        """Of every face, in the order of the job; no piece is cut for it."""
        return tuple(_face(face, self.plan) for face in self.plan.elevations)

    @cached_property
    def missed(self) -> Mapping[str, tuple[str, ...]]:
        """By course set, the limits and must-meet edges that its lines miss."""
        return {name: _missed(name, self.plan) for name in self.plan.course_sets}

    @cached_property
    def pieces(self) -> Mapping[str, str]:
        """By mark, what is cut on a piece besides its length."""
        faces, job = self.material.pieces.faces, self.plan.job
        return {piece.id: cut_words(piece, job) for face in faces for piece in face.pieces}

    @cached_property
    def piece_cautions(self) -> Mapping[str, tuple[str, ...]]:
        """By face, rules about seams that gave way, and what to look out for at its pieces."""
        return {face.face: piece_cautions(face, self.plan) for face in self.material.pieces.faces}

    @cached_property
    def trims(self) -> tuple[tuple[str, ...], ...]:
        """For every kind of trim in the cut list, what each of its lengths is cut to."""
        job = self.plan.job
        return tuple(
            tuple("; ".join(trim_cut_words(cut, job) for cut in bar.cuts) for bar in trim.bars)
            for trim in self.material.cuts.trims
        )

    @cached_property
    def items(self) -> tuple[str, ...]:
        """What each line of the order is called."""
        return tuple(item_words(item, self.plan.job) for item in self.material.order.items)

    @cached_property
    def in_all(self) -> tuple[str, ...]:
        """Boards that the order has in several lines, for the wall and for starter furring, added up."""
        found = []
        for siding in self.material.order.items:
            mine = [one for one in self.material.order.items if one.cladding == siding.cladding]
            ripped = [one for one in mine if one.item == RIPPED and one.unit == "board"]
            if siding.item in WORDS.values() and ripped:
                more = sum(one.quantity for one in ripped)
                found.append(
                    gettext(
                        "{siding}: {count} in all, {more} of them for starter furring",
                        siding=item_words(siding, self.plan.job),
                        count=figure_words(siding.quantity + more),
                        more=figure_words(more),
                    )
                )
        return tuple(found)

    @cached_property
    def sidings(self) -> tuple[str, ...]:
        """For every cladding, how much of it is bought and how much of that is wasted."""
        return tuple(material_words(one, self.plan.job) for one in self.material.sidings)


def _face(face: ElevationPlan, plan: Plan) -> FaceInstructions:
    acts = {edge: edge_action(edge, plan) for edge in face.edges}
    course_sets = dict.fromkeys(zone.course_set for zone in face.zones)
    return FaceInstructions(
        edges=tuple(acts[edge] for edge in face.edges),
        acts=acts,
        rakes=tuple(rake_words(rake, plan, face) for rake in face.rakes),
        hung=tuple(hung_words(face, plan)),
        levelled=tuple(levelled_words(face, plan)),
        built=tuple(sheet_words(face, plan)),
        not_met=tuple(_not_met(face, plan)),
        missed=tuple(words for name in course_sets for words in _missed(name, plan)),
        cautions=face_cautions(face, plan),
    )


def _not_met(face: ElevationPlan, plan: Plan) -> list[NotMet]:
    return sorted([*_edges_not_met(face, plan), *_thin_ends(face, plan)], key=lambda one: one.rank)


def _thin_ends(face: ElevationPlan, plan: Plan) -> Iterator[NotMet]:
    """Slivers at the ends of bases out of level: counted as those at edges are."""
    for slope in face.low_slopes:
        for end in slope.thin:
            strip, x = on_tape(plan.job, end.strip), show(plan.job, end.x)
            outcome = gettext("sliver {strip}, {x} from the left", strip=show(plan.job, strip), x=x)
            rank = (*SLIVER_RANK, strip, min(slope.start[1], slope.end[1]))
            subject = (
                gettext("Base out of level")
                if slope.roof is None
                else kind_words("over roof", None, slope.roof)
            )
            yield NotMet(subject, outcome, gettext("courses are ripped along it"), 1, True, rank)


def _edges_not_met(face: ElevationPlan, plan: Plan) -> Iterator[NotMet]:
    for edges, why in not_met(face, plan):
        first = edges[0]
        subject, outcome = subject_words(edges), outcome_words(first, plan)
        sliver = first.result == "sliver"
        yield NotMet(subject, outcome, why, len(edges), sliver, worst_rank(first, plan))


def _missed(name: str, plan: Plan) -> tuple[str, ...]:
    course_set = plan.course_sets[name]
    return tuple(missed_words(limit, course_set, plan.job) for limit in course_set.missed)
