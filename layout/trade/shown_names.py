"""Names in the data files that people are shown, for the catalogues: profiles of siding, kinds of trim."""

from __future__ import annotations

from evencourse.layout.language.speech import noop

#: As ``claddings.toml`` and ``materials.toml`` have them.
SHOWN = frozenset(
    (
        noop("double 4 in panel"),
        noop("double 4-1/2 in panel"),
        noop("double 5 in panel"),
        noop("triple 3 in panel"),
        noop("single 6-1/2 in panel"),
        noop("single 8 in panel"),
        noop("foam-backed double 4 in panel"),
        noop("foam-backed double 6 in panel"),
        noop("6 in bevel siding"),
        noop("8 in bevel siding"),
        noop("10 in bevel siding"),
        noop("12 in bevel siding"),
        noop("5-1/4 in fiber cement board"),
        noop("6-1/4 in fiber cement board"),
        noop("7-1/4 in fiber cement board"),
        noop("8-1/4 in fiber cement board"),
        noop("9-1/4 in fiber cement board"),
        noop("12 in fiber cement board"),
        noop("16 in shingles"),
        noop("18 in shingles"),
        noop("24 in shingles"),
        noop("starter strip"),
        noop("starter furring"),
        noop("outside corner post"),
        noop("inside corner post"),
        noop("channel"),
        noop("curved channel"),
        noop("finish trim"),
        noop("utility trim"),
        noop("drip cap"),
        noop("curved drip cap"),
        noop("band board"),
        noop("trim board"),
        noop("corner board"),
        noop("inside corner strip"),
        noop("furring"),
    )
)
