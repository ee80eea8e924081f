"""Jobs for the published checks, written as a crew would write them, and what the program says of them."""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from contextlib import redirect_stdout
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from evencourse.cli.main import main
from evencourse.layout.courses.planner import plan
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.course_plan import Plan


def planned(text: str) -> Plan:
    """The plan of a job file's text."""
    return plan(parse_job(text))


@cache
def told(text: str, command: str, *options: str) -> tuple[str, ...]:
    """What a command says about a job file, a line each."""
    out = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", newline="")
    with TemporaryDirectory() as folder, redirect_stdout(out):
        path = Path(folder) / "house.toml"
        path.write_text(text, encoding="utf-8")
        assert main([command, str(path), *options]) in (0, 1)
    out.flush()
    return tuple(out.buffer.getvalue().decode().splitlines())  # type: ignore[attr-defined]


def row(lines: Sequence[str], start: str) -> str:
    """What stands behind the name of the first row that starts so."""
    line = next(line for line in lines if line.startswith(start))
    return line.removeprefix(start).strip()


def plan_file(text: str) -> dict[str, Any]:
    """The plan file of a job file."""
    found: dict[str, Any] = json.loads("\n".join(told(text, "plan", "--json", "-")))
    return found


def courses(face: dict[str, Any]) -> dict[int, list[dict[str, Any]]]:
    """Pieces of one face in a plan file by course, each course from the left."""
    found: dict[int, list[dict[str, Any]]] = {}
    for piece in face["pieces"]:
        found.setdefault(piece["course"], []).append(piece)
    return {course: sorted(pieces, key=lambda piece: piece["left"]) for course, pieces in found.items()}
