"""Cautions that hold on every job, whatever is installed."""

from __future__ import annotations

from evencourse.layout.language.speech import noop

#: In the order in which they are met on site.
GENERAL = (
    noop("Ladders and scaffolds: use fall protection; keep clear of overhead lines."),
    noop("Wear eye and ear protection at the saw."),
    noop("Old walls: test for lead paint and asbestos first."),
    noop("Install flashing and weather barrier before siding."),
    noop(
        "Layout only; not a structural, wind or code check. Local code, the maker's instructions and "
        "licensed practice govern."
    ),
)
