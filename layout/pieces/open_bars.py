"""Stock lengths while they are being cut: what is left of each, and what an offcut is worth.

Whole numbers only (ticks), so that the same job gives the same plan everywhere.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Sequence

#: Stands for a bar that is not yet taken from the stack; ``SHARED`` and what is less for one that several
#: pieces of a run are cut from, the same number for the same bar.
NEW, SHARED = -1, -2


class Bars:
    """Bars of one length, and the runs that are cut from them.

    Args:
        capacity: length of a bar, with one saw kerf [ticks].
        shortest: an offcut shorter than this serves no run that has a seam [ticks].
        smallest: smallest size that is ever asked for [ticks].
        toll: what keeping an offcut costs: it may find no use [ticks].
    """

    def __init__(self, capacity: int, shortest: int, smallest: int, toll: int) -> None:
        self.capacity, self.shortest, self.toll = capacity, shortest, toll
        self.free: list[int] = []
        self.users: list[list[int]] = []
        #: Offcuts by size: what is left, and the bar.
        self.pool: list[tuple[int, int]] = []
        #: Sum of the squares of what is left of the bars in use: great when the rest lies in few of them.
        self.square = 0
        self._floor = min(smallest, shortest)
        self._spare: list[int] = []

    @property
    def count(self) -> int:
        """Bars in use."""
        return len(self.free) - len(self._spare)

    def take(self, bar: int, size: int, user: int) -> int:
        """Cut a size from a bar, ``NEW`` for a new one; the bar's number."""
        if bar == NEW:
            if self._spare:
                bar = self._spare.pop()
            else:
                bar = len(self.free)
                self.free.append(self.capacity)
                self.users.append([])
        elif self.users[bar]:
            self._forget(bar)
        else:
            self._spare.remove(bar)
        self.free[bar] -= size
        self.users[bar].append(user)
        self._remember(bar)
        return bar

    def give_back(self, bar: int, size: int, user: int) -> None:
        """Undo a cut."""
        self._forget(bar)
        self.users[bar].remove(user)
        self.free[bar] += size
        if self.users[bar]:
            self._remember(bar)
        else:
            self._spare.append(bar)

    def _remember(self, bar: int) -> None:
        free = self.free[bar]
        self.square += free * free
        if free >= self._floor:
            insort(self.pool, (free, bar))

    def _forget(self, bar: int) -> None:
        free = self.free[bar]
        self.square -= free * free
        if free >= self._floor:
            del self.pool[bisect_left(self.pool, (free, bar))]

    def worth(self, free: int) -> int:
        """What the rest of a bar is still good for [ticks]."""
        if free >= self.capacity:
            return free
        return free - self.toll if free >= self.shortest else 0

    def room(self, bar: int) -> int:
        """What can be cut from a bar [ticks]."""
        return self.capacity if bar < 0 else self.free[bar]

    def price(self, size: int, bar: int) -> int:
        """What a bar loses when a size is cut from it [ticks]."""
        room = self.room(bar)
        return self.worth(room) - self.worth(room - size)

    def source(self, size: int, but: Sequence[int] = ()) -> tuple[int, int]:
        """The bar that loses least when a size is cut from it: what it loses, and the bar.

        Args:
            size: no more than the capacity [ticks].
            but: bars that are already spoken for.
        """
        toll, shortest, pool = self.toll, self.shortest, self.pool
        least, chosen = self.price(size, NEW), NEW
        for at in range(bisect_left(pool, (size, NEW)), len(pool)):
            free, bar = pool[at]
            if bar in but:
                continue
            if free - size >= shortest:  # keeps its worth, and so does every longer one
                if size < least:
                    least, chosen = size, bar
                break
            price = free - toll if free >= shortest else 0
            if price < least:
                least, chosen = price, bar
        return least, chosen
