"""A drawing goes out, is changed with ezdxf, and comes back: what has changed, and what that does."""

from __future__ import annotations

import io
import random
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import shapely

from evencourse.cli.main import main
from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.job import Elevation, Opening
from evencourse.layout.model.tolerance import SAME
from evencourse.layout.results.drawn_changes import drawn_changes
from tests.houses import random_house
from tests.render.cad import read, told, written
from tests.samples import sample

JOB = sample("gabled-house")


@pytest.fixture(scope="module")
def edited(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Window B moved by 5-1/2 in to the right and 1-1/4 in down, the Street wall made 24 in longer."""
    document = read(written(JOB))
    space = document.modelspace()
    window = next(one for one in space.query("INSERT") if one.get_attrib_text("MARK") == "B")
    window.translate(5.5, -1.25, 0)
    wall = next(one for one in space.query("LWPOLYLINE[layer=='A-ELEV-OTLN']"))
    right = max(x for x, *_ in wall.get_points())
    wall.set_points([(x + 24 if abs(x - right) < 1 else x, *rest) for x, *rest in wall.get_points()])
    out = io.StringIO()
    document.write(out)
    path = tmp_path_factory.mktemp("back") / "back.dxf"
    path.write_bytes(out.getvalue().encode())
    return str(path)


@pytest.mark.long
def test_what_a_drafter_changed_is_listed(
    edited: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "back.toml"
    assert main(["import", edited, "-o", str(job), "--like", str(JOB)]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert 'opening "B": moved 5-1/2" to the right and 1-1/4" down' in out
    was = max(x for x, _ in read_job(JOB).elevations[0].outline)
    found = read_job(job).elevations[0]
    assert max(x for x, _ in found.outline) == was + 24
    assert "wide, was" in out
    assert "Plan Before After" in out


def test_a_drawing_that_nobody_touched_has_not_changed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "same.dxf"
    path.write_bytes(written(JOB))
    assert main(["import", str(path), "--show"]) == 0
    assert "Nothing has changed since the other job." in capsys.readouterr().out


def changed(**values: Any) -> list[tuple[str, str]]:
    """What is told when one face of the job is replaced."""
    faces = read_job(JOB).elevations
    place = next(number for number, face in enumerate(faces) if face.openings)
    face = faces[place]
    after = list(faces)
    after[place] = replace(face, **values) if values else face
    return [(one.thing, one.words) for one in drawn_changes(faces, after, "in", 1 / 16)]


def first_with_openings() -> tuple[Opening, ...]:
    return next(face.openings for face in read_job(JOB).elevations if face.openings)


def test_sizes_kinds_and_slopes_are_told_one_by_one() -> None:
    """By hand: 6 in wider, a vent instead; a gable of run 120 and rise 60, then 80: 6 and 8 in 12."""
    first, *rest = first_with_openings()
    wider = replace(first, width=first.width + 6, kind="vent")
    (told, *more) = changed(openings=(wider, *rest))
    assert more == []
    assert told[0] == f'opening "{first.mark}"'
    assert told[1].endswith(f"a vent, was a {first.kind}")
    assert changed(openings=tuple(rest)) == [(f'opening "{first.mark}"', "is not there any more")]
    assert changed(openings=(*first_with_openings(), replace(first, mark="Z9"))) == [
        ('opening "Z9"', "is new")
    ]
    face = read_job(JOB).elevations[0]
    low = replace(face, outline=((0, 0), (240, 0), (240, 96), (120, 156), (0, 96)), openings=(), roofs=())
    steep = replace(low, outline=((0, 0), (240, 0), (240, 96), (120, 176), (0, 96)))
    words = [one.words for one in drawn_changes([low], [steep], "in", 1 / 16)]
    assert words == ["14' 8\" high, was 13' 0\"", "a slope of 8 in 12, was 6 in 12"]


def test_less_than_half_a_mark_is_no_change() -> None:
    first, *rest = first_with_openings()
    assert changed(openings=(replace(first, left=first.left + 1 / 40), *rest)) == []
    assert changed() == []


@pytest.mark.long
@pytest.mark.parametrize("seed", range(12))
def test_random_houses_come_back_as_a_drafter_left_them(
    seed: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Some openings moved by marks of the tape, one wall made longer by 16: these come back, and no more."""
    luck, job = random.Random(seed), random_house(seed)
    document = read(written(seed))
    space, mark = document.modelspace(), job.round
    wanted = list(job.elevations)
    longer = luck.randrange(len(wanted))
    wall = next(
        one for one, data in told(space.query("LWPOLYLINE"), "face") if data["face"] == wanted[longer].name
    )
    right = max(x for x, *_ in wall.get_points())
    wall.set_points([(x + 16 * mark * (abs(x - right) < mark), *rest) for x, *rest in wall.get_points()])
    wanted[longer] = _longer(wanted[longer], 16 * mark)
    moves = {}
    blocks = [one for one in space.query("INSERT") if one.dxf.name.startswith("opening")]
    for block in luck.sample(blocks, min(4, len(blocks))):
        across, up = (mark * luck.choice((-16, -9, -1, 1, 5, 16)) for _ in range(2))
        face, place = next(
            (number, place)
            for number, face in enumerate(wanted)
            for place, opening in enumerate(face.openings)
            if opening.mark == block.get_attrib_text("MARK")
        )
        before = wanted[face].openings
        up = 0.0 if before[place].on_base else up
        after = replace(before[place], left=before[place].left + across, bottom=before[place].bottom + up)
        if _clear(wanted[face], after):
            block.translate(across, up, 0)
            wanted[face] = replace(wanted[face], openings=(*before[:place], after, *before[place + 1 :]))
            moves[after.mark] = after
    out, path, like = io.StringIO(), tmp_path / "back.dxf", tmp_path / "house.toml"
    document.write(out)
    path.write_bytes(out.getvalue().encode())
    like.write_text(job_text(job), encoding="utf-8")
    back = tmp_path / "back.toml"
    assert main(["import", str(path), "-o", str(back), "--like", str(like)]) == 0
    found = read_job(back).elevations
    # The ground was not drawn on: under the longer wall it is another line than the job's.
    off = drawn_changes(wanted, found, job.units, mark)
    assert [one for one in off if one.words != "another ground line"] == []
    assert {one.face for one in off} <= {wanted[longer].name}
    told_of = {one.thing for one in drawn_changes(job.elevations, found, job.units, mark)}
    assert told_of == {"", *(f'opening "{one}"' for one in moves)}
    said = " ".join(capsys.readouterr().out.split())
    assert all(f'opening "{one}": moved' in said for one in moves)


def _longer(face: Elevation, by: float) -> Elevation:
    """A wall whose right end is farther off."""
    right = max(x for x, _ in face.outline)
    return replace(face, outline=tuple((x + by * (abs(x - right) < SAME), y) for x, y in face.outline))


def _clear(face: Elevation, opening: Opening) -> bool:
    """Whether an opening lies in its wall and clear of everything else on it."""
    here = shapely.Polygon(opening.trimmed)
    others = [one.trimmed for one in face.openings if one.mark != opening.mark]
    others += [one.outline() for one in face.fixtures]
    return shapely.Polygon(face.outline).buffer(SAME).covers(here) and not any(
        here.distance(shapely.Polygon(one)) < 1 / 8 for one in others
    )
