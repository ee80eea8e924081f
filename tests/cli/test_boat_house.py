"""The boat house of the guide: what a pocket calculator says, and what the commands print."""

from __future__ import annotations

import re
from math import hypot
from pathlib import Path

import pytest
from pypdf import PdfReader

from evencourse.cli.guide.guide_pages import page_text
from evencourse.cli.main import main

JOB = Path(__file__).resolve().parents[2] / "samples" / "boat-house.toml"


def said(capsys: pytest.CaptureFixture[str], *words: str) -> list[str]:
    assert main(words) == 0
    return capsys.readouterr().out.splitlines()


def row(lines: list[str], start: str) -> list[str]:
    found = next(line for line in lines if line.startswith(start))
    return [cell.strip() for cell in found.split("  ") if cell.strip()]


def test_heads_cuts_and_rakes_by_calculator(capsys: pytest.CaptureFixture[str]) -> None:
    lines = said(capsys, "plan", str(JOB))
    # base -31, covered by at least 1/2
    assert row(lines, "starter line")[1] == "2' 7-1/2\" below the datum"
    # boat door: -31 + 96 + trim 3-1/2 = 68-1/2
    assert row(lines, "B head") == ["B head", "5' 8-1/2\"", "flush, course 18"]
    # vent: 126 - 1-1/2 and 126 + 30 + 3-1/2
    assert row(lines, "V sill")[1:] == ["10' 4-1/2\"", "flush, course 28 ends here"]
    assert row(lines, "V head")[1:] == ["13' 3-1/2\"", "flush, course 36"]
    # windows: 6 - 1-1/2; 6 + 48 + 3-1/2 = 30 + 24 + 3-1/2
    assert row(lines, "W1 sill")[1] == '4-1/2"'
    assert {row(lines, f"W{number} head")[1] for number in (1, 3, 4, 5)} == {"4' 9-1/2\""}
    # door: -31 + 82-1/2 + 3-1/2 = 55; course 15 from 51-3/4: 3-1/4 up; to the line at 57-1/2: 2-1/2
    cut = 'cut 3-1/4" off the bottom of course 15, strip 2-1/2", fur out 1/4"'
    assert row(lines, "D head") == ["D head", "4' 7\"", cut]
    # 10 ft at 8 in 12: 144.2 in; 12 ft at 4 in 12: 151.8 in
    assert (round(hypot(120, 80), 1), round(hypot(144, 48), 1)) == (144.2, 151.8)
    assert row(lines, "gable, right")[4] == "12' 0-1/4\""
    assert row(lines, "base, right")[4] == "12' 7-3/4\""


def test_pieces_by_calculator(capsys: pytest.CaptureFixture[str]) -> None:
    """Gaps of 1/8 at a corner and at trim: common practice, no source."""
    lines = [line.strip() for line in said(capsys, "cuts", str(JOB))]
    # beside the boat door: 60 - 3-1/2 - 1/4 = 56-1/4
    assert any(re.match(r"Wa-1.1 +new length +4' 8-1/4\"  square", line) for line in lines)
    # between W1 and W2: 152 - 3-1/2 - (40 + 36 + 3-1/2) - 1/4 = 68-3/4
    assert any(re.match(r"E-\d+\.2  .* 5' 8-3/4\"  square", line) for line in lines)
    # at the shed's roof, course 10, 22-1/2 to 28-1/2; the roof is at x 241-1/2 there, held off 2 in plumb,
    # 6 in along: 235-1/2 - 99-1/2 - 1/4 = 135-3/4; the lap of 7-1/4 less 6 in goes on 3-3/4: 139-1/2, and the
    # cut over all of the board is 7-1/4 up and three times as far over
    cut = r"""We-10.2 +new length +11' 7-1/2"  right rake 7-1/4" up, 21-3/4" over"""
    assert any(re.match(cut, line) for line in lines)
    # door head: 38 and twice 3-1/2; side: -31 to 51-1/2
    assert any("3' 9\" Inland, D head" in line for line in lines)
    assert any("6' 10-1/2\" Inland, D side, left" in line for line in lines)
    # corner boards from -31-1/2 to the eave at 94; over the shed from 60 and 2 in off the roof
    corners = [line for line in lines if "outside corner" in line]
    assert sum(line.count("10' 5-1/2\"") for line in corners) == 7
    assert sum(line.count("2' 8\" West") for line in corners) == 1


@pytest.mark.long
def test_areas_and_the_order_by_calculator(capsys: pytest.CaptureFixture[str]) -> None:
    lines = said(capsys, "takeoff", str(JOB))
    # 20 ft by 10.458 and half of 20 by 6.667 less the door with trim, 127 by 100 in, and the vent, 31 by 35
    gross, openings = 20 * 125.5 / 12 + 20 * 80 / 24, (127 * 100 + 31 * 35) / 144
    assert row(lines, "Water")[1:] == [f"{each / 100:.2f}" for each in (gross, openings, gross - openings)]
    # 28 ft by 10.458 less two of 43 by 53, one of 31 by 29 and the spigot's block of 4 by 4
    gross, openings = 28 * 125.5 / 12, (2 * 43 * 53 + 31 * 29 + 16) / 144
    assert row(lines, "East")[1:] == [f"{each / 100:.2f}" for each in (gross, openings, gross - openings)]
    # corner boards of 10' 5-1/2" leave 5' 6": seven of 16 ft, the short one from a rest
    assert any(re.fullmatch(r" +7  corner board, 16' 0\" +7", line) for line in lines)
    # strips over heads at studs 16 in apart: 127 in takes 9 nails, three of 43 in 4 each, three of 31 in
    # 3 each: 30; with 2352 of the siding 2382, at 145 in a pound 16.4
    assert any(
        line.lstrip().startswith("17 lb  box nails") and "2382 nails, 145 to a pound" in line
        for line in lines
    )


@pytest.mark.long
def test_the_figures_in_the_guide_are_those_that_are_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What no calculator gives; a change of the planner or of the stock shows here and in the guide.

    What the page shows of a command's output, ``test_guide_examples.py`` compares.
    """
    page = " ".join(page_text("example").split())
    siding = row(said(capsys, "takeoff", str(JOB)), "7-1/4 in fiber cement board  ")
    pieces, stock, _, least, thumb = siding[1:6]
    assert f"{pieces} pieces from {stock.partition(' pcs')[0]} stock lengths of 12'" in page
    assert f"minimum possible {least}; area + 10 % says {thumb}" in page
    sheets, pole = tmp_path / "sheets.pdf", tmp_path / "pole.pdf"
    said(capsys, "sheets", str(JOB), "-o", str(sheets))
    said(capsys, "pole", str(JOB), "-o", str(pole))
    counts = [len(PdfReader(file).pages) for file in (sheets, pole)]
    assert "The sheets for the crew are {}, the story pole is {} sheets".format(*counts) in page
    hung = tmp_path / "hung.toml"
    lines = "".join(
        f'  [[as_built.course]]\n  courses = "main"\n  course = {course}\n  left = "{at}"\n  right = "{at}"\n'
        for course, at in ((10, "1' 10-1/2"), (14, "3' 9-5/8"))
    )
    hung.write_text(f"{JOB.read_text(encoding='utf-8')}\n[as_built]\n{lines}", encoding="utf-8")
    carried = said(capsys, "plan", str(hung))
    assert row(carried, "above that")[1].startswith(
        'courses 14 to 15 show about 6", about 1/8" more than planned'
    )
    assert row(carried, "W1 head")[2] == "flush, course 16"
    assert row(carried, "D head")[2].startswith('cut 3-3/8" off the bottom of course 15')
    panels = tmp_path / "panels.toml"
    panels.write_text(re.sub("(?m)^profile = .*", 'profile = "double-4"', JOB.read_text("utf-8")), "utf-8")
    assert main(["plan", str(panels)]) == 1
    assert "\nedges           0 flush, 2 rips, 13 notches, 1 sliver\n" in capsys.readouterr().out
