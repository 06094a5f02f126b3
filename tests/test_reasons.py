"""Reasons, figures, questions and decisions keep what they are told."""

import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reconlab.errors import AmbiguousError, FileError, InputError, ReconlabError, RecordError, TableError
from reconlab.reasons import (
    STANDINGS,
    Citation,
    Decision,
    Option,
    Question,
    Reason,
    Spread,
    Value,
    citations,
    figure,
    in_order,
)

ROW = Reason("drachm: 60 grains", (Citation("a_table", "p. 1"),))
CUSTOM = Reason("troy, likely", (Citation("a_book"),), (ROW,))
CHAIN = Reason("'two drachms' is 2 drachm", (), (CUSTOM, ROW))


def question(*standings: str, book: str = "") -> Question:
    return Question("weights", "Whose?", tuple(Option(f"o{i}", s, ROW) for i, s in enumerate(standings)), book)


def test_citations_keep_key_and_place() -> None:
    assert citations("a_book[p. 4, note; p. 6] | from_memory") == (
        Citation("a_book", "p. 4, note; p. 6"),
        Citation("from_memory"),
    )
    assert citations("") == ()


@pytest.mark.parametrize("cell", ["A Book", "a_book p. 4", "a_book[p. 4", "a_book[]", "a_book|b"])
def test_a_citation_in_another_form_is_refused(cell: str) -> None:
    with pytest.raises(ValueError, match="is not key"):
        citations(cell)


def test_a_chain_lists_each_source_once_in_order() -> None:
    assert CHAIN.all_sources() == (Citation("a_book"), Citation("a_table", "p. 1"))


def test_a_chain_as_text_is_indented_by_what_rests_on_what() -> None:
    assert str(CHAIN).splitlines() == [
        "'two drachms' is 2 drachm",
        "  troy, likely [a_book]",
        "    drachm: 60 grains [a_table, p. 1]",
        "  drachm: 60 grains [a_table, p. 1]",
    ]


@pytest.mark.parametrize(
    ("number", "shown"),
    [
        (0, "0"),
        (453.59237, "454"),
        (1234.5, "1230"),
        (28.349523125, "28.3"),
        (0.06479891, "0.0648"),
        (0.0000123, "0.0000123"),
        (100.0, "100"),
        (99.96, "100"),
        (-2.5, "-2.5"),
        (1e6, "1000000"),
    ],
)
def test_figures_are_shown_with_three_digits_and_no_powers_of_ten(number: float, shown: str) -> None:
    assert figure(number) == shown


@given(st.floats(1e-6, 1e9))
def test_a_shown_figure_is_within_half_a_percent_and_has_no_e(number: float) -> None:
    assert "e" not in figure(number)
    assert float(figure(number)) == pytest.approx(number, rel=5.1e-3)


def test_a_range_is_shown_only_where_it_is_wider_than_two_percent() -> None:
    narrow, wide = (Value(10.0, low, 10.1, "g", ROW) for low in (9.95, 9.5))
    assert (narrow.wide, str(narrow)) == (False, "10 g")
    assert (wide.wide, str(wide)) == (True, "10 g (9.5 to 10.1)")


def test_a_value_explains_itself_down_to_the_source() -> None:
    explained = str(Value(7.775869, 7.775869, 7.775869, "g", CHAIN).explain())
    assert explained.startswith("7.78 g")
    assert "two drachms" in explained
    assert "a_table, p. 1" in explained


def test_a_value_is_a_quantity_too() -> None:
    assert Value(1.0, 1.0, 1.0, "g/mL", ROW).quantity.to("kilogram / liter").magnitude == pytest.approx(1.0)


def test_the_surest_answer_comes_first_and_equal_ones_keep_their_order() -> None:
    options = question("unlikely", "possible", "likely", "possible").options
    assert [option.key for option in in_order(options)] == ["o2", "o1", "o3", "o0"]


@pytest.mark.parametrize(
    ("standings", "chosen"),
    [
        (("likely", "possible"), "o0"),
        (("possible", "possible"), None),
        (("possible", "unlikely"), None),
        (("possible",), "o0"),
    ],
)
def test_an_answer_is_chosen_only_if_it_is_likely_or_alone(standings: tuple[str, ...], chosen: str | None) -> None:
    asked = question(*standings)
    assert (asked.chosen.key if asked.chosen else None) == chosen


def test_settling_closes_a_question_and_keeps_the_reason_of_the_table() -> None:
    settled = question("likely", "possible").decided(
        Decision(question="weights", option="o1", because="preface, p. iv")
    )
    assert (settled.open, [option.key for option in settled.options]) == (False, ["o1"])
    assert settled.chosen.reason.says == "settled: preface, p. iv"
    assert settled.chosen.reason.because == (ROW,)


def test_an_answer_not_on_the_list_is_added_and_marked_as_a_persons_own() -> None:
    own = question("likely", "possible").decided(
        Decision(question="weights", option="Cologne mark", because="the label", sources=("label, 1890",))
    )
    assert own.chosen.key == "Cologne mark"
    assert "own answer: the label" in str(own.chosen.reason)
    assert own.chosen.reason.sources == (Citation("own", "label, 1890"),)


def test_sources_of_a_decision_are_keys_or_a_persons_own_words() -> None:
    decision = Decision(question="q", sources=("a_book[p. 4]", "a_book", "the shop's label, p. 2"))
    assert decision.cited == (Citation("a_book", "p. 4"), Citation("a_book"), Citation("own", "the shop's label, p. 2"))


def test_equal_questions_with_different_answers_are_merged_and_the_worst_standing_is_kept() -> None:
    one = Question("k", "?", (Option("a", "likely", ROW), Option("b", "likely", ROW)))
    two = Question("k", "?", (Option("a", "possible", ROW), Option("c", "unlikely", ROW)))
    for merged in (one.merged(two), two.merged(one)):
        assert {option.key: option.standing for option in merged.options} == {
            "a": "possible",
            "b": "likely",
            "c": "unlikely",
        }
        ranks = [STANDINGS.index(option.standing) for option in merged.options]
        assert ranks == sorted(ranks)


def test_a_question_of_another_book_is_another_question() -> None:
    assert question("likely").id == "weights"
    assert question("likely", book="tincture").id == "weights (tincture)"


def test_a_persons_own_figure_closes_a_spread() -> None:
    spread = Spread("drop: oil", "How heavy?", 0.033, 0.026, 0.04, "g", ROW)
    own = spread.decided(Decision(question="drop: oil", figure=0.031, because="weighed a hundred"))
    assert (own.usual, own.low, own.high) == (0.031, 0.031, 0.031)
    assert own.reason.because == (ROW,)
    assert spread.decided(Decision(question="drop: oil", option="big")) is spread


@pytest.mark.parametrize("kind", [ReconlabError, InputError, AmbiguousError, FileError, RecordError, TableError])
def test_an_error_says_found_where_and_remedy_also_after_pickling(kind: type[ReconlabError]) -> None:
    error = pickle.loads(pickle.dumps(kind("two lines", "page.txt", "Give the number.")))  # noqa: S301 - our own bytes
    assert str(error) == "page.txt: two lines. Give the number."
    assert (error.found, error.where, error.remedy) == ("two lines", "page.txt", "Give the number.")
    assert isinstance(error, ReconlabError)
