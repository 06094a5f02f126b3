"""Hold a comparison to the same hundred parts of each version, and to saying every change and why."""

import pytest

from reconlab.comparison import Comparison, compare
from reconlab.errors import InputError
from reconlab.formula import Formula, Replacement
from reconlab.reading import read
from reconlab.receipts import Use
from reconlab.translation import translate

PAGE = "Flake white, 1 oz.\nFrench chalk, 1 oz.\nRose water, 8 oz."
LITERAL = translate(read(PAGE, years="1911", place="England"))
ZINC = LITERAL.replaced(
    Replacement(out="flake white", into={"zinc oxide": 1.0}, kind="safety", because="lead", expected="drier"), "zinc"
)
MIXED = ZINC.replaced(Replacement(out="french chalk", into={"kaolin": 2.0, "mica": 1.0}, because="dust"), "mixed")
WITHOUT = ZINC.replaced(Replacement(out="french chalk", into={}, because="sheer"), "without talc")
USE = Use("liquid face white", "EU", "2026-11-01")


def shares(comparison: Comparison, substance: str) -> tuple[float | None, ...]:
    mine = next(d for d in comparison.differences if d.substance == substance)
    return tuple(None if share is None else share.number for share in mine.shares)


def test_each_version_comes_to_a_hundred() -> None:
    comparison = compare(LITERAL, ZINC, MIXED)
    for position in range(3):
        chosen = comparison.versions[position].as_chosen()
        there = [d.shares[position] for d in comparison.differences if d.substance in chosen]
        assert sum(share.number for share in there if share is not None) == pytest.approx(100)


def test_what_cannot_be_there_is_nothing_and_not_nought() -> None:
    comparison = compare(LITERAL, ZINC)
    assert shares(comparison, "white_lead")[1] is None
    # It may be there and is not as chosen: its share is what it would be, and the row says so.
    assert shares(comparison, "bismuth_subnitrate")[0] == pytest.approx(shares(comparison, "white_lead")[0], rel=0.05)
    assert "bismuth subnitrate (if it is that)" in str(comparison)
    assert shares(comparison, "zinc_oxide")[0] is None
    assert "-" in str(comparison)


def test_every_substance_of_every_version_is_there_once() -> None:
    comparison = compare(LITERAL, ZINC, MIXED)
    keys = [d.substance for d in comparison.differences]
    assert len(keys) == len(set(keys))
    assert set(keys) == {key for version in (LITERAL, ZINC, MIXED) for key in version.substances}


def test_a_swap_weight_for_weight_keeps_the_other_shares() -> None:
    comparison = compare(LITERAL, ZINC)
    before, after = shares(comparison, "talc")
    assert before == pytest.approx(after)
    assert shares(comparison, "zinc_oxide")[1] == pytest.approx(shares(comparison, "white_lead")[0])


def test_three_for_one_makes_the_rest_less() -> None:
    before, after = shares(compare(ZINC, MIXED), "zinc_oxide")
    assert before is not None
    assert after == pytest.approx(before / (1 + 2 * before / 100))  # two ounces more of so many
    assert shares(compare(ZINC, MIXED), "kaolin")[1] == pytest.approx(2 * after)


def test_what_is_left_out_is_said() -> None:
    comparison = compare(ZINC, WITHOUT)
    assert shares(comparison, "talc")[1] is None
    assert "left out" in str(comparison)


def test_versions_stand_in_the_order_given() -> None:
    assert shares(compare(ZINC, LITERAL), "zinc_oxide") == shares(compare(LITERAL, ZINC), "zinc_oxide")[::-1]


def test_changes_stand_with_their_version_and_reason() -> None:
    comparison = compare(LITERAL, ZINC)
    assert [(name, change.because) for name, change in comparison.changes] == [("zinc", "lead")]
    assert "expected: drier" in str(comparison) or "drier" in str(comparison)


def test_two_changes_at_once_are_warned_of_and_one_is_not() -> None:
    warning = "cannot be told apart"
    assert warning in str(compare(LITERAL, MIXED))
    assert warning not in str(compare(LITERAL, ZINC))


def test_what_stops_a_version_is_named_for_the_use() -> None:
    comparison = compare(LITERAL, ZINC, use=USE)
    assert comparison.stopped == (("white lead (basic lead carbonate)",), ())
    assert "literal: stops at white lead" in str(comparison)
    assert "zinc: nothing found that stops the bench" in str(comparison)


def test_without_a_use_poison_is_still_named_and_the_rest_is_not_screened() -> None:
    comparison = compare(LITERAL, ZINC)
    assert comparison.stopped == (("white lead (basic lead carbonate)",), ())
    assert "zinc: not screened: no use is given" in str(comparison)


@pytest.mark.parametrize("versions", [(), (LITERAL,)])
def test_fewer_than_two_versions_is_an_error(versions: tuple[Formula, ...]) -> None:
    with pytest.raises(InputError, match="at least two"):
        compare(*versions)


def test_a_version_beside_itself_shows_no_difference() -> None:
    for difference in compare(ZINC, ZINC).differences:
        one, other = difference.shares
        assert one == other
