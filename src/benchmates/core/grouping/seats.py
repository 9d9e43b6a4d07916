"""Seats: a linked chain of stages is one seating, and every stage is a fixed partition of its seats.

Pupils take numbered seats once; pairs, fours and eights are then cuts of the same seats, an envoy's visit is one seat
mapped to the next table, and a return is the old partition again. Relations hold by construction. A free new grouping,
and the second half of a cross, is another seating of the same pupils.
"""

from __future__ import annotations

from dataclasses import dataclass

from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.shape import PlannedStage, Shape
from benchmates.core.terms import TOKEN_LETTERS


@dataclass(frozen=True)
class StageSeats:
    """One planned stage on the seats of one seating.

    ``group_of`` maps seat to group index; ``labels`` and ``places`` (index of the bench) run over groups.
    ``root`` is the earliest stage with the same groups (itself, unless same, return or rotate). ``movers`` are the
    seats that leave (one moves) or remain (one stays).
    """

    planned: PlannedStage
    seating: int
    group_of: tuple[int, ...]
    labels: tuple[str, ...]
    places: tuple[int | None, ...]
    root: int
    movers: frozenset[int] = frozenset()

    @property
    def groups(self) -> list[list[int]]:
        """Seats by group."""
        found: list[list[int]] = [[] for _ in self.labels]
        for seat, group in enumerate(self.group_of):
            found[group].append(seat)
        return found

    @property
    def is_alone(self) -> bool:
        """Whether everyone sits alone here, as in a gallery where pupils go round by themselves."""
        return all(s == 1 for s in self.planned.sizes)

    @property
    def keeps_musts(self) -> bool:
        """Whether musts can mean anything here."""
        return self.planned.relation.keeps_musts and not self.is_alone


@dataclass(frozen=True)
class Crossing:
    """Earlier partners (groups of ``earlier``) are to be parted over the groups that ``apart_in`` gives each seat."""

    earlier: int
    seating: int
    apart_in: tuple[int, ...]


@dataclass(frozen=True)
class Layout:
    """All stages of a lesson on their seats. ``rings`` and ``alone`` seatings carry no wishes and no musts."""

    shape: Shape
    stages: tuple[StageSeats, ...]
    seatings: int
    crossings: tuple[Crossing, ...]
    unweighed: frozenset[int] = frozenset()


def lay_out(shape: Shape, anchored: frozenset[int] = frozenset()) -> Layout:
    """Put every stage of a shape on seats.

    In groups that are ``anchored`` (by index) the same seat stays each time when one stays and the rest move: somebody
    there cannot be asked to leave the bench.
    """
    stages: list[StageSeats] = []
    crossings: list[Crossing] = []
    unweighed: set[int] = set()
    seatings = 0
    for k, planned in enumerate(shape.stages):
        if planned.of is None or planned.relation is Relation.CROSS:
            # A whole class or a stage alone in the middle of a chain needs no seating of its own to be right,
            # but a gallery's order of works does; giving each its own keeps one rule.
            seating, seatings = seatings, seatings + 1
            if not planned.relation.keeps_musts:
                unweighed.add(seating)
            stages.append(_on_seats(shape, k, seating))
            if planned.relation is Relation.CROSS:
                crossings.extend(_crossings(shape, k, seating))
        else:
            stages.append(_follow(shape, k, stages[planned.of], anchored))
    return Layout(shape, tuple(stages), seatings, tuple(crossings), frozenset(unweighed))


# ---- seats in rows, nested groups inside larger ones


def _in_rows(sizes: tuple[int, ...]) -> tuple[int, ...]:
    return tuple(g for g, size in enumerate(sizes) for _ in range(size))


def _follow(shape: Shape, k: int, earlier: StageSeats, anchored: frozenset[int]) -> StageSeats:
    planned = shape.stages[k]
    match planned.relation:
        case Relation.MERGE | Relation.SPLIT:
            # Both cut the row of seats into runs, and inner runs lie wholly inside outer ones.
            return _on_seats(shape, k, earlier.seating)
        case Relation.ONE_MOVES | Relation.ONE_STAYS:
            return _with_movers(shape, k, earlier, anchored)
        case Relation.INNER_OUTER:
            return _next_ring(shape, k, earlier)
        case _:
            return StageSeats(
                planned, earlier.seating, earlier.group_of, earlier.labels, earlier.places, earlier.root
            )


def _on_seats(shape: Shape, k: int, seating: int) -> StageSeats:
    planned = shape.stages[k]
    labels: tuple[str, ...]
    places: tuple[int | None, ...]
    match planned.relation:
        case Relation.WHOLE:
            labels, places = ("All",), (None,)
        case Relation.INDIVIDUAL:
            labels, places = tuple(str(s + 1) for s in range(shape.pupils)), (None,) * shape.pupils
        case Relation.INNER_OUTER:
            labels, places = ("Inner ring", "Outer ring"), (None, None)
        case Relation.CROSS if planned.stage.by_part:
            labels, places = _part_labels(shape, planned), tuple(range(len(planned.sizes)))
        case _:
            labels, places = _nested_labels(shape, k)
    return StageSeats(planned, seating, _in_rows(planned.sizes), labels, places, k)


def _nested_labels(shape: Shape, k: int) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """Letters for the largest groups of a chain; their parts carry the letter and a number, then a small letter."""
    outer = _outer_of(shape, k)
    if outer is None:
        return top_labels(len(shape.stages[k].sizes)), tuple(range(len(shape.stages[k].sizes)))
    above, where = outer
    labels, places = _nested_labels(shape, above)
    inside = [0] * len(labels)
    mine: list[str] = []
    for group in where:
        inside[group] += 1
        mark = str(inside[group]) if labels[group][-1].isalpha() else "abcdefgh"[inside[group] - 1]
        only = where.count(group) == 1
        mine.append(labels[group] if only else labels[group] + mark)
    return tuple(mine), tuple(places[g] for g in where)


def _outer_of(shape: Shape, k: int) -> tuple[int, list[int]] | None:
    """The stage whose groups contain those of stage ``k``, and which group each lies in."""
    for later, planned in enumerate(shape.stages):
        if planned.relation is Relation.MERGE and planned.of is not None and _root(shape, planned.of) == k:
            return later, [g for g, parts in enumerate(planned.inside) for _ in parts]
    planned = shape.stages[k]
    if planned.relation is Relation.SPLIT and planned.of is not None:
        return _root(shape, planned.of), [group for (group,) in planned.inside]
    return None


def _root(shape: Shape, k: int) -> int:
    """The stage whose groups these are."""
    planned = shape.stages[k]
    if planned.of is not None and planned.relation.keeps_groups:
        return _root(shape, planned.of)
    return k


def top_labels(groups: int) -> tuple[str, ...]:
    """Token letters; past twelve groups each letter serves several, numbered, so that neighbours share a shape."""
    if groups <= len(TOKEN_LETTERS):
        return tuple(TOKEN_LETTERS[:groups])
    each = -(-groups // len(TOKEN_LETTERS))
    return tuple(f"{TOKEN_LETTERS[g // each]}{g % each + 1}" for g in range(groups))


def _part_labels(shape: Shape, planned: PlannedStage) -> tuple[str, ...]:
    homes = shape.stages[planned.of or 0]
    names = planned.stage.parts or homes.stage.parts
    words = [names[p] if p < len(names) else f"Part {p + 1}" for p in range(max(planned.part) + 1)]
    seen = [0] * len(words)
    labels: list[str] = []
    for part in planned.part:
        seen[part] += 1
        labels.append(
            words[part] if planned.part.count(part) == 1 else f"{words[part]} {'abcdefgh'[seen[part] - 1]}"
        )
    return tuple(labels)


# ---- one moves, one stays, rings, crosses


def _with_movers(shape: Shape, k: int, earlier: StageSeats, anchored: frozenset[int]) -> StageSeats:
    """Seats that leave their table, or remain at it while the rest go; a second turn takes the next seat."""
    planned = shape.stages[k]
    before = sum(
        p.relation is planned.relation and p.of is not None and _root(shape, p.of) == earlier.root
        for p in shape.stages[:k]
    )
    count = len(earlier.labels)
    keeps = anchored if planned.relation is Relation.ONE_STAYS else frozenset()
    chosen = frozenset(
        seats[0 if g in keeps else before % len(seats)] for g, seats in enumerate(earlier.groups)
    )
    leaving = chosen if planned.relation is Relation.ONE_MOVES else frozenset(range(shape.pupils)) - chosen
    if planned.stage.to_teacher:
        group_of = tuple(count if s in leaving else g for s, g in enumerate(earlier.group_of))
        labels, places = (*earlier.labels, "With the teacher"), (*earlier.places, None)
    else:
        step = planned.stage.step % count or 1
        group_of = tuple((g + step) % count if s in leaving else g for s, g in enumerate(earlier.group_of))
        labels, places = earlier.labels, earlier.places
    return StageSeats(planned, earlier.seating, group_of, labels, places, k, chosen)


def _next_ring(shape: Shape, k: int, earlier: StageSeats) -> StageSeats:
    """The inner ring of the next round: the seats after those that were inside before."""
    planned = shape.stages[k]
    turn = sum(p.relation is Relation.INNER_OUTER for p in shape.stages[:k])
    inner = planned.sizes[0]
    inside = {(turn * inner + s) % shape.pupils for s in range(inner)}
    group_of = tuple(0 if s in inside else 1 for s in range(shape.pupils))
    return StageSeats(planned, earlier.seating, group_of, earlier.labels, earlier.places, k)


def _crossings(shape: Shape, k: int, seating: int) -> list[Crossing]:
    planned = shape.stages[k]
    group_of = _in_rows(planned.sizes)
    earlier = _root(shape, planned.of or 0)
    crossings = [Crossing(earlier, seating, group_of)]
    if planned.part:
        crossings.append(Crossing(earlier, seating, tuple(planned.part[g] for g in group_of)))
    return crossings
