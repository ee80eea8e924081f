"""The framing square's first row: length of common rafter per foot of run, stamped on every square.

Rise in 12 and length in inches per foot of run, as on the tool (a standard table of the trade).
"""

from __future__ import annotations

from math import atan, degrees

import pytest

from evencourse.layout.model.lengths import parse_length
from tests.published.walls import planned, told

ROW = {
    2: 12.17, 3: 12.37, 4: 12.65, 5: 13.00, 6: 13.42, 7: 13.89, 8: 14.42, 9: 15.00, 10: 15.62, 11: 16.28,
    12: 16.97, 13: 17.69, 14: 18.44, 15: 19.21, 16: 20.00, 17: 20.81, 18: 21.63,
}  # fmt: skip
GABLE = """
[job]
name = "Gable"
[cladding]
profile = "double-4"
[[elevation]]
name = "Gable"
width = "24'"
eave = "9'"
gable = {{ pitch = "{pitch}/12" }}
"""


@pytest.mark.parametrize(("pitch", "per_foot"), ROW.items())
def test_rake_length_is_the_run_in_feet_times_the_row(pitch: int, per_foot: float) -> None:
    rakes = planned(GABLE.format(pitch=pitch)).elevations[0].rakes
    assert len(rakes) == 2
    for rake in rakes:
        assert rake.pitch == pytest.approx(pitch)
        assert rake.rake_length / 12 == pytest.approx(per_foot, abs=0.00501)  # the row is rounded to 1/100
        assert rake.angle == pytest.approx(degrees(atan(pitch / 12)))
        assert rake.run_per_exposure == pytest.approx(8 * 12 / pitch)
    assert {rake.hand for rake in rakes} == {"left", "right"}


@pytest.mark.parametrize(("pitch", "per_foot"), ROW.items())
def test_the_terminal_says_the_rake_as_the_tape_reads_it(pitch: int, per_foot: float) -> None:
    lines = [
        line.split("  ") for line in told(GABLE.format(pitch=pitch), "plan") if line.startswith("gable, ")
    ]
    assert len(lines) == 2
    for line in lines:
        cells = [cell.strip() for cell in line if cell.strip()]
        assert cells[3] == f"{pitch} in 12"
        # run of 12 ft; half a sixteenth on the tape
        assert parse_length(cells[4], "in") == pytest.approx(12 * per_foot, abs=12 * 0.00501 + 1 / 32)


def test_only_what_is_flatter_than_ten_in_twelve_is_past_the_saws_scale() -> None:
    # miter saws read to 50 degrees: common practice, no source
    past = {pitch for pitch in ROW if planned(GABLE.format(pitch=pitch)).elevations[0].rakes[0].past_saw}
    assert past == set(range(2, 11))  # 10 in 12 leans 50.2
