"""Whole commands against the time and the memory that their imports alone take."""

from __future__ import annotations

from pathlib import Path

from tests.benchmarks.timing import medians, peak, process

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "gabled-house.toml"
FOUR = "import numpy, shapely, svgwrite, cairosvg"
PROGRAM = ("-c", "import sys; from evencourse.cli.main import main; sys.exit(main(sys.argv[1:]))")


def _rows() -> tuple[tuple[str, tuple[str, ...], str], ...]:
    job, out = str(SAMPLE), ("-o", "out/benchmark")
    return (
        ("--help", ("--help",), "import typer"),
        ("plan", ("plan", job), "import numpy, shapely"),
        ("plan --json, with pieces", ("plan", job, "--json", "-"), "import numpy, shapely"),
        ("takeoff", ("takeoff", job), "import numpy, shapely"),
        ("draw --only svg,pdf", ("draw", job, *out, "--only", "svg,pdf"), FOUR),
        ("sheets, letter", ("sheets", job, "-o", "-", "--paper", "letter"), FOUR),
        ("sheets, tabloid", ("sheets", job, "-o", "-", "--paper", "tabloid"), FOUR),
        ("draw --only dxf", ("draw", job, *out, "--only", "dxf"), "import numpy, shapely, ezdxf"),
    )


def commands() -> None:
    """Print time and peak memory of every command over its reference."""
    print("\nWhole commands over a reference process, two-storey house of four faces")
    for name, words, reference in _rows():
        mine, floor = medians(process(*PROGRAM, *words), process("-c", reference))
        held, least = peak(f"from evencourse.cli.main import main\nmain({[*words]!r})"), peak(reference)
        print(
            f"  {name:25} {mine * 1000:6.0f} ms  {mine / floor:5.2f} x {reference} ({floor * 1000:.0f} ms)"
            f"  {held:4.0f} MB against {least:.0f} MB"
        )
