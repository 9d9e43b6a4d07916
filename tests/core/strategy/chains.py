"""Ways of working drawn at random, each of which hangs together."""

from __future__ import annotations

from hypothesis import strategies as st

from benchmates.core.strategy.reading import CARD_SHAPES
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Card, Claim, Purpose, Size, Stage, Way
from benchmates.core.terms import Span

# Anything a keyboard gives: quotation marks, backslashes, new lines, any script; but no lone halves of a pair.
words = st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=20).filter(str.strip)
minutes = (
    st.lists(st.integers(0, 240).map(lambda q: q / 4), min_size=3, max_size=3)
    .map(sorted)
    .filter(lambda m: m[1] > 0)
)
spans = minutes.map(lambda m: Span(*m))
marks = st.sampled_from(["S1", "S9", "S39", "M", "C", "K"])
claims = st.builds(Claim, text=words, mark=marks)
cards = st.builds(Card, word=words, question=words, shape=st.sampled_from(["", *CARD_SHAPES]))


@st.composite
def stages(draw: st.DrawFn, name: str, relation: Relation, **fixed: object) -> Stage:
    """One stage with texts, minutes, roles and cards of any kind."""
    size = fixed.get("size")
    most_roles = size.most if isinstance(size, Size) else 2
    return Stage(
        name=name, relation=relation, minutes=draw(spans), question=draw(st.one_of(st.just(""), words)),
        product=draw(st.one_of(st.just(""), words)), spare_role=draw(st.one_of(st.just(""), words)),
        roles=tuple(draw(st.lists(words, min_size=1, max_size=min(most_roles, 3), unique=True))),
        cards=tuple(draw(st.lists(cards, max_size=3, unique_by=lambda c: c.word))),
        move=draw(st.integers(0, 20)) / 4, each=draw(st.integers(0, 8)) / 4, **fixed,  # type: ignore[arg-type]
    )  # fmt: skip


@st.composite
def chains(draw: st.DrawFn) -> tuple[Stage, ...]:
    """A chain: groups, perhaps a bigger one of them, then any of what can follow."""
    names = draw(st.lists(words, min_size=6, max_size=6, unique=True))
    least = draw(st.integers(2, 3))
    first = Size(least + 1, least, least + 2)
    chain = [draw(stages(names[0], Relation.NEW, size=first, from_pupils=draw(st.integers(0, 30))))]
    later = draw(
        st.lists(st.sampled_from(sorted(set(Relation) - {Relation.SPLIT, Relation.NEW})), max_size=5)
    )
    for name, relation in zip(names[1:], later, strict=False):
        fixed: dict[str, object] = {"of": 0} if relation.needs_earlier else {}
        if relation in (Relation.MERGE, Relation.CROSS, Relation.INNER_OUTER):
            fixed["size"] = Size(first.target * 2, first.target, first.target * 3)
        if relation is Relation.ROTATE:
            fixed["repeat"] = draw(st.one_of(st.integers(1, 5), st.just("members")))
            fixed["moves"] = draw(st.sampled_from(["pupils", "artefact", "role"]))
        if relation is Relation.ONE_MOVES:
            fixed["to_teacher"] = draw(st.booleans())
            fixed["step"] = draw(st.integers(1, 3))
        chain.append(draw(stages(name, relation, **fixed)))
    return tuple(chain)


@st.composite
def ways(draw: st.DrawFn) -> Way:
    """A way that hangs together and asks what it likes."""
    chain = draw(chains())
    held = sorted({role for stage in chain for role in (*stage.roles, stage.spare_role) if role})
    lists = st.lists(words, max_size=2).map(tuple)
    return Way(
        key=draw(st.from_regex(r"[a-z0-9]{1,8}(-[a-z0-9]{1,8})?", fullmatch=True)),
        name=draw(words), purposes=tuple(draw(st.lists(st.sampled_from(Purpose), min_size=1, unique=True))),
        why=draw(claims), stages=chain, not_when=draw(lists), assess=draw(words),
        remainder=draw(words), room=draw(words),
        kit=draw(lists), noise=draw(words), cautions=draw(lists), claims=tuple(draw(st.lists(claims, max_size=2))),
        jobs=tuple((role, draw(words)) for role in held[:2]), groups_at_least=draw(st.integers(1, 4)),
        least_minutes=draw(st.integers(0, 60)), one_question_ok=True,
    )  # fmt: skip
