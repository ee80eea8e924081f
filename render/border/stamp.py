"""What is the same in the title block of every sheet of a set and changes from issue to issue."""

from __future__ import annotations

from dataclasses import dataclass

from evencourse.layout.language.speech import gettext


@dataclass(frozen=True)
class Stamp:
    """Which issue of which plan a sheet belongs to.

    Attributes:
        date: as the user asked for, an ISO date; None for none: no clock stands in an output.
        revision: as the user asked for; empty for none.
        fingerprint: of the plan, so that an old sheet is known; empty where no pieces were cut.
    """

    date: str | None = None
    revision: str = ""
    fingerprint: str = ""

    @property
    def words(self) -> str:
        """All of it in a line, for a sheet without a title block; empty where nothing is known."""
        revision = gettext("revision {revision}", revision=self.revision) if self.revision else ""
        plan = gettext("plan {fingerprint}", fingerprint=self.fingerprint) if self.fingerprint else ""
        return ", ".join(word for word in (self.date, revision, plan) if word)


NO_STAMP = Stamp()
