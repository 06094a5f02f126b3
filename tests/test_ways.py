"""Every open question answered in every way worth looking at, the same each time."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reconlab.reasons import Decision, Option, Question, Reason, Spread
from reconlab.ways import DRAWN, Ways

WHY = Reason("so it is said")


def question(
    key: str, *standings: str, only_if: tuple[tuple[str, tuple[str, ...]], ...] = (), book: str = ""
) -> Question:
    options = tuple(Option(f"{key}{i}", standing, WHY) for i, standing in enumerate(standings))
    return Question(key, f"{key}?", options, book, only_if)


WEIGHTS = question("weights", "likely", "possible", "unlikely")
WHITE = question("white", "likely", "unlikely")
DROP = Spread("drop", "How heavy?", 0.022, 0.015, 0.033, "g", WHY)
WAYS = Ways((WEIGHTS, WHITE), (DROP,))


def test_the_first_way_is_the_first_answer_of_everything() -> None:
    assert WAYS.holds(WEIGHTS, "weights0")[0] == 1
    assert WAYS.holds(WHITE, "white0")[0] == 1
    assert WAYS.between(DROP)[0] == 0.022


def test_each_other_answer_alone_has_a_way_of_its_own() -> None:
    assert [(other.question, other.option) for other in WAYS.others] == [
        ("weights", "weights1"),
        ("weights", "weights2"),
        ("white", "white1"),
        ("drop", "low"),
        ("drop", "high"),
    ]
    for way, other in enumerate(WAYS.others, start=1):
        changed = [
            *(q.id for q in WAYS.questions if WAYS.holds(q, q.options[0].key)[way] == 0),
            *(s.id for s in WAYS.spreads if WAYS.between(s)[way] != s.usual),
        ]
        assert changed == [other.question]


def test_there_is_one_way_as_chosen_one_for_each_other_answer_and_the_draws() -> None:
    assert len(WAYS) == 1 + 5 + 2_000
    assert len(Ways((), (), draws=0)) == 1


@given(st.lists(st.sampled_from(["likely", "possible", "unlikely"]), min_size=1, max_size=5))
@settings(deadline=None)
def test_one_answer_and_only_one_holds_in_every_way(standings: list[str]) -> None:
    asked = question("q", *standings)
    ways = Ways((asked,), draws=300)
    assert (sum(ways.holds(asked, option.key) for option in asked.options) == 1).all()


def test_how_often_an_answer_is_drawn_goes_by_its_standing_and_none_is_left_out() -> None:
    drawn = [WAYS.holds(WEIGHTS, option.key)[-2_000:].mean() for option in WEIGHTS.options]
    odds = [DRAWN[option.standing] for option in WEIGHTS.options]
    # 2,000 draws at 4 : 2 : 1; three standard errors of a half are 0.034
    assert drawn == pytest.approx([odd / sum(odds) for odd in odds], abs=0.034)


def test_a_spread_is_drawn_within_its_limits_and_both_ends_are_ways() -> None:
    drawn = WAYS.between(DROP)
    assert (drawn.min(), drawn.max()) == (0.015, 0.033)
    assert list(drawn[4:6]) == [0.015, 0.033]


def test_a_further_question_leaves_the_other_draws_alone_bit_for_bit() -> None:
    wider = Ways(
        (question("measures", "likely", "possible"), *WAYS.questions), (Spread("x", "?", 1, 0, 2, "g", WHY), DROP)
    )
    for option in WEIGHTS.options:
        assert np.array_equal(WAYS.holds(WEIGHTS, option.key)[-2_000:], wider.holds(WEIGHTS, option.key)[-2_000:])
    assert np.array_equal(WAYS.between(DROP)[-2_000:], wider.between(DROP)[-2_000:])


def test_draws_repeat() -> None:
    again = Ways((WEIGHTS, WHITE), (DROP,))
    assert np.array_equal(WAYS.between(DROP), again.between(DROP))
    assert np.array_equal(WAYS.holds(WHITE, "white1"), again.holds(WHITE, "white1"))


def test_the_same_question_of_two_books_is_drawn_apart() -> None:
    ours, theirs = (
        question("weights", "possible", "possible"),
        question("weights", "possible", "possible", book="tincture"),
    )
    ways = Ways((ours, theirs))
    first, second = ways.holds(ours, "weights0")[-2_000:], ways.holds(theirs, "weights0")[-2_000:]
    assert not np.array_equal(first, second)
    assert abs(np.corrcoef(first, second)[0, 1]) < 0.1


def test_a_settled_question_has_no_other_way() -> None:
    settled = WEIGHTS.decided(Decision(question="weights", option="weights2"))
    ways = Ways((settled,), (DROP.decided(Decision(question="drop", figure=0.03)),))
    assert ways.others == ()
    assert ways.holds(settled, "weights2").all()
    assert (ways.between(ways.spreads[0]) == 0.03).all()


def nested() -> tuple[Question, Question, Question]:
    """Return a question that hangs on an answer that is not chosen, and one that hangs on that in turn."""
    outer = question("tincture", "likely", "possible")
    inner = question("resin", "likely", "possible", only_if=(("tincture", ("tincture1",)),))
    deep = question("sort", "likely", "possible", only_if=(("resin", ("resin1",)),))
    return outer, inner, deep


def test_a_question_that_hangs_on_an_answer_not_chosen_is_not_put_to_a_person() -> None:
    outer, inner, deep = nested()
    ways = Ways((outer, inner, deep))
    assert [ways.asked(q) for q in (outer, inner, deep)] == [True, False, False]


def test_a_question_is_put_once_the_answer_it_hangs_on_is_the_chosen_one() -> None:
    outer, inner, deep = nested()
    chosen = outer.decided(Decision(question="tincture", option="tincture1"))
    ways = Ways((chosen, inner, deep))
    assert [other.option for other in ways.others] == ["resin1"]
    assert ways.asked(inner)
    assert not ways.asked(deep)  # the resin it hangs on is another than the one chosen


def test_a_worth_may_itself_be_a_figure_for_every_way() -> None:
    grams = WAYS.take(WHITE, {"white0": WAYS.between(DROP), "white1": 7.0})
    holds = WAYS.holds(WHITE, "white0")
    assert np.array_equal(grams, np.where(holds == 1, WAYS.between(DROP), 7.0))


@given(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=60))
@settings(deadline=None)
def test_a_chosen_figure_lies_within_its_range(figures: list[float]) -> None:
    ways = Ways((question("q", "likely"),), draws=len(figures))
    value = ways.value(np.array([0.0, *figures]), "g", WHY)
    assert value.low <= value.number <= value.high


def test_a_range_holds_every_single_change_and_95_in_the_hundred_of_the_draws() -> None:
    value = WAYS.value(WAYS.between(DROP), "g", WHY)
    assert (value.low, value.high) == (0.015, 0.033)
    figures = np.concatenate([np.full(6, 50.0), np.arange(2_000.0)])
    assert (WAYS.value(figures, "g", WHY).low, WAYS.value(figures, "g", WHY).high) == pytest.approx((49.975, 1949.025))


def test_without_draws_the_range_is_what_single_changes_do() -> None:
    ways = Ways((WEIGHTS,), draws=0)
    value = ways.value(np.array([5.0, 3.0, 9.0]), "g", WHY)
    assert (value.number, value.low, value.high) == (5, 3, 9)
