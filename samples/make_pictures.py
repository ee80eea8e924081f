"""Makes the README's pictures from the sample jobs: ``python samples/make_pictures.py``."""

from __future__ import annotations

from pathlib import Path

from evencourse.layout.jobfile.job_file import read_job
from evencourse.layout.results.comparison import compare
from evencourse.render.border.stamp import Stamp
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.formats.png import png
from evencourse.render.sheets.elevation_sheets import job_sheets
from evencourse.render.sheets.strip_chart import strip_rows, strip_sheet
from evencourse.render.words.result import Result, result

HERE = Path(__file__).parent
#: Sample, number of the face, paper, picture.
PICTURES = (
    ("gabled-house", 1, "tabloid", "east-gable.png"),
    ("old-house", 1, "tabloid", "over-the-wing.png"),
    ("two-claddings", 0, "A3", "sea-gable.png"),
)


def _stamp(found: Result) -> Stamp:
    return Stamp(fingerprint=found.fingerprint)


def main() -> None:
    """Write every picture beside this file."""
    folder = HERE / "pictures"
    folder.mkdir(exist_ok=True)
    for sample, face, paper, name in PICTURES:
        found = result(read_job(HERE / f"{sample}.toml"))
        sheets = job_sheets(found, paper, _stamp(found), found.material.pieces)
        (folder / name).write_bytes(png(sheets[face][0], 96))
        print(folder.name + "/" + name)
    job = read_job(HERE / "gabled-house.toml")
    found = result(job)
    (folder / "cover.png").write_bytes(
        png(sheet_set(found, "tabloid", _stamp(found), ["cover"]).sheets[0], 96)
    )
    print(f"{folder.name}/cover.png")
    sheet = strip_sheet(job, strip_rows(compare(job, [{}, {"main": "double-5"}])))
    (folder / "every-starter.png").write_bytes(png(sheet, 96))
    print(f"{folder.name}/every-starter.png")


if __name__ == "__main__":
    main()
