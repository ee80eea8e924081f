"""The plan file: what other programs read."""

from __future__ import annotations

import json
from dataclasses import dataclass, fields, replace
from math import atan2, degrees, hypot
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from jsonschema import Draft202012Validator

from evencourse.layout.courses.certainty import certainty
from evencourse.layout.model.caution import Caution
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.course_plan import (
    Band,
    CourseSet,
    Edge,
    ElevationPlan,
    Lines,
    Plan,
    Rake,
    Score,
    ZonePlan,
)
from evencourse.layout.model.job import Elevation, Framing, Job, Limits, Opening, Order, Seams, Zone
from evencourse.layout.model.missed_limit import MissedEdge, MissedLimit
from evencourse.layout.results.encoding import Differs, Encoding
from evencourse.layout.results.plan_file import plan_dict, plan_json, plan_schema
from tests.samples import each_sample, result

PANEL = Cladding(
    name="main",
    profile="foam-double-4",
    label="Double 4 in, foam-backed",
    family="panel",
    material="vinyl",
    exposure=8.0,
    exposure_min=8.0,
    exposure_max=8.0,
    faces=2,
    length=200.0,
    width=0.0,
    projection=0.75,
    projection_top=0.25,
    starter_drop=2.0,
    cover=1.0,
    end_gap=0.25,
    end_gap_cold=0.375,
    cold=40.0,
    end_lap=1.25,
    foam_recess=0.625,
    carton=0,
    carton_squares=0.0,
    nail_spacing=16.0,
    nail_length=2.5,
    ground_clearance=6.0,
    roof_clearance=0.5,
    source="",
)
WINDOW = Opening("A", "window", "rectangle", left=54, bottom=35.5, width=36.5, height=54)
GABLE = Elevation("Front", ((0, -1), (384, -1), (384, 107), (192, 203), (0, 107)), openings=(WINDOW,))
JOB = Job(
    name="Linden Row, lot 4",
    units="in",
    round=1 / 16,
    datum="laser line",
    author="",
    temperature=None,
    claddings={"main": PANEL},
    limits=Limits(starter=(-4.0, -1.0), tolerance=0.125, strip_min=1.5, jump=0.5),
    framing=Framing(16.0, 0.0),
    seams=Seams(24.0, 24.0),
    order=Order(),
    elevations=(GABLE,),
)


def score(**given: float) -> Score:
    return replace(Score(**{term.name: 0 for term in fields(Score)}), **given)


def lines(starter: float, courses: int, **terms: float) -> Lines:
    """Courses of 8 in from a starter line: butt line k lies 8 (k - 1) above it."""
    butts = tuple(starter + 8 * k for k in range(courses + 1))
    return Lines(starter, (Band(1, courses, 8.0),), butts, score(bands=1, **terms))


# From a starter line at -2-3/8, course 12 runs from 85-5/8 to 93-5/8: the head at 89-1/2 is cut 3-7/8 up and
# 4-1/8 are left; the nearest butt line lies 3-7/8 below it. The face is 4 in high, so the cut falls 3-7/8 up
# it: the siding stands off 3/4 - 1/2 x 3.875 / 4 there, and is packed out by 1/2 x 3.875 / 4 = 0.484375.
HEAD = Edge(
    "A",
    "head",
    height=89.5,
    left=54,
    right=90.5,
    importance="want",
    result="notch",
    course_set="main",
    course=12,
    cut=3.875,
    strip=4.125,
    rip=False,
    furring=0.484375,
    miss=-3.875,
)
RAKE = Rake(
    (0, 107),
    (192, 203),
    side="top",
    hand="left",
    pitch=6.0,
    angle=degrees(atan2(96, 192)),
    from_square=90 - degrees(atan2(96, 192)),
    past_saw=True,
    run_per_exposure=16.0,
    layouts=((8.0, 16.0),),
    rake_length=hypot(192, 96),
)
PLAN = Plan(
    JOB,
    {
        "main": CourseSet(
            "main",
            "",
            PANEL,
            (-4.0, -1.0),
            lines(-2.375, 26, flush=1, notches=2, flush_weight=4.0),
            (lines(-3.0, 26, flush=0, notches=3, limits=-0.0),),
            (),
        )
    },
    (
        ElevationPlan(
            GABLE,
            (ZonePlan(Zone("main"), "main", -2.375, 203.0),),
            (HEAD,),
            (RAKE,),
            area=57933.0,
            cautions=(Caution("ground", 5.5, 12.0),),
        ),
    ),
)


def test_every_settled_key_is_there() -> None:
    found = plan_dict(PLAN)
    assert {"format", "version", "job", "units", "course_sets", "elevations"} <= set(found)
    assert (found["format"], found["version"]) == ("evencourse-plan", 1)
    assert (found["job"], found["units"]) == ("Linden Row, lot 4", "in")
    main = found["course_sets"]["main"]
    assert main["cladding"] == "foam-double-4"
    assert {"starter", "bands", "score"} <= set(main["alternatives"][0])
    front = found["elevations"][0]
    assert {"name", "courses", "area", "edges", "rakes"} <= set(front)
    settled = "opening edge height result course cut strip furring miss"
    assert set(settled.split()) <= set(front["edges"][0])
    settled = "from to pitch angle from_square run_per_exposure rake_length"
    assert set(settled.split()) <= set(front["rakes"][0])


def test_course_lines() -> None:
    main = plan_dict(PLAN)["course_sets"]["main"]
    assert main["starter"] == -2.375
    assert main["chalk_line"] == -0.375
    assert main["butt_lines"][:2] == [-2.375, 5.625]
    assert main["butt_lines"][11:13] == [85.625, 93.625]
    assert main["bands"] == [{"first_course": 1, "courses": 26, "exposure": 8.0}]
    assert [other["starter"] for other in main["alternatives"]] == [-3.0]


def test_every_term_of_the_objective_is_in_the_score() -> None:
    scored = plan_dict(PLAN)["course_sets"]["main"]["score"]
    assert (scored["flush"], scored["notch"], scored["sliver"]) == (1, 2, 0)
    terms = {term.name for term in fields(Score)} - {"notches", "slivers"}
    assert terms <= set(scored)
    assert scored["flush_weight"] == 4.0


def test_an_edge() -> None:
    edge = plan_dict(PLAN)["elevations"][0]["edges"][0]
    assert edge == {
        "opening": "A",
        "edge": "head",
        "height": 89.5,
        "left": 54.0,
        "right": 90.5,
        "importance": "want",
        "result": "notch",
        "course_set": "main",
        "course": 12,
        "cut": 3.875,
        "strip": 4.125,
        "rip": False,
        "furring": 0.484375,
        "miss": -3.875,
        "chord": None,
    }


def test_a_rake() -> None:
    rake = plan_dict(PLAN)["elevations"][0]["rakes"][0]
    assert (rake["from"], rake["to"]) == ([0.0, 107.0], [192.0, 203.0])
    assert rake["angle"] == pytest.approx(26.565, abs=5e-4)
    assert rake["from_square"] == pytest.approx(63.435, abs=5e-4)
    assert rake["rake_length"] == pytest.approx(214.66, abs=5e-3)
    assert rake["run_per_exposure"] == 16.0


def test_numbers_are_not_rounded() -> None:
    third = replace(PLAN.course_sets["main"], lines=lines(31 / 3, 3))
    again = json.loads(plan_json(replace(PLAN, course_sets={"main": third})))
    assert again["course_sets"]["main"]["starter"] == 31 / 3


def test_the_same_plan_gives_the_same_bytes() -> None:
    text = plan_json(PLAN)
    assert text == plan_json(PLAN)
    assert text.endswith("}\n")
    assert json.loads(text) == plan_dict(PLAN)


def test_a_zero_has_no_sign() -> None:
    assert "-0.0" not in plan_json(PLAN)


def test_numbers_of_a_number_library_are_stored_as_numbers() -> None:
    edge = replace(
        HEAD, height=np.float64(89.5), course=np.int64(12), rip=np.bool_(False), chord=(np.float64(1), 2.0)
    )
    face = replace(PLAN.elevations[0], edges=(edge,))
    stored = json.loads(plan_json(replace(PLAN, elevations=(face,))))["elevations"][0]["edges"][0]
    assert (stored["height"], stored["course"], stored["rip"], stored["chord"]) == (89.5, 12, False, [1, 2])


def test_what_is_no_number_is_refused() -> None:
    face = replace(PLAN.elevations[0], area=float("nan"))
    with pytest.raises(ValueError, match="JSON"):
        plan_json(replace(PLAN, elevations=(face,)))


def test_a_missed_limit_is_told() -> None:
    missed = MissedLimit("must", 1.25, edge=MissedEdge("Front", "A", "head", 70.0, 9, "limits", (-2.0, 6.0)))
    course_set = replace(PLAN.course_sets["main"], missed=(missed,))
    found = plan_dict(replace(PLAN, course_sets={"main": course_set}))
    assert found["clean"] is False
    assert found["course_sets"]["main"]["missed"] == [
        {
            "limit": "must",
            "amount": 1.25,
            "course": None,
            "edge": {
                "face": "Front",
                "opening": "A",
                "edge": "head",
                "height": 70.0,
                "course": 9,
                "against": "limits",
                "starters": [-2.0, 6.0],
                "roof": None,
            },
            "instead": None,
            "end": None,
        }
    ]
    assert plan_dict(PLAN)["clean"] is True


def test_pieces_and_takeoff_come_with_the_material_alone() -> None:
    assert "takeoff" not in plan_dict(PLAN)
    assert "pieces" not in plan_dict(PLAN)["elevations"][0]


def test_letters_of_every_script_stay_readable() -> None:
    assert '"job": "Südhaus 正面"' in plan_json(replace(PLAN, job=replace(JOB, name="Südhaus 正面")))


def closed(part: Any) -> Any:
    """A schema that has no room for keys that it does not name."""
    if isinstance(part, list):
        return [closed(one) for one in part]
    if not isinstance(part, dict):
        return part
    shut = {"additionalProperties": False} if "properties" in part else {}
    return {name: closed(one) for name, one in part.items()} | shut


def test_the_schema_is_one_of_the_draft_that_it_names() -> None:
    assert plan_schema()["$schema"].endswith("2020-12/schema")
    Draft202012Validator.check_schema(plan_schema())


def test_the_schema_says_what_each_key_means() -> None:
    for name, kind in plan_schema()["$defs"].items():
        silent = [key for key, one in kind["properties"].items() if "description" not in one]
        assert silent == [], name


@each_sample
def test_the_plan_file_of_every_sample_is_as_its_schema_says(path: Path) -> None:
    """Read by the ``jsonschema`` package; no key is in the file that the schema does not name."""
    found = result(path)
    stored = plan_json(found.plan, found.material, certainty(found.plan, found.job.round))
    Draft202012Validator(closed(plan_schema())).validate(json.loads(stored))


@dataclass(frozen=True)
class Corner:
    """A corner of a wall.

    Attributes:
        x: from the left [ft].
        mark: as on the sheet; None for none.
    """

    x: float
    mark: str | None


@dataclass(frozen=True)
class Wall:
    """A wall.

    Attributes:
        name: of the wall.
        corners: from the left.
        span: from and to.
        note: for the crew.
    """

    name: str
    corners: tuple[Corner, ...]
    span: tuple[float, float]
    note: str = ""


def test_fields_are_stored_in_their_order_and_the_table_says_what_differs() -> None:
    wall = Wall("North", (Corner(-0.0, None), Corner(np.float64(8), "B")), (0, 8))
    corners = [{"x": 0.0, "mark": None}, {"x": 8.0, "mark": "B"}]
    assert Encoding({}).encode(wall) == {"name": "North", "corners": corners, "span": [0.0, 8.0], "note": ""}
    table = {Wall: Differs(first=(("face", "name"), "span"), may_lack=frozenset({"note"}))}
    assert list(Encoding(table).encode(wall)) == ["face", "span", "corners"]
    found = Encoding(table).definitions(Wall)
    assert found["Wall"]["required"] == ["face", "span", "corners"]
    assert found["Corner"]["properties"]["mark"] == {
        "anyOf": [{"type": "string"}, {"type": "null"}],
        "description": "as on the sheet; null for none.",
    }


def test_a_type_without_a_place_in_json_is_refused() -> None:
    @dataclass(frozen=True)
    class Odd:
        value: complex

    with pytest.raises(TypeError, match="no place in JSON"):
        Encoding({}).encode(Odd(1j))
