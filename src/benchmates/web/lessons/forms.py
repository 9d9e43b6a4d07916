"""What forms of lessons bring in, and the words that stand in them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.http import HttpRequest
from django.utils.safestring import SafeString, mark_safe

from benchmates.core.errors import CannotPlan, CannotRead, Fault
from benchmates.core.lesson.finder import Fit
from benchmates.core.strategy.shape import plan_shape
from benchmates.core.strategy.sources import told
from benchmates.core.strategy.way import Card, Purpose, Stage, Way
from benchmates.core.terms import joined
from benchmates.drawing.glyph import glyph
from benchmates.web.people.posts import within

OVERHEARD = {
    Purpose.GENERATE: "What else could it be?",
    Purpose.COMPARE: "Which matters most, and why?",
    Purpose.EVALUATE: "How good is it, against what?",
    Purpose.LEARN: "I know this part; what is yours?",
    Purpose.LISTEN: "Say that again: what makes you think so?",
    Purpose.SHARE: "Here is what we found.",
    Purpose.IMPROVE: "I would change this, because…",
    Purpose.MAKE: "You hold it, I will measure.",
}
WORDS = {Purpose.GENERATE: "generate ideas"}
BELLS = (30, 40, 50, 60, 75, 90, 100, 120)
USUAL_BELL = 60
APART = "/"  # between what one press of a button sends


@dataclass(frozen=True)
class Choice:
    """What "Draw this lesson" sends."""

    way: str
    bell: int
    size: int | None
    purpose: Purpose | None


def choice_sent(request: HttpRequest) -> Choice:
    """The way that was pressed, with the bell and the purpose it was offered for."""
    way, bell, size, purpose = ((request.POST.get("choice") or "").split(APART, 3) + [""] * 4)[:4]
    return Choice(
        way=way,
        bell=within(bell, least=20, most=240) or USUAL_BELL,
        size=within(size, least=2, most=40),
        purpose=next((p for p in Purpose if p.value == purpose), None),
    )


@dataclass(frozen=True)
class Overheard:
    """One of the eight sentences."""

    value: str
    sentence: str
    purpose: str
    chosen: bool


def overheard(chosen: Purpose | None) -> list[Overheard]:
    """The eight sentences a teacher may want to overhear."""
    return [Overheard(p.value, OVERHEARD[p], WORDS.get(p, p.value), p is chosen) for p in Purpose]


def purpose_sent(request: HttpRequest) -> Purpose | None:
    """The purpose of the form, None until one is chosen."""
    text = request.POST.get("hear") or request.GET.get("hear") or ""
    return next((p for p in Purpose if p.value == text), None)


def cards_sent(request: HttpRequest, stage: Stage) -> tuple[Card, ...]:
    """The question cards of one stage; a card without a word is left out."""
    words = [w.strip()[:24] for w in request.POST.getlist("word")]
    questions = [" ".join(q.split())[:200] for q in request.POST.getlist("card_question")]
    shapes = [card.shape for card in stage.cards]
    faults = []
    cards = []
    for k, (word, question) in enumerate(zip(words, questions, strict=False)):
        if not word and question:
            faults.append(
                Fault(f"Card {k + 1}", "a question without a word", "Give the card one word, such as Fit.")
            )
        elif word:
            cards.append(Card(word, question, shapes[k] if k < len(shapes) else ""))
    if len({card.word.casefold() for card in cards}) < len(cards):
        faults.append(Fault("Cards", "two cards with one word", "Give every card a word of its own."))
    if faults:
        raise CannotRead("These cards cannot be kept.", faults=faults)
    return tuple(cards)


def time_sent(request: HttpRequest, name: str) -> dt.time | None:
    """A clock time such as 09:05; None for a blank."""
    text = (request.POST.get(name) or "").strip()
    if not text:
        return None
    try:
        return dt.time.fromisoformat(text.replace(".", ":").zfill(5))
    except ValueError:
        fault = Fault("Start", f"“{text}”", "A clock time such as 09:05.")
        raise CannotRead("The lesson cannot start then.", faults=[fault]) from None


def date_sent(request: HttpRequest, name: str) -> dt.date | None:
    """A date; None for a blank."""
    text = (request.POST.get(name) or "").strip()
    if not text:
        return None
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        fault = Fault("Date", f"“{text}”", "A date such as 2026-10-14.")
        raise CannotRead("The lesson cannot be on that date.", faults=[fault]) from None


@dataclass(frozen=True)
class FitLine:
    """One way offered. ``size`` is a size with which a way can be had that cannot be had as it is."""

    fit: Fit
    glyph: SafeString
    not_when: str
    mark_words: str
    size: int | None
    choice: str

    @property
    def button(self) -> str:
        """What the press is called."""
        if self.fit.fits:
            return "Draw this lesson"
        return f"Draw it in groups of {self.size}" if self.size else "Draw it all the same"


def glyph_of(way: Way, pupils: int, size: int | None = None) -> SafeString:
    """The picture of a way for this class; nothing where the class cannot be cut so."""
    try:
        return mark_safe(glyph(plan_shape(way, pupils, size=size)))
    except CannotPlan:
        return SafeString("")


def fit_lines(fits: Sequence[Fit], *, pupils: int, bell: int, purpose: Purpose) -> list[FitLine]:
    """Ways offered, with pictures and with what would do where they do not fit."""
    lines = []
    for fit in fits:
        size = None if fit.sizes_told else _size_that_does(fit.way, pupils)
        choice = APART.join((fit.way.key, str(bell), str(size or ""), purpose.value))
        not_when = "; ".join(fit.way.not_when)
        lines.append(FitLine(fit, glyph_of(fit.way, pupils, size), not_when, told(fit.mark), size, choice))
    return lines


def _size_that_does(way: Way, pupils: int) -> int | None:
    """The size nearest to the way's own with which this class can be cut."""
    own = max((s.size.target for s in way.stages if s.size), default=4)
    for size in sorted(range(2, 10), key=lambda n: abs(n - own)):
        try:
            plan_shape(way, pupils, size=size)
        except CannotPlan:
            continue
        return size
    return None


@dataclass(frozen=True)
class WayLine:
    """A way in a list of ways."""

    way: Way
    purposes: str
    minutes: str
    mark_words: str
    stages: Sequence[Stage]


def way_lines(ways: Iterable[Way]) -> list[WayLine]:
    """Ways as a list shows them."""
    return [
        WayLine(
            way=way,
            purposes=joined([WORDS.get(p, p.value) for p in way.purposes]),
            minutes=_minutes(way),
            mark_words=told(way.why.mark),
            stages=way.stages,
        )
        for way in ways
    ]


def _minutes(way: Way) -> str:
    least = sum(s.minutes.least + s.move for s in way.stages)
    most = sum(s.minutes.most + s.move for s in way.stages)
    return f"{least:g} to {most:g} min in groups, moves included"


def size_sent(request: HttpRequest) -> int | None:
    """A size of group asked for; None for the way's own."""
    text = (request.POST.get("size") or "").strip()
    return within(text, least=2, most=40) if text.strip("0") else None
