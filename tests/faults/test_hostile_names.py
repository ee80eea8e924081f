"""A name is text in every output, whatever it tries to be, and no file goes where it points."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.errors import JobError
from tests.faults.commands import COMMANDS
from tests.faults.hostile import NAMES, REFUSED, job_named
from tests.faults.readouts import SAME, shape
from tests.faults.through import through

PLAIN = ("Front", "Rear", "Side", "Lot", "Dock")
#: How the names are dealt out to the places here; ``python -m tests.faults`` puts every one in every place.
DEALT = tuple((*list(NAMES.values())[start:], *list(NAMES.values())[:start]) for start in (0, 13))


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> dict[str, object]:
    """What the outputs of a job with plain names are made of, by suffix."""
    found: dict[str, object] = {}
    for number, kind in enumerate(COMMANDS):
        for path in through(kind, job_named(*PLAIN), tmp_path_factory.mktemp(f"plain{number}")):
            found[path.suffix] = shape(path)
    return found


@pytest.mark.long
@pytest.mark.parametrize("kind", COMMANDS)
@pytest.mark.parametrize("names", DEALT, ids=["from the first", "from another"])
def test_a_hostile_name_is_text_and_nothing_more(
    kind: str, names: tuple[str, ...], tmp_path: Path, plain: dict[str, object]
) -> None:
    for path in through(kind, job_named(*names), tmp_path):
        made = shape(path)
        if path.suffix in SAME:
            assert made == plain[path.suffix], path


@pytest.mark.parametrize("name", NAMES)
def test_every_such_name_is_taken(name: str) -> None:
    assert parse_job(job_named(NAMES[name])).order.currency == NAMES[name].strip()


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_seen_is_refused_at_every_place(name: str) -> None:
    """Where a letter follows it, nothing at all is something."""
    with pytest.raises(JobError) as refused:
        parse_job(job_named(REFUSED[name]))
    places = {fault.place.split(", ")[-1].split(" ")[0] for fault in refused.value.faults}
    assert {"name", "datum", "author", "label", "source", "material", "currency", "mark"} <= places
    assert all(str(fault).isprintable() for fault in refused.value.faults)
