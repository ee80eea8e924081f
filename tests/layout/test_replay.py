"""The list that a crew follows, replayed on every sample and on random houses, and heaps of several sizes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.model.job import Elevation, Job, Order
from evencourse.layout.order.heap_cost import heap_cost, most_waiting
from evencourse.layout.pieces.all_pieces import pieces
from tests.houses import random_house
from tests.layout.piececheck import faults
from tests.layout.replay import in_turn, replay
from tests.layout.walls import job, rectangle
from tests.samples import SAMPLES, label, sample


def checked(wall: Job) -> int:
    """The most ends that wait, when nothing is wrong."""
    planned = plan(wall)
    cut = pieces(planned)
    wrong, _, most = replay(planned, cut)
    assert wrong == [] and faults(planned, cut) == []
    assert most == most_waiting(cut)
    return most


@pytest.mark.parametrize("sample", SAMPLES, ids=label)
def test_the_list_of_a_sample_can_be_followed(sample: Path) -> None:
    checked(read_job(sample))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(40, 52))
def test_the_list_of_a_random_house_can_be_followed(seed: int) -> None:
    checked(random_house(seed))


@pytest.mark.parametrize("heap", [0, 1, 3])
def test_no_more_ends_wait_than_the_heap_holds(heap: int) -> None:
    house = read_job(sample("gabled-house"))
    assert checked(replace(house, order=replace(house.order, heap=heap))) == heap


def test_with_no_heap_every_piece_is_cut_from_a_new_length() -> None:
    """By hand: three courses of 99-1/2 in take three panels of 150, and 50-1/2 in of each goes."""
    wall = replace(job(Elevation("Front", rectangle(100, 0, 24)), starter=(0, 0)), order=Order(heap=0))
    cut = pieces(plan(wall))
    assert [(piece.source, piece.leaves, piece.thrown) for piece in cut.all()] == [("new", 0, 50.5)] * 3


def test_an_end_is_named_by_the_piece_that_leaves_it() -> None:
    """By hand: 74-1/2 in twice from one panel of 150: the first leaves 75-1/2, the second 1."""
    cut = pieces(plan(job(Elevation("Front", rectangle(75, 0, 16)), starter=(0, 0))))
    first, second = cut.all()
    assert (first.source, first.leaves, first.thrown) == ("new", 75.5, 0)
    assert (second.source, second.leaves, second.thrown) == (first.id, 0, 1)


def test_faces_are_hung_in_the_order_that_the_job_gives() -> None:
    walls = [Elevation(name, rectangle(75, 0, 8)) for name in ("Front", "Back")]
    wall = replace(job(*walls, starter=(0, 0)), order=Order(faces=("Back", "Front")))
    planned = plan(wall)
    cut = pieces(planned)
    assert [piece.id for piece in in_turn(planned, cut)] == ["B-1.1", "F-1.1"]
    assert [piece.source for piece in cut.all()] == ["B-1.1", "new"]


@pytest.mark.long
def test_the_heap_costs_no_more_than_every_end_kept_spares() -> None:
    planned = plan(random_house(2))
    planned = replace(planned, job=replace(planned.job, order=replace(planned.job.order, heap=1)))
    cost = heap_cost(planned, pieces(planned))
    assert (cost.limit, cost.waits) == (1, 1) and cost.every_end < cost.lengths


def test_the_replay_finds_planted_faults() -> None:
    planned = plan(job(Elevation("Front", rectangle(75, 0, 16)), starter=(0, 0)))
    cut = pieces(planned)
    (face,) = cut.faces
    first, second = face.pieces

    def said(*changed: object) -> str:
        return "; ".join(replay(planned, replace(cut, faces=(replace(face, pieces=changed),)))[0])

    assert said(first, second) == ""
    assert "not on the heap" in said(replace(first, leaves=0.0, thrown=75.5), second)
    assert "leaves 75.5" in said(replace(first, leaves=80.0), second)
    assert "never used" in said(first, replace(second, source="new", thrown=75.5))
    assert "from 75.5" in said(first, replace(second, length=80.0))
