"""Names in the data files that people are shown: the table for the catalogues has every one, and no other."""

from __future__ import annotations

from evencourse.layout.order.trims import KINDS
from evencourse.layout.trade.materials import materials
from evencourse.layout.trade.profiles import profiles
from evencourse.layout.trade.shown_names import SHOWN


def test_the_table_has_every_profile_and_every_kind_of_trim() -> None:
    labels = {cladding.label for cladding in profiles("in").values()}
    assert labels | set(materials()["trim"]) == SHOWN
    assert set(KINDS) == set(materials()["trim"])
