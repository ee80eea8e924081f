"""Sizes of trim, boards and panels as the sections draw them [in], read from the trade's data."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Any

from evencourse.layout.model.cladding import Cladding
from evencourse.layout.trade.materials import materials

#: A channel stands this far off the face of the siding that it holds [in].
_LOOSE = 0.125


def size(table: str, key: str) -> float:
    """A size of ``section`` in ``materials.toml`` [in]."""
    return float(materials()["section"][table][key])


@dataclass(frozen=True)
class Profile:
    """A cladding as a section shows it, every length in inches whatever the job's units.

    Attributes:
        family: ``panel``, ``lap`` or ``shingle``.
        material: what it is made of.
        foam: it is backed with foam.
        steps: faces moulded into one panel.
        projection: stand-off from the wall at a butt.
        projection_top: stand-off just under the next butt.
        width: height of a board or a shingle; 0 for panels.
        exposure: butt line to butt line where the section is.
        drop: from butt line 1 up to the top of the starter strip.
        gap: at ends.
        roof: least gap to a roof.
        butt: thickness at the butt; of a panel its skin.
        top: thickness at the top edge; of a panel its skin.
    """

    family: str
    material: str
    foam: bool
    steps: int
    projection: float
    projection_top: float
    width: float
    exposure: float
    drop: float
    gap: float
    roof: float
    butt: float
    top: float

    @property
    def pocket(self) -> float:
        """Inside of the channel that takes it: no smaller than the siding is deep."""
        return max(size("channel", "pocket"), self.projection + _LOOSE)

    @property
    def lap(self) -> float:
        """How far the course below reaches up behind it; 0 for panels."""
        return max(0.0, self.width - self.exposure)

    def thick(self, height: float) -> float:
        """Thickness at a height above the butt: even from butt to top edge."""
        return self.butt - (self.butt - self.top) * min(1.0, max(0.0, height / self.width))

    def back(self, height: float) -> float:
        """How far a board's or a shingle's back stands off the wall at a height above its butt.

        A board rests with its butt on the board below and with its top edge on the wall; shingles lie on all
        the courses below that reach so high (common practice, no source).
        """
        if self.family == "lap":
            resting = self.thick(self.exposure) * self.width / self.exposure if self.lap > 0 else 0.0
            return resting * max(0.0, 1 - height / self.width)
        layers = range(1, ceil(self.width / self.exposure) + 1)
        heights = (height + layer * self.exposure for layer in layers)
        return sum(self.thick(at) for at in heights if at < self.width)

    def face(self, height: float) -> float:
        """How far its face stands off the wall at a height above its butt."""
        if self.family != "panel":
            return self.back(height) + self.thick(height)
        step = self.exposure / self.steps
        above = min(height, self.exposure) % step
        if step - above < 1e-6:
            above = 0.0
        return self.projection - (self.projection - self.projection_top) * above / step


def profile(cladding: Cladding, exposure: float, inch: float, gap: float) -> Profile:
    """A cladding with the sizes that its family and its material have in sections.

    Args:
        cladding: as planned.
        exposure: butt line to butt line [job units].
        inch: job units in one inch.
        gap: at the ends of pieces [job units].
    """
    table: dict[str, Any] = materials()["section"]
    if cladding.family == "panel":
        butt = top = float(table["panel"]["skin"])
    else:
        sizes = table["shingle"]
        if cladding.family == "lap":
            sizes = table["board"].get(cladding.material, table["board"]["wood"])
        butt, top = float(sizes["butt"]), float(sizes["top"])
    return Profile(
        family=cladding.family,
        material=cladding.material,
        foam=cladding.foam_recess > 0,
        steps=cladding.faces,
        projection=cladding.projection / inch,
        projection_top=cladding.projection_top / inch,
        width=cladding.width / inch,
        exposure=exposure / inch,
        drop=cladding.starter_drop / inch,
        gap=gap / inch,
        roof=cladding.roof_clearance / inch,
        butt=butt,
        top=top,
    )
