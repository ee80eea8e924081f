"""How a face fits its sheets: as few as can be, at the largest standard scale at which all of it is read."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from evencourse.layout.model.tolerance import SAME
from evencourse.render.drawing.papers import Scale, scales
from evencourse.render.drawing.placement import Box
from evencourse.render.elevation.edge_column import EdgeBlock, edge_block
from evencourse.render.elevation.elevation import PlacedFace, Surroundings, place, surroundings, with_column
from evencourse.render.elevation.face_part import COLUMN_LEAST, FacePart, FaceToDraw
from evencourse.render.elevation.wall_drawing import WallDrawing, wall_drawing
from evencourse.render.faces.match_cuts import grids, windows

#: A wall drawn smaller than this takes a second sheet first, where that makes it larger: 3/16" = 1'-0", 1:50.
SMALLEST = 64
#: A wall that fits no number of sheets at larger scales is drawn at these: 1/16" = 1'-0", 1:200.
_LAST = 200
#: A wall of so much of its sheet is large enough [share].
ENOUGH = 0.4
#: A part that shows less of the wall than this is no help [mm].
_NARROWEST = 30.0
#: Staggered columns that a ladder may take.
_COLUMNS, _COLUMNS_MOST = 3, 4
#: Least width of a panel beside the drawing, the edge column's words beside it, and between the two [mm].
PANEL, _COLUMN, PANEL_GAP = 54.0, 36.0, 4.0
#: Between a drawing and the words at its edges under it [mm].
_OVER_BLOCK = 2.0
#: Where else match lines are tried, when a mark finds no place beside them [share of a part past].
_SHIFTS = (-0.24, 0.24, -0.12, 0.12)
#: Most sheets of one face, and of one whose marks find no place on so many.
_MOST, _MOST_AT_LAST = 4, 6


@dataclass(frozen=True)
class Room:
    """What a sheet has for a face.

    Attributes:
        under: for a drawing over notes that take the whole width [mm].
        other: for a part of a face whose notes stand on another part's sheet.
        full: for a drawing beside a panel that holds them.
        panel_fits: whether a panel of a width holds them, over words of such a height.
        area: of the sheet [mm²].
    """

    under: Box
    other: Box
    full: Box
    panel_fits: Callable[[float, float], bool]
    area: float


@dataclass(frozen=True)
class FittedPart:
    """A part of a face as one sheet has it.

    Attributes:
        wall: what is drawn to scale.
        placed: what stands round it.
        block: what is told of its edges under it, or in the panel.
        window: what it shows of the wall; None for all of it.
        under_words: what the words of its match lines stand over.
        panel: width of the panel beside it; 0 for notes under it [mm].
        beside: how many sheets on the parts left and right of it are; 0 for none.
        over: the same for the parts below and above it.
        noted: the notes of the face stand on its sheet, too.
    """

    wall: WallDrawing
    placed: PlacedFace
    block: EdgeBlock
    window: Box | None
    under_words: Box
    panel: float = 0.0
    beside: tuple[int, int] = (0, 0)
    over: tuple[int, int] = (0, 0)
    noted: bool = True

    @property
    def height(self) -> float:
        """What drawing and words under it take [mm]."""
        return self.placed.box.height + self.under

    @property
    def under(self) -> float:
        """What the words under it take [mm]."""
        return self.block.height + _OVER_BLOCK if self.block.height and not self.panel else 0.0


@dataclass(frozen=True)
class Fit:
    """A face in parts at one scale.

    Attributes:
        scale: of every part.
        parts: one a sheet.
    """

    scale: Scale
    parts: tuple[FittedPart, ...]

    @property
    def missing(self) -> int:
        """How many pieces' marks found no place on any sheet."""
        told = frozenset[str]().union(*(part.wall.told for part in self.parts))
        return len({mark for part in self.parts for mark in part.wall.missing} - told)


def fits(whole: FaceToDraw, room: Room) -> tuple[Fit, ...]:
    """How a face fits its sheets: as large as it may be; the ways to set it out at that scale.

    Args:
        whole: the face.
        room: what its sheets have for it.

    Returns:
        At least one way. Those of one part differ in where their notes stand. Where a piece finds no
        place for its mark at any scale, the way that loses the fewest.
    """
    tried = _Tried(whole, room)
    for count, columns, smallest in _order():
        found = tried.best(count, columns, smallest)
        if found:
            return found
    for count in range(_MOST, _MOST_AT_LAST + 1) if tried.nothing else ():
        found = tried.best(count, _COLUMNS_MOST, _LAST)
        if found:
            return found
    least = tried.least()
    for count in range(_MOST + 1, _MOST_AT_LAST + 1) if least[0].missing else ():
        found = tried.best(count, _COLUMNS, SMALLEST)
        if found:
            return found
    return least


def _order() -> Iterator[tuple[int, int, int]]:
    """Parts, columns of the ladder and the smallest scale, in the order tried.

    More sheets come before a wall too small to read.
    """
    for count in range(1, _MOST):
        yield count, _COLUMNS, SMALLEST
    yield 1, _COLUMNS_MOST, 2 * SMALLEST
    yield 2, _COLUMNS_MOST, 2 * SMALLEST
    yield _MOST, _COLUMNS, SMALLEST


class _Tried:
    """Scales and parts that were tried, each measured and drawn once."""

    def __init__(self, whole: FaceToDraw, room: Room) -> None:
        self._whole, self._room = whole, room
        self._parts: dict[tuple[Box | None, int], FacePart] = {}
        self._walls: dict[tuple[Box | None, int], WallDrawing] = {}
        self._rounds: dict[tuple[Box, int, float, tuple[Box, ...], float], Surroundings] = {}
        self._standard = scales(whole.plan.job.units)
        self._best: tuple[Fit, ...] = ()
        self._cut: tuple[tuple[int, int], Sequence[Box | None]] = ((1, 1), (None,))
        self._patient = False
        self._found: dict[tuple[tuple[int, int], int], list[Fit]] = {}
        #: Marks that had no room at this scale have no more on other parts, nor at a smaller scale.
        self._crowded = float("inf")

    @property
    def nothing(self) -> bool:
        """Whether no way has fitted yet, marks lost or not."""
        return not self._best

    def best(self, count: int, columns: int, smallest: int) -> tuple[Fit, ...]:
        """The ways of the largest scale at which so many parts are read; none when they are not."""
        cut = [
            (grid, shown)
            for grid in grids(count)
            if (shown := windows(self._whole.plan, self._whole.face, self._whole.extent, *grid))
        ]
        narrow: tuple[Fit, ...] = ()
        for scale in self._standard:
            if scale.ratio > smallest:
                break
            for grid, shown in cut:
                if scale.ratio >= self._crowded:
                    break
                ways = self._fits(scale, grid, shown, columns)
                for way in ways:
                    if not self._best or way.missing < self._best[0].missing:
                        self._best, self._cut = (way,), (grid, shown)
                if ways and all(way.missing for way in ways):
                    self._crowded = scale.ratio
                ways = [way for way in ways if not way.missing]
                wide = tuple(way for way in ways if not any(part.placed.told for part in way.parts))
                if wide and (not narrow or self._share(scale) >= ENOUGH):
                    return wide
                if ways and not narrow:
                    narrow = tuple(ways)
            if narrow and self._share(scale) < ENOUGH:
                break
        return narrow

    def _part(self, window: Box | None, scale: Scale) -> FacePart:
        key = (window, scale.ratio)
        if key not in self._parts:
            self._parts[key] = self._whole.part(window, scale.factor)
        return self._parts[key]

    def _fits(
        self, scale: Scale, grid: tuple[int, int], shown: Sequence[Box | None], columns: int
    ) -> list[Fit]:
        """Every way of a grid at a scale, each found once."""
        measured = [self._part(window, scale) for window in shown]
        if not all(self._may_fit(part, columns) for part in measured):
            return []
        if (grid, scale.ratio) not in self._found:
            ways = self._ways(scale, measured, shown)
            self._found[grid, scale.ratio] = [Fit(scale, _joined(parts, *grid)) for parts in ways]
        return self._found[grid, scale.ratio]

    def least(self) -> tuple[Fit, ...]:
        """The way that loses the fewest marks; where nothing fits, the smallest scale."""
        if self._best:
            self._patient = True
            self._walls.clear()
            best, grid = self._best[0], self._cut[0]
            moves = [(0.0, 0.0), *((up, 0.0) for up in _SHIFTS if grid[0] > 1)]
            moves += [(0.0, along) for along in _SHIFTS if grid[1] > 1]
            for move in moves:
                shown = windows(self._whole.plan, self._whole.face, self._whole.extent, *grid, *move)
                self._found.clear()  # the same grid, cut elsewhere
                ways = self._fits(best.scale, grid, shown, _COLUMNS_MOST) if shown else []
                best = min((*ways, best), key=lambda way: way.missing)
                if not best.missing:
                    break
            return (best,)
        scale = self._standard[-1]
        part = self._part(None, scale)
        wall = self._wall(part, None, scale)
        placed = place(part, COLUMN_LEAST, self._room.under.height, wall.outside)
        return (Fit(scale, (FittedPart(wall, placed, edge_block((), 0.0), None, part.under_words),)),)

    def _share(self, scale: Scale) -> float:
        """Which share of a sheet the whole wall takes."""
        size, factor = self._whole.extent, scale.factor * self._whole.unit
        return size.width * size.height * factor**2 / self._room.area

    def _ways(
        self, scale: Scale, measured: Sequence[FacePart], shown: Sequence[Box | None]
    ) -> Iterator[tuple[FittedPart, ...]]:
        """Every part with its notes under it, or beside it when there is one part alone.

        Where several parts have no room for them, they stand on the sheets that have, on one at least.
        """
        found = False
        for everywhere in (True, False):
            for wide in (True, False):
                parts: list[FittedPart] = []
                for part, window in zip(measured, shown, strict=True):
                    fitted = self._under(part, window, scale, wide)
                    if fitted is None and not everywhere:
                        fitted = self._under(part, window, scale, wide, noted=False)
                    if fitted is None:
                        break
                    parts.append(fitted)
                if len(parts) == len(measured) and any(part.noted for part in parts):
                    found = True
                    yield tuple(parts)
            if found or len(measured) == 1:
                break
        for wide in (True, False) if len(measured) == 1 else ():
            beside = self._beside(measured[0], scale, wide)
            if beside is not None:
                yield (beside,)

    def _may_fit(self, part: FacePart, columns: int) -> bool:
        """Whether a part may fit, as far as that can be told before it is laid out."""
        room = self._room.full
        return (
            part.window.height * part.factor + part.below <= room.height
            and part.before + part.window.width * part.factor <= room.width
            and (not part.cut or part.window.width * part.factor >= _NARROWEST)
            and part.columns <= columns
        )

    def _under(
        self, part: FacePart, window: Box | None, scale: Scale, wide: bool, noted: bool = True
    ) -> FittedPart | None:
        room = self._room.under if noted else self._room.other
        width = part.column_width(room.width)
        if wide and width < COLUMN_LEAST:
            return None
        found = self._placed(part, window, scale, width if wide else None, room, room.width)
        return replace(found, noted=noted) if found is not None else None

    def _beside(self, part: FacePart, scale: Scale, wide: bool) -> FittedPart | None:
        room = self._room.full
        free = room.width - part.before - part.window.width * part.factor - PANEL_GAP
        free -= part.after if wide else part.after_alone
        column = min(_COLUMN, free - PANEL) if wide else None
        panel = free - (column or 0.0)
        if panel < PANEL or (column is not None and column < COLUMN_LEAST):
            return None
        found = self._placed(part, None, scale, column, room, panel)
        if found is None or not self._room.panel_fits(panel, found.block.height):
            return None
        return replace(found, panel=panel) if found.placed.box.height <= room.height + SAME else None

    def _placed(
        self, part: FacePart, window: Box | None, scale: Scale, column: float | None, room: Box, width: float
    ) -> FittedPart | None:
        """A part with what stands round it, where that has room; its wall is drawn only then."""
        wide, high = part.window.width * part.factor, part.window.height * part.factor + part.below
        wide += part.after_alone if column is None else part.after + column
        if part.zones:  # their words may have what is left, but nothing of the panel beside the wall
            left = room.width - wide - part.before - (width + PANEL_GAP if width < room.width else 0.0)
            part = replace(part, widest=max(part.widest, left + part.widest))
        if part.before + wide > room.width + SAME or high > room.height + SAME:
            return None  # told before it is laid out
        placed = self._around(part, scale, column, room.height)
        outside: tuple[Box, ...] = ()
        for _ in range(2):
            size = placed.box
            if not placed.fits or size.width > room.width + SAME or size.height > room.height + SAME:
                return None
            if outside or (outside := self._wall(part, window, scale).outside) == ():
                break
            placed = self._around(part, scale, column, room.height, outside)
        block = edge_block(placed.told, width)
        found = FittedPart(self._wall(part, window, scale), placed, block, window, part.under_words)
        beside = width < room.width
        return found if beside or found.height <= room.height + SAME else None

    def _around(
        self,
        part: FacePart,
        scale: Scale,
        column: float | None,
        height: float,
        outside: tuple[Box, ...] = (),
    ) -> PlacedFace:
        key = (part.window, scale.ratio, height, outside, part.before)
        if key not in self._rounds:
            self._rounds[key] = surroundings(part, height, outside)
        return with_column(part, self._rounds[key], column)

    def _wall(self, part: FacePart, window: Box | None, scale: Scale) -> WallDrawing:
        key = (window, scale.ratio)
        if key not in self._walls:
            self._walls[key] = wall_drawing(part, self._patient)
        return self._walls[key]


def _joined(parts: Sequence[FittedPart], down: int, across: int) -> tuple[FittedPart, ...]:
    """Parts that know their neighbours; they go from the left, and from the bottom up."""
    found = []
    for index, part in enumerate(parts):
        row, column = divmod(index, across)
        beside = (-1 if column else 0, 1 if column < across - 1 else 0)
        over = (-across if row else 0, across if row < down - 1 else 0)
        found.append(replace(part, beside=beside, over=over))
    return tuple(found)
