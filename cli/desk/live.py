"""Who looks at which job now: they are told when it changes."""

from __future__ import annotations

import asyncio
import json
from collections import defaultdict
from collections.abc import AsyncIterator, Awaitable, Callable
from typing import Any

from evencourse.layout.language.speech import spoken

Json = dict[str, Any]
#: Most of a job's watchers, and most that waits for one that does not read.
MOST_WATCHERS, MOST_WAITING = 300, 50
#: How often a line without meaning goes out, so that a broken connection is found [s].
BEAT = 15.0


class Live:
    """Those who watch, by job."""

    def __init__(self) -> None:
        self._watchers: dict[str, dict[asyncio.Queue[Json | None], str]] = defaultdict(dict)
        self._ended = False

    def tell(self, job: str, event: Json, language: str = "") -> None:
        """Tell all who watch a job, or those alone who read a language."""
        for queue, reads in self._watchers.get(job, {}).items():
            if queue.qsize() < MOST_WAITING and language in ("", reads):
                queue.put_nowait(event)

    def count(self, job: str) -> int:
        """How many watch a job."""
        return len(self._watchers.get(job, ()))

    def end(self) -> None:
        """Tell all that nothing more comes: a desk that ends waits for nobody who only watches."""
        self._ended = True
        for queues in self._watchers.values():
            for queue in queues:
                queue.put_nowait(None)

    def watched(self) -> list[str]:
        """Jobs that somebody looks at."""
        return list(self._watchers)

    async def events(self, job: str, first: Callable[[], Awaitable[Json]]) -> AsyncIterator[str]:
        """What happens to a job, as server-sent events (WHATWG HTML, 9.2).

        Args:
            job: its name.
            first: what is told first, asked for when everything that happens later is told already.
        """
        if self._ended or self.count(job) >= MOST_WATCHERS:
            return
        queue: asyncio.Queue[Json | None] = asyncio.Queue()
        self._watchers[job][queue] = spoken().code
        try:
            yield _event(await first())
            while not self._ended:
                try:
                    event = await asyncio.wait_for(queue.get(), BEAT)
                except TimeoutError:
                    yield ": still there\n\n"
                    continue
                if event is not None:
                    yield _event(event)
        finally:
            del self._watchers[job][queue]
            if not self._watchers[job]:
                del self._watchers[job]


def _event(content: Json) -> str:
    return f"data: {json.dumps(content)}\n\n"
