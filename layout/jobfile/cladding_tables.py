"""The job's claddings: a shipped profile, what the job overrides, and whether the two make sense together."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any

from evencourse.layout.jobfile.job_values import clean, describe
from evencourse.layout.jobfile.table_reader import Path, Reader
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.trade.profiles import build_cladding, profile_names

#: Profile that stands in for an unknown one, so that the rest of the file is still checked.
_STAND_IN = "double-4"
#: Least exposure and least stock length that are believed [inches]: bounds on work, no trade rule.
LEAST_EXPOSURE, LEAST_LENGTH, LEAST_NAILS = 0.5, 12.0, 1.0


def read_claddings(reader: Reader, top: Mapping[str, Any]) -> dict[str, Cladding]:
    """Claddings by name, from ``[cladding]`` (named ``main``) or ``[claddings.NAME]``.

    Args:
        reader: gathers the faults.
        top: the file's top tables.
    """
    tables: list[tuple[str, object, Path]] = []
    if "cladding" in top:
        tables.append(("main", top["cladding"], ("cladding",)))
    several = top.get("claddings", {})
    if not isinstance(several, dict) and several != reader.gap:
        reader.fault(("claddings",), describe(several), gettext("[claddings.NAME], one table for each"))
    several = several if isinstance(several, dict) else {}
    if "cladding" in top and several:
        reader.fault(("claddings",), gettext("both [cladding] and [claddings]"), gettext("one of them"))
    if "cladding" not in top and not several and not {"cladding", "claddings"} & reader.faulty(()):
        reader.lack(("cladding",), gettext("[cladding] with a profile, or [claddings.NAME]"))
    for name, raw in several.items():
        known = reader.text(name, gettext("the cladding's name"), ("claddings", name))
        tables.append((known or clean(name), raw, ("claddings", name)))
    return {name: _cladding(reader, name, raw, path) for name, raw, path in tables}


def _cladding(reader: Reader, name: str, raw: object, path: Path) -> Cladding:
    found = reader.table(raw, "cladding", path)
    profile = found.pop("profile", _STAND_IN)
    if profile not in profile_names():
        near = get_close_matches(profile, profile_names(), 1, 0.4)
        hint = f'"{near[0]}"' if near else gettext("a shipped profile")
        wanted = gettext("{profile}; {command} lists them", profile=hint, command="evencourse claddings")
        reader.fault((*path, "profile"), describe(profile), wanted)
        profile = _STAND_IN
    cladding = build_cladding(name, profile, found, reader.units)
    show = reader.show

    def wrong(key: str, found: str, wanted: str) -> None:
        reader.fault(
            (*path, key if key in raw else "profile") if isinstance(raw, dict) else path, found, wanted
        )

    if "profile" in reader.faulty(path):
        return cladding
    inch = 1.0 if reader.units == "in" else 25.4
    least = LEAST_EXPOSURE * inch
    low, nominal, high = cladding.exposure_min, cladding.exposure, cladding.exposure_max
    if "lap" in found and not cladding.fixed and cladding.width - found["lap"] < least:
        left = gettext(
            "a lap that leaves {exposure} of {width} at least",
            exposure=show(least),
            width=show(cladding.width),
        )
        wrong("lap", show(found["lap"]), left)
    elif low < least or nominal < least:
        wanted = gettext("an exposure of {length} at least", length=show(least))
        key = "exposure_min" if low < least and "exposure_min" in found else "exposure"
        wrong(key, show(low if key == "exposure_min" else min(low, nominal)), wanted)
    elif low > high:
        found_ = gettext(
            "least exposure {least} above the greatest, {most}", least=show(low), most=show(high)
        )
        wrong("exposure_min", found_, gettext("limits that leave an exposure"))
    elif not low <= nominal <= high:
        wanted = gettext("an exposure from {least} to {most}", least=show(low), most=show(high))
        wrong("exposure", show(nominal), wanted)
    if cladding.faces < 1:
        wrong("faces", str(cladding.faces), gettext("one step or more"))
    elif nominal >= least > cladding.face:
        wrong("faces", str(cladding.faces), gettext("steps of {length} at least", length=show(least)))
    if cladding.fixed:
        for key in ("exposure_min", "exposure_max", "lap"):
            if key in found:
                wanted = gettext("no such value on a panel: its exposure is molded in")
                wrong(key, show(found[key]), wanted)
    elif cladding.exposure_max > cladding.width > 0:
        found_ = gettext("an exposure up to {length}", length=show(high))
        wrong("exposure_max", found_, gettext("at most the width, {width}", width=show(cladding.width)))
    if cladding.family == "shingle":
        if "length" in found:
            wanted = gettext(
                "no length: shingles come in random widths; width is how long they are, butt to tip"
            )
            wrong("length", show(found["length"]), wanted)
    elif cladding.length < LEAST_LENGTH * inch:
        wanted = gettext("a stock length of {length} at least", length=show(LEAST_LENGTH * inch))
        wrong("length", show(cladding.length), wanted)
    elif cladding.end_lap + 2 * max(cladding.end_gap, cladding.end_gap_cold) >= cladding.length / 2:
        own = [key for key in ("end_gap", "end_gap_cold", "end_lap") if key in found]
        key = max(own, key=lambda one: float(getattr(cladding, one)), default="length")
        wanted = gettext("end laps and gaps of less than half the stock length")
        wrong(key, show(getattr(cladding, key)), wanted)
    if cladding.nail_spacing < LEAST_NAILS * inch:
        wanted = gettext("nails {length} apart at least", length=show(LEAST_NAILS * inch))
        wrong("nail_spacing", show(cladding.nail_spacing), wanted)
    if not 0 <= cladding.projection_top <= cladding.projection:
        found_ = gettext(
            "{butt} at the butt, {top} at the top",
            butt=show(cladding.projection),
            top=show(cladding.projection_top),
        )
        wrong("projection", found_, gettext("siding that stands off no less at its butt than at its top"))
    return cladding
