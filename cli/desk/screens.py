"""The desk's pages: templates filled in on the server, texts escaped."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from starlette.responses import HTMLResponse

from evencourse.cli.desk.desk_words import script_words
from evencourse.cli.desk.guard import LARGEST_DRAWING
from evencourse.cli.views.field_words import choice_words
from evencourse.layout.language.speech import gettext, ngettext, offered, pgettext, spoken

TEMPLATES = Path(__file__).with_name("templates")
STATIC = Path(__file__).with_name("static")


@cache
def _environment() -> Environment:
    found = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    found.globals["largest_drawing"] = LARGEST_DRAWING
    for one in (choice_words, gettext, ngettext, offered, pgettext, script_words, spoken):
        found.globals[one.__name__] = one
    found.filters["json"] = lambda value: json.dumps(value, separators=(",", ":"))
    return found


def screen(template: str, status: int = 200, **values: Any) -> HTMLResponse:
    """A page or a part of one.

    Args:
        template: its file.
        status: of the answer.
        values: what the template names.
    """
    return HTMLResponse(_environment().get_template(template).render(**values), status)
