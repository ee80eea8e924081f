"""What a crew reads at each piece and each line of the order, composed once and shown by every output."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from evencourse.layout.model.course_plan import ElevationPlan, Plan
from evencourse.layout.order.material import Material
from evencourse.render.words.as_built_words import hung_words, levelled_words, sheet_words
from evencourse.render.words.given_up import fate_words, given_up
from evencourse.render.words.piece_words import cut_words, item_words, material_words, trim_cut_words
from evencourse.render.words.plan_words import edge_action, missed_words, rake_words


@dataclass(frozen=True)
class FaceInstructions:
    """What is read at one face.

    Attributes:
        edges: what to do at each of its edges, in the order of the plan.
        rakes: how to mark each of its rakes, likewise.
        hung: courses on the wall that are not where they were planned.
        levelled: how the courses above come back to level.
        built: both in short, for a sheet.
        given_up: edges that are not flush, and why.
    """

    edges: tuple[str, ...]
    rakes: tuple[str, ...]
    hung: tuple[str, ...]
    levelled: tuple[str, ...]
    built: tuple[str, ...]
    given_up: tuple[str, ...]


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
        """Of every face, in the order of the job."""
        return tuple(self._face(face) for face in self.plan.elevations)

    @cached_property
    def missed(self) -> Mapping[str, tuple[str, ...]]:
        """By course set, the limits and edges marked ``must`` that its lines miss."""
        job, course_sets = self.plan.job, self.plan.course_sets
        return {
            name: tuple(missed_words(limit, job) for limit in course_set.missed)
            for name, course_set in course_sets.items()
        }

    @cached_property
    def pieces(self) -> Mapping[str, str]:
        """By mark, what is cut on a piece besides its length."""
        faces, job = self.material.pieces.faces, self.plan.job
        return {piece.id: cut_words(piece, job) for face in faces for piece in face.pieces}

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
    def sidings(self) -> tuple[str, ...]:
        """For every cladding, how much of it is bought and how much of that is wasted."""
        return tuple(material_words(one, self.plan.job) for one in self.material.sidings)

    def _face(self, face: ElevationPlan) -> FaceInstructions:
        plan = self.plan
        return FaceInstructions(
            edges=tuple(edge_action(edge, plan) for edge in face.edges),
            rakes=tuple(rake_words(rake, plan.job) for rake in face.rakes),
            hung=tuple(hung_words(face, plan)),
            levelled=tuple(levelled_words(face, plan)),
            built=tuple(sheet_words(face, plan)),
            given_up=tuple(f"{fate_words(edges, plan)}; {why}" for edges, why in given_up(face, plan)),
        )


def instructions(plan: Plan, material: Material) -> Instructions:
    """The instructions of a planned job.

    Args:
        plan: course lines, edges and faces.
        material: of the same plan.
    """
    return Instructions(plan, material)
