"""Cautions that hold on every job, whatever is installed."""

from __future__ import annotations

#: In the order in which they are met on site.
GENERAL = (
    "Ladders and scaffolds: use fall protection; keep clear of overhead lines.",
    "Wear eye and ear protection at the saw.",
    "Old walls: test for lead paint and asbestos first.",
    "Install flashing and weather barrier before siding.",
    "Layout only; not a structural, wind or code check. Local code, the maker's instructions and licensed "
    "practice govern.",
)
