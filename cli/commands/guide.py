"""``guide``: the pages of the guide on the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

import typer

from evencourse.cli.guide.guide_pages import TOPICS, page_text, summary
from evencourse.cli.guide.terminal_text import PIPED, text_lines
from evencourse.cli.reports.table import Column, Screen, show, table
from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import gettext, noop, pgettext
from evencourse.layout.model.errors import Fault, JobError

TopicArgument = Annotated[
    str | None,
    typer.Argument(
        metavar="TOPIC", help=noop("A page of the guide; without it, the list."), show_default=False
    ),
]


def guide(topic: TopicArgument = None) -> int:
    """Print a page of the guide, or the list of its pages."""
    if topic is None:
        show(_list)
    elif topic in TOPICS:
        show(lambda on: text_lines(page_text(topic), on))
    else:
        raise JobError([Fault("TOPIC", f'"{topic}"', either([", ".join(TOPICS[:-1]), TOPICS[-1]]))])
    return 0


def _list(on: Screen) -> Iterator[str]:
    columns = [
        Column(pgettext("column of the guide's pages", "Topic")),
        Column(pgettext("column of the guide's pages", "What it tells"), wraps=True),
    ]
    rows = [[topic, summary(topic)] for topic in TOPICS]
    yield from table(columns, rows, Screen(on.width or PIPED, on.colour))
    yield ""
    yield gettext("{command} prints a page.", command="evencourse guide TOPIC")
