"""The pages of the guide: one file of Markdown each in ``pages``, so that README can link to them."""

from __future__ import annotations

from importlib.resources import files

#: Every page by its name, in the order in which they are listed; ``pages/NAME.md`` is its text.
TOPICS = (
    "example", "desk", "words", "job", "keys", "lines", "carry-on", "sure", "compare", "order", "sheets",
    "languages", "cad", "import", "ifc", "page", "street", "plan-file", "scripts", "sources", "figures",
)  # fmt: skip


def page_text(topic: str) -> str:
    """A page as Markdown.

    Args:
        topic: one of ``TOPICS``.
    """
    return files(__package__).joinpath("pages", f"{topic}.md").read_text(encoding="utf-8")


def summary(topic: str) -> str:
    """What a page is about: its first sentence, which stands in a paragraph of its own under the title."""
    return " ".join(page_text(topic).split("\n\n")[1].split())
