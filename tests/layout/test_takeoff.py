"""The take-off: areas, counts, nails, spare and rounding; a sample's figures added up again."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, pi
from pathlib import Path

import pytest
import shapely

from evencourse.layout.courses.planner import plan
from evencourse.layout.model.job import Elevation, Fixture, Order, Trim, Zone
from evencourse.layout.order.job_order import TakeOff
from evencourse.layout.order.material import Material
from evencourse.layout.order.nails import nail_count, per_pound
from evencourse.layout.order.order_items import Item
from evencourse.layout.order.siding_quantities import cutting_bounds
from evencourse.layout.pieces.all_pieces import pieces
from tests.layout.walls import LAP, PLAIN, job, rectangle, window
from tests.samples import planned, result

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "gabled-house.toml"
WALL = Elevation("Front", rectangle(240, 0, 95), openings=(window("A", 60, 31, 36, 48),))


def taken(order: Order | None = None, **more: object) -> TakeOff:
    asked = replace(job(WALL, starter=(-1, -1), **more), order=order or Order())  # type: ignore[arg-type]
    planned = plan(asked)
    return Material(planned).order


def item(found: TakeOff, name: str) -> Item:
    (one,) = [item for item in found.items if item.item == name]
    return one


def test_a_wall_of_panels_by_hand() -> None:
    """20 ft from -1 to 95: 240 x 96 gross, the window 36 x 48 off.

    Twelve courses of 8 in; six of them (31 to 79) are split by the window into runs of 60 and 144. In 12 ft
    6 in: six whole courses of 240 less two gaps of 1/4, in two pieces with a lap of 1 in: 240-1/2; six runs
    of 59-1/2 and six of 143-1/2. 240-1/2 x 6 + 59-1/2 x 6 + 143-1/2 x 6 = 2661, over 150: at least 18.
    """
    found = taken()
    (area,) = found.areas
    assert (area.gross, area.openings, area.bands, area.net) == (240 * 96, 36 * 48, 0, 240 * 96 - 36 * 48)
    panels = item(found, "panel")
    assert (panels.count, panels.bound, panels.unit, panels.per) == (18, 18, "carton", 24)
    assert panels.quantity == 1
    (siding,) = found.siding
    assert siding.by_thumb == ceil(21312 * 1.1 / 1200)  # 20: two panels saved
    assert found.waste == pytest.approx(1 - 21312 / (18 * 1200))
    assert found.waste_bound == found.waste


def test_nails_of_a_panel_by_hand() -> None:
    """Sixteen inches apart at most: 150 in take 10 spaces of 15 in, 11 nails; 160 in 11, 161 in 12."""
    assert [nail_count(length, 16) for length in (150, 160, 161, 16, 4)] == [11, 11, 12, 2, 2]


@pytest.mark.parametrize(
    ("family", "shank", "head", "thick"), [("panel", 0.1205, 0.4, 1 / 20), ("lap", 0.0985, 17 / 64, 1 / 32)]
)
def test_nails_in_a_pound_against_the_weight_of_steel(
    family: str, shank: float, head: float, thick: float
) -> None:
    """Steel weighs 0.284 lb a cubic inch; 11 and 12-1/2 gauge wire: sizes of nails from memory, as the table.

    Longer box nails are drawn from thicker wire, so these are compared at 2 in.
    """
    weight = 0.284 * pi / 4 * (shank**2 * 2 + head**2 * thick)
    assert per_pound(family, 2) == pytest.approx(1 / weight, rel=0.25)


def test_nails_per_pound_between_two_lengths_and_beyond_them() -> None:
    assert per_pound("panel", 2.25) == (138 + 110) / 2
    assert (per_pound("panel", 0.5), per_pound("panel", 9)) == (255, 90)


@pytest.mark.long
def test_spare_is_added_before_the_one_rounding() -> None:
    """18 panels and 40 %: 25.2, which is more than a carton of 24; 2 starter strips: 2.8, so 3."""
    found = taken(Order(spare=0.4))
    assert item(found, "panel").quantity == 2
    assert (item(found, "starter strip").count, item(found, "starter strip").quantity) == (2, 3)
    # 5 % on 20 is 21, whatever binary fractions make of it
    assert taken(Order(spare=0.05), cladding=replace(PLAIN, carton=0)).items[0].quantity == ceil(18.9)


@pytest.mark.long
def test_prices_go_by_item_and_unused_ones_are_told() -> None:
    prices = {"panel": 200.0, "channel": 5.5, "gutter": 9.0}
    found = taken(Order(prices=prices, currency="$"))
    assert (item(found, "panel").cost, item(found, "starter strip").cost) == (200, None)
    assert found.total == 200 + 5.5 * item(found, "channel").quantity
    assert (found.prices_unused, found.currency) == (("gutter",), "$")
    assert taken().total is None


def test_a_price_goes_by_the_claddings_own_name_or_by_size_before_the_item() -> None:
    """A cladding that is named as a family of nails prices no nails."""
    wall = Elevation("Front", WALL.outline, openings=(window("A", 60, 31, 36, 48, trim=Trim(3, 2, 3)),))
    wall = replace(wall, zones=(Zone("lap"),))
    prices = {"lap": 11.0, "board": 12.0, "trim board": 20.0, 'trim board 3"': 30.0}
    asked = job(wall, claddings={"lap": replace(LAP, name="lap")}, starter=(-1, -1))
    planned = plan(replace(asked, order=Order(prices=prices)))
    found = Material(planned).order
    assert (item(found, "board").price, item(found, "nails").price) == (11, None)
    assert [one.price for one in found.items if one.item == "trim board"] == [20, 30]


def test_boards_are_nailed_at_every_stud() -> None:
    """A board of 100 in on studs 16 in apart: 7 spaces, 8 nails; 24 apart: 5 spaces, 6 nails."""
    wall = Elevation("Front", rectangle(100.25, 0, 13))
    for spacing, nails in ((16, 8), (24, 6)):
        asked = job(wall, cladding=LAP, starter=(-1, -1))
        planned = plan(replace(asked, framing=replace(asked.framing, spacing=spacing)))
        cut = pieces(planned)
        boards = [piece for piece in cut.all() if piece.length == 100]
        found = Material(planned).order
        trim = sum(count for one in found.trims for _, _, count in one.nails)
        assert len(boards) == len(list(cut.all())) == 2
        assert item(found, "nails").count - trim == 2 * nails


def test_a_course_of_shingles_is_as_wide_as_its_runs_on_the_tape() -> None:
    """240 wide, an opening from 100-5/32 to 139-27/32 over all courses: two runs of 100-5/32 less gaps of 1/8
    at both ends, 99-29/32, on the tape 99-15/16 (halfway goes up) each: 199-7/8, exactly 199-13/16."""
    hole = window("A", 100.15625, -1, 39.6875, 95)
    wall = Elevation("Front", rectangle(240, 0, 95), openings=(hole,))
    shingles = replace(LAP, family="shingle", length=0)
    (one,) = Material(plan(job(wall, cladding=shingles, starter=(-1, -1)))).sidings
    assert one.courses[3].width == 199.875


def test_blocks_are_counted() -> None:
    fixtures = (Fixture("L", 200, 40, 6, 8), Fixture("V", 150, 40, 4, 4, block=False))
    planned = plan(job(replace(WALL, fixtures=fixtures), starter=(-1, -1)))
    assert item(Material(planned).order, "mounting block").quantity == 1


def test_the_gabled_house_added_up_again() -> None:
    """From the sample's tape measurements, with a calculator.

    Starter: round the house 2 (38 + 26) ft = 1536, less the doors with their trim 47, 79 and 115: 1295.
    Finish trim: two eaves of 38 ft. Rakes: 13 ft of run at 8 in 12, 14.42 in a foot (framing square): four of
    187.5. Net area: the walls less their openings, by shapely from the same figures.
    """
    whole, made = planned(SAMPLE), result(SAMPLE).material
    cut, found = made.pieces, made.order
    by_kind = {trim.kind: trim for trim in found.trims if trim.kind != "furring"}
    assert by_kind["starter strip"].length == 1295
    assert by_kind["finish trim"].length == 2 * 456
    rakes = [run.length for run in by_kind["channel"].runs if run.place == "rake"]
    assert rakes == [pytest.approx(13 * 14.42, abs=0.1)] * 4
    starter = whole.course_sets["main"].lines.starter
    net = 0.0
    for face in whole.job.elevations:
        wall = shapely.Polygon([(x, min(y, starter) if y == -40 else y) for x, y in face.outline])
        wall = wall.union(shapely.box(0, starter, max(x for x, _ in face.outline), 0))
        for opening in face.openings:
            hole = [(x, starter if opening.on_base and y == -40 else y) for x, y in opening.trimmed]
            wall = wall.difference(shapely.Polygon(hole))
        for block in face.fixtures:
            if block.block:
                wall = wall.difference(shapely.box(block.left, block.bottom, block.right, block.top))
        net += wall.area
    assert sum(area.net for area in found.areas) == pytest.approx(net, rel=0.002)  # flush edges: their strips
    panels = item(found, "panel")
    longest: dict[int, float] = {}
    for piece in cut.all():
        assert piece.stock is not None
        longest[piece.stock] = longest.get(piece.stock, 0) + piece.length
    assert panels.quantity == len(longest) and max(longest.values()) <= 200 + 1e-6
    nails = sum(int(-(-piece.length // 16)) + 1 for piece in cut.all())
    nails += sum(count for trim in found.trims for _, _, count in trim.nails)
    assert item(found, "nails").count == nails
    assert item(found, "nails").quantity == ceil(nails / 110)
    assert item(found, "mounting block").count == 3


def test_what_these_pieces_need_lies_between_any_plan_and_what_they_take() -> None:
    """Three courses of 101-1/2 in: 304-1/2 over 150 are three panels. Of 179-1/2 and a lap: four."""
    for width, any_plan in ((102, 3), (180, 4)):
        planned = plan(job(Elevation("Front", rectangle(width, 0, 23)), starter=(-1, -1)))
        cut = pieces(planned)
        assert cut.stock["main"].length_bound == any_plan
        assert any_plan <= cutting_bounds(cut)["main"] <= len(cut.stock["main"].bars)


@pytest.mark.parametrize("seed", range(8))
def test_areas_add_up_and_every_line_covers_its_need(seed: int) -> None:
    house = planned(seed)
    cut = pieces(house)
    found = Material(house).order
    for area, face in zip(found.areas, house.elevations, strict=True):
        assert area.gross == pytest.approx(area.openings + area.bands + area.net)
        assert min(area.openings, area.bands, area.net) >= -1e-6
        assert area.net == face.area
    assert sum(one.area for one in found.siding) == pytest.approx(sum(area.net for area in found.areas))
    for line in found.items:
        assert line.quantity >= line.net * (1 + found.spare) - 1e-6
        assert line.quantity - line.net * (1 + found.spare) < line.step
        assert line.bound is None or line.bound <= line.count
    assert {one.cladding.name for one in found.siding} == {piece.cladding for piece in cut.all()}
