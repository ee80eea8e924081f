"""The shipped profiles, and a job's own cladding made from one of them."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import cast

from evencourse.layout.language.speech import noop
from evencourse.layout.model.cladding import Cladding, Family
from evencourse.layout.model.job import Units

Value = float | str

#: Properties that are lengths, in inches in ``claddings.toml``, in the job's units in a cladding; and each in
#: words, for the catalogues.
LENGTHS = {
    "exposure": noop("exposure"),
    "exposure_min": noop("least exposure"),
    "exposure_max": noop("greatest exposure"),
    "length": noop("length"),
    "width": noop("width"),
    "projection": noop("stands off the wall at its butt by"),
    "projection_top": noop("stands off the wall under the next butt by"),
    "starter_drop": noop("top of the starter strip above butt line 1"),
    "cover": noop("covers the base by at most"),
    "end_gap": noop("gap at an end"),
    "end_gap_cold": noop("gap at an end in the cold"),
    "end_lap": noop("lap at a seam"),
    "foam_recess": noop("foam held back from an end"),
    "nail_spacing": noop("nails apart, at most"),
    "nail_length": noop("shortest nail"),
    "ground_clearance": noop("clear of the ground"),
    "roof_clearance": noop("clear of a roof"),
}
#: Properties that are whole numbers, plain numbers, and words.
COUNTS = ("faces", "carton")
NUMBERS = ("cold", "carton_squares")
WORDS = ("label", "family", "material", "source")
#: The least lap of boards: no property of a cladding, but its greatest exposure follows from it.
LAP = "lap"


@cache
def _data() -> dict[str, dict[str, dict[str, Value]]]:
    with (Path(__file__).parent / "claddings.toml").open("rb") as file:
        return tomllib.load(file)


def profile_names() -> tuple[str, ...]:
    """Names of the shipped profiles, in the order of the data."""
    return tuple(_data()["profile"])


def profiles(units: Units) -> dict[str, Cladding]:
    """Every shipped profile as a cladding, lengths in ``units``."""
    return {name: build_cladding(name, name, {}, units) for name in profile_names()}


def build_cladding(name: str, profile: str, overrides: Mapping[str, Value], units: Units) -> Cladding:
    """A cladding from a shipped profile and what a job overrides.

    Args:
        name: its key in the job.
        profile: a shipped profile.
        overrides: any property of :class:`evencourse.layout.model.cladding.Cladding` but ``name`` and
            ``profile``, lengths in ``units``; and ``lap``, the least lap of boards [``units``].
        units: the job's units.

    Returns:
        The cladding. A panel's exposure is its least and its greatest one. The greatest exposure of boards is
        their width less their least lap unless it is given. A nominal exposure that is not given moves to the
        nearest limit when new limits leave it outside. Foam held back from each end makes the end lap twice
        as wide, unless that is given: foam butts foam at a seam.

    Raises:
        KeyError: no such profile, or no such property.
    """
    unknown = [key for key in overrides if key not in (*LENGTHS, *COUNTS, *NUMBERS, *WORDS, LAP)]
    if unknown:
        raise KeyError(unknown[0])
    own = _data()["profile"][profile]
    family = cast(Family, str(overrides.get("family", own["family"])))
    shipped = {**_data()["family"][family], **own}
    inch = 1.0 if units == "in" else 25.4

    def length(key: str) -> float:
        return float(overrides[key]) if key in overrides else float(shipped.get(key, 0.0)) * inch

    def number(key: str) -> float:
        return float(overrides.get(key, shipped[key]))

    def words(key: str) -> str:
        return str(overrides.get(key, shipped[key]))

    lengths = {key: length(key) for key in LENGTHS}
    if family == "panel":
        lengths["exposure_min"] = lengths["exposure_max"] = lengths["exposure"]
    elif "exposure_max" not in overrides and (LAP in shipped or LAP in overrides):
        lengths["exposure_max"] = lengths["width"] - length(LAP)
    if "exposure" not in overrides:
        below_max = min(lengths["exposure"], lengths["exposure_max"])
        lengths["exposure"] = max(below_max, min(lengths["exposure_min"], lengths["exposure_max"]))
    if "foam_recess" in overrides and "end_lap" not in overrides:
        lengths["end_lap"] = 2 * lengths["foam_recess"]
    if "exposure_min" not in overrides:
        lengths["exposure_min"] = min(lengths["exposure_min"], lengths["exposure"])
    return Cladding(
        name=name,
        profile=profile,
        label=words("label"),
        family=family,
        material=words("material"),
        faces=int(number("faces")),
        cold=number("cold"),
        carton=int(number("carton")),
        carton_squares=number("carton_squares"),
        source=words("source"),
        **lengths,
    )
