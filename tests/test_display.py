"""A card is one result in three dresses: text, HTML that works by keyboard, a frame."""

import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

import reconlab as rl
from reconlab.display import Card, Shown, Table, chain_lines
from reconlab.reasons import Citation, Reason

DEEP = Reason("28.3 g", (), (Reason("ounce, avoirdupois", (Citation("a_book", "p. 1"),), (Reason("437.5 grains"),)),))
CARD = Card(
    "Violet powder",
    notes=("line 3 was not read",),
    tables=(Table("In grams", ("substance", "grams"), (("starch", "454"), ("orris <root>", "56.7"))),),
    chains=(DEEP, Reason("no more to say")),
    last=("a research aid",),
)


class Elements(HTMLParser):
    """Collect tags with their attributes, and check that each closes in order."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found, self.open = [], []
        self.feed(page)
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))
        self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def results() -> list[Shown | Card]:
    """Return a card, a formula, its reason and others as a notebook shows them."""
    receipt = rl.read("Starch, 4 oz.\nPearl white, 1 oz.\nTincture of benzoin, 2 drachms", years="1898", place="London")
    formula = rl.translate(receipt)
    return [CARD, formula, formula.share("wheat starch").explain(), formula.mass("ethanol").explain()]


def test_a_card_as_text_has_title_notes_table_chain_and_last_line() -> None:
    assert str(CARD) == (
        "Violet powder\n\n- line 3 was not read\n\n"
        "In grams\nsubstance     grams\n------------  -----\nstarch        454\norris <root>  56.7\n\n"
        "28.3 g\n  ounce, avoirdupois [a_book, p. 1]\n    437.5 grains\nno more to say\n\na research aid"
    )


def test_a_card_in_html_escapes_what_it_was_given() -> None:
    page = CARD._repr_html_()
    assert "orris &lt;root&gt;" in page
    assert "<root>" not in page


def test_headings_of_a_table_name_their_row_or_column() -> None:
    scopes = [(tag, attrs.get("scope")) for tag, attrs in Elements(CARD._repr_html_()).found if tag == "th"]
    assert scopes == [("th", "col"), ("th", "col"), ("th", "row"), ("th", "row")]


def test_chains_open_by_details_and_a_step_without_reasons_does_not_pretend_to() -> None:
    tags = [tag for tag, _ in Elements(CARD._repr_html_()).found]
    assert tags.count("details") == tags.count("summary") == 2  # of three steps, two rest on something
    assert "<details><summary>28.3 g</summary>" in CARD._repr_html_()


@pytest.mark.parametrize("shown", results(), ids=["card", "formula", "share", "mass"])
def test_html_has_no_ids_handlers_scripts_or_colours(shown: Shown | Card) -> None:
    # a picture's title needs an id to be read out; it comes from the picture's own words and is the same each time
    for tag, attributes in Elements(re.sub(r"(?s)<svg.*?</svg>", "", shown._repr_html_())).found:
        assert tag not in ("script", "style", "iframe")
        assert not set(attributes) & {"id", "class", "bgcolor", "color"}
        assert dict(attributes).get("style", "text-align: left") == "text-align: left"
        assert not any(name.startswith("on") for name in attributes)


@pytest.mark.parametrize("shown", results(), ids=["card", "formula", "share", "mass"])
def test_text_and_html_say_the_same_words_and_the_same_again(shown: Shown | Card) -> None:
    page = re.sub(r"<[^>]+>", " ", shown._repr_html_())
    for word in re.findall(r"[A-Za-z]{4,}", str(shown)):
        assert word in page
    assert (repr(shown), shown._repr_html_()) == (str(shown), shown._repr_html_())
    assert not re.search(r"0x[0-9a-f]{6,}", repr(shown) + shown._repr_html_())


def test_two_runs_are_shown_alike() -> None:
    assert [one._repr_html_() for one in results()] == [one._repr_html_() for one in results()]


def test_a_frame_holds_the_first_table_as_text() -> None:
    frame = CARD.to_frame()
    assert list(frame.columns) == ["substance", "grams"]
    assert frame.values.tolist() == [["starch", "454"], ["orris <root>", "56.7"]]


def test_a_table_too_wide_for_a_terminal_is_shown_row_by_row() -> None:
    sentence = "if it is troy, the starch goes from thirty to thirty-four in the hundred, and all else with it"
    wide = Card("", tables=(Table("", ("question", "what it does"), (("Whose ounces?", sentence * 3),)),))
    lines = str(wide).splitlines()
    assert max(map(len, lines)) <= 110
    assert " ".join(" ".join(lines).split()).count(sentence.partition(",")[0]) == 3


def test_a_picture_is_followed_by_its_words() -> None:
    page = Card("t", picture="<svg></svg>", picture_text="starch 84 %")._repr_html_()
    assert "<figure><svg></svg><figcaption>starch 84 %</figcaption></figure>" in page


def test_a_result_must_bring_its_card() -> None:
    with pytest.raises(NotImplementedError):
        Shown().card()


@given(st.recursive(st.builds(Reason, st.text(max_size=8)), lambda inner: st.builds(
    Reason, st.text(max_size=8), st.just(()), st.lists(inner, max_size=3).map(tuple)), max_leaves=8))  # fmt: skip
def test_every_step_of_any_chain_is_shown_once_in_text_and_html(reason: Reason) -> None:
    def steps(chain: Reason) -> int:
        return 1 + sum(steps(step) for step in chain.because)

    assert len(chain_lines(reason)) == steps(reason)
    tags = [tag for tag, _ in Elements(Card("", chains=(reason,))._repr_html_()).found]
    assert tags.count("p") + tags.count("summary") == steps(reason)
