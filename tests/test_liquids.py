"""Hold the strengths of liquids that are no spirit to what was published of them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reconlab.errors import InputError, ReconlabError
from reconlab.liquids import LiquidAnswer, liquid_strength
from reconlab.receipts import Setting
from reconlab.reducing import StrengthAnswer, strength

LONDON = {"years": "1890", "place": "London"}
NEW_YORK = {"years": "1905", "place": "New York"}
SPIRITS = ["36° Baumé", "alcohol of 36 degrees Baumé", "60 o.p.", "rectified spirit", "sp. gr. .838"]


@pytest.mark.parametrize(
    ("text", "where", "gravity"),
    [
        ("25° Twaddell", LONDON, 1.125),  # Beringer, A Text-Book of Assaying: 25 x .005
        ("168° Twaddle", LONDON, 1.84),  # by the same rule: 1 + 168 x .005
        ("ammonia of 30° Baumé", LONDON, 0.8795),  # Beringer: 146/(136 + 30)
        ("lye at 32° Bé", LONDON, 1.285),  # Beringer: 144.3/(144.3 - 32)
        (
            "20° Baumé muriatic acid",
            {"years": "1905", "place": "New York"},
            1.16,
        ),  # Roberts and Etherington: 145/(145 - 20)
        ("26° Baumé ammonia", NEW_YORK, 0.8974),  # Roberts and Etherington: 140/(130 + 26)
        ("sulphuric acid, sp. gr. 1.843", LONDON, 1.843),
    ],
)
def test_degrees_are_the_gravity_they_were_defined_by(text: str, where: dict[str, str], gravity: float) -> None:
    answer = strength(text, **where)
    assert isinstance(answer, LiquidAnswer)
    assert answer.chosen is not None
    assert answer.chosen.gravity == pytest.approx(gravity, abs=5e-4)


@pytest.mark.parametrize(
    ("text", "place", "percent", "gravity"),
    [
        ("Liquor ammoniae fortior", "London", 32.5, 0.891),  # B.P. 1885
        ("Liquor ammoniae", "London", 10, 0.959),  # B.P. 1885
        ("stronger ammonia water", "Philadelphia", 28, 0.901),  # U.S.P. 1890
        ("hydrochloric acid", "London", 31.8, 1.16),  # B.P. 1885
        ("ammonia, .880", "London", 35.8, 0.88),  # Treatise on Applied Analytical Chemistry: about 35.8
    ],
)
def test_a_named_solution_is_as_strong_as_its_book_says(text: str, place: str, percent: float, gravity: float) -> None:
    answer = strength(text, years="1890", place=place, book="pharmacopoeia")
    assert isinstance(answer, LiquidAnswer)
    first = answer.meanings[0]
    assert first.value is not None
    assert first.value.number == pytest.approx(percent, abs=0.05)
    assert first.gravity == pytest.approx(gravity, abs=5e-4)
    assert first.reason.all_sources()


def test_acetic_acid_of_one_gravity_has_two_strengths() -> None:
    answer = strength("acetic acid sp. gr. 1.0685", **LONDON)  # heaviest at 80 per cent (Mohr, in Dick 3897)
    assert len({each.value.number for each in answer.meanings if each.value}) == 2


@pytest.mark.parametrize(
    "text", ["36° Baumé", "alcohol of 36 degrees Baumé", "60 o.p.", "rectified spirit", "sp. gr. .838"]
)
def test_what_no_other_liquid_is_named_for_is_a_spirit(text: str) -> None:
    assert isinstance(strength(text, **LONDON), StrengthAnswer)


def test_a_liquid_named_apart_is_that_liquid() -> None:
    answer = strength("36° Baumé", of="lye", **LONDON)
    assert isinstance(answer, LiquidAnswer)
    assert answer.chosen is not None
    assert answer.chosen.gravity == pytest.approx(144.3 / (144.3 - 36))  # Beringer
    assert "burn" in str(answer)


@pytest.mark.parametrize("text", ["300° Twaddell", "ammonia of 90 per cent", "80° Baumé sulphuric acid"])
def test_a_figure_outside_its_scale_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="outside"):
        strength(text, **LONDON)


@given(st.text(max_size=40), st.sampled_from(["", "ammonia", "lye", "glycerine", "moon dust"]))
def test_any_words_are_a_strength_or_refused(text: str, of: str) -> None:
    try:
        answer = liquid_strength(text, Setting("1890", "London"), of)
    except ReconlabError:
        return
    assert answer is None or answer.meanings


def test_a_share_by_volume_of_ammonia_is_refused() -> None:
    with pytest.raises(InputError, match="by volume"):
        strength("ammonia 10 per cent by volume", years="1890", place="England")
