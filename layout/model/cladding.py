"""One cladding: a profile's properties, in the job's units."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencourse.layout.model.tolerance import ROUNDING

Family = Literal["panel", "lap", "shingle"]
FAMILIES: tuple[Family, ...] = ("panel", "lap", "shingle")


@dataclass(frozen=True)
class Cladding:
    """A siding profile with every property that a job may override.

    Lengths are in the job's units. The values of the shipped profiles and their sources stand in
    ``claddings.toml``.

    Attributes:
        name: key in the job (``"main"`` for a job with one cladding).
        profile: the shipped profile it started from.
        label: the profile in words, for sheets.
        family: ``panel`` (interlocking, exposure moulded in), ``lap`` (boards) or ``shingle``.
        material: ``vinyl``, ``steel``, ``aluminium``, ``wood``, ``fiber cement``: decides cautions.
        exposure: butt line to butt line; for laps and shingles the nominal one.
        exposure_min: least exposure that looks right (equal to ``exposure`` for panels).
        exposure_max: greatest exposure that still keeps water out (equal to ``exposure`` for panels).
        faces: steps moulded into one panel (a double 4 has two); 1 for boards and shingles.
        length: stock length of a panel or board; 0 for random widths (shingles).
        width: height of the board or the shingle before lapping; 0 for panels.
        projection: stand-off from the wall at a butt.
        projection_top: stand-off just under the next butt.
        starter_drop: from butt line 1 up to the top of the starter strip (the chalk line); 0 without one.
        cover: how far the first course hangs below the wall's base when nothing else decides.
        end_gap: gap left at each panel or board end that runs into a channel, post or trim.
        end_gap_cold: the same at or below ``cold`` degrees.
        cold: temperature [F] at or below which ``end_gap_cold`` holds.
        end_lap: visible lap of one panel over the next; 0 for butted boards.
        foam_recess: how far the foam backing is held back from each end of the panel; 0 without foam.
        carton: pieces in a carton; 0 when sold by the piece.
        carton_squares: squares (100 sq ft) that a carton covers; 0 when not sold by the carton.
        nail_spacing: greatest distance between nails along a course.
        nail_length: shortest nail.
        ground_clearance: least height of the siding above the ground.
        roof_clearance: least gap to a roof that the wall dies on.
        source: where the values come from.
    """

    name: str
    profile: str
    label: str
    family: Family
    material: str
    exposure: float
    exposure_min: float
    exposure_max: float
    faces: int
    length: float
    width: float
    projection: float
    projection_top: float
    starter_drop: float
    cover: float
    end_gap: float
    end_gap_cold: float
    cold: float
    end_lap: float
    foam_recess: float
    carton: int
    carton_squares: float
    nail_spacing: float
    nail_length: float
    ground_clearance: float
    roof_clearance: float
    source: str

    @property
    def fixed(self) -> bool:
        """Whether the exposure is moulded in."""
        return self.family == "panel"

    @property
    def face(self) -> float:
        """Height of one step: the exposure over the steps."""
        return self.exposure / self.faces

    def furring(self, cut: float, exposure: float) -> float:
        """What goes behind a cut edge, so that it stands off the wall as that of a whole course does.

        Args:
            cut: height of the cut above the butt of its course [job units].
            exposure: exposure of the course [job units].

        Returns:
            For panels what the stand-off lacks of the one at a butt, which is what a channel takes:
            ``projection - stand_off``. For boards how far their back stands off the wall there:
            ``projection_top * (1 - cut / width)``. 0 for shingles: they lie on all courses below [job units].

        Rules: common practice, no source. A board rests with its butt on the face of the board below, which
        stands off ``projection_top`` there, and with its top edge on the wall.
        """
        if self.family == "panel":
            return self.projection - self.stand_off(cut, exposure)
        return self.projection_top * (1 - cut / self.width) if self.family == "lap" else 0.0

    def stand_off(self, height: float, exposure: float) -> float:
        """Stand-off from the wall of a course's surface at a height above its butt line.

        Args:
            height: height above the butt line [job units]; taken modulo the face height.
            exposure: exposure of the course [job units].

        Returns:
            ``projection - (projection - projection_top) * u / f`` with ``u`` the height above the
            butt of its face and ``f`` the face height [job units].

        Rule: a face leans evenly from its butt to just under the next butt (common practice, no source).
        """
        face = exposure / self.faces
        above = height % face
        if min(above, face - above) < ROUNDING * face:
            above = 0.0
        return self.projection - (self.projection - self.projection_top) * above / face
