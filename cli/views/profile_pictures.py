"""Every shipped profile with a picture of its section, to be chosen by eye."""

from __future__ import annotations

from functools import cache
from typing import Any

from evencourse.cli.views.face_drawing import for_page
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.lengths import show_length
from evencourse.layout.trade.profiles import profiles
from evencourse.render.details.profile_section import profile_section
from evencourse.render.drawing.drawing import Sheet, View
from evencourse.render.formats.svg import svg

Json = dict[str, Any]
#: Paper over real size, and the rim of a picture [mm].
_SCALE, _RIM = 1 / 3, 1.0


def profile_pictures() -> Json:
    """By family, every profile: its name, what it is, its exposures, and its section as SVG."""
    families: dict[str, list[Json]] = {}
    for name, cladding in profiles("in").items():
        families.setdefault(cladding.family, []).append(
            {
                "name": name,
                "label": cladding.label,
                "exposure": _exposure(cladding),
                "svg": _picture(cladding),
            }
        )
    return {"families": [{"family": family, "profiles": rows} for family, rows in families.items()]}


def _exposure(cladding: Cladding) -> str:
    low, high = (show_length(one, "in", 1 / 16) for one in (cladding.exposure_min, cladding.exposure_max))
    if cladding.fixed:
        return gettext("{exposure} molded in", exposure=low)
    return gettext("{lowest} to {highest}", lowest=low, highest=high)


@cache
def _picture(cladding: Cladding) -> str:
    drawing, box = profile_section(cladding, "in", _SCALE)
    mm = _SCALE * 25.4
    size = (box.width * mm + 2 * _RIM, box.height * mm + 2 * _RIM)
    view = View(drawing, _SCALE, (_RIM - box.left * mm, _RIM - box.bottom * mm), (0.0, 0.0, *size))
    return for_page(svg(Sheet(cladding.label, size, (view,)), portable=False))
