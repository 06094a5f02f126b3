"""A picture says the same with and without eyes, in one ink, the same each time."""

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from reconlab.errors import InputError
from reconlab.pictures import range_plot, stacked_bar

SVG = "{http://www.w3.org/2000/svg}"
LABELS = ["rose water", "white lead", "talc", "bergamot oil", "lemon oil", "carmine"]
SHARES = {"literal": [76.0, 10.0, 13.6, 0.2, 0.15, 0.05], "safe": [76.0, 0.0, 23.6, 0.2, 0.15, 0.05]}


def drawn(svg: str) -> ET.Element:
    return ET.fromstring(svg)  # noqa: S314 - our own drawing


def widths(tree: ET.Element) -> list[float]:
    return [float(rect.attrib["width"]) for rect in tree.iter(f"{SVG}rect") if rect.get("height") == "34"]


def test_the_words_name_every_part_the_greatest_first() -> None:
    text = stacked_bar("a white", LABELS, {"": SHARES["literal"]}).text
    assert text == "rose water 76 %, talc 14 %, white lead 10 %, bergamot oil 0.20 %, lemon oil 0.15 %, carmine 0.050 %"


def test_bars_are_of_one_length_and_parts_in_proportion() -> None:
    found = widths(drawn(stacked_bar("a white", LABELS, SHARES).svg))
    assert len(found) == 6 + 5  # white lead is not in the second
    assert sum(found[:6]) == pytest.approx(sum(found[6:]), abs=0.1)
    assert found[0] / found[1] == pytest.approx(7.6, abs=0.01)


def test_it_has_a_title_and_words_for_those_who_do_not_see_it() -> None:
    tree = drawn(stacked_bar("a white", LABELS, SHARES).svg)
    title, words = tree.find(f"{SVG}title"), tree.find(f"{SVG}desc")
    assert title is not None
    assert words is not None
    assert tree.attrib["role"] == "img"
    assert tree.attrib["aria-label"] == f"{title.text}: {words.text}"
    assert words.text == stacked_bar("a white", LABELS, SHARES).text


def test_no_colour_tells_parts_apart() -> None:
    svg = stacked_bar("a white", LABELS, SHARES).svg
    assert not re.search(r"#[0-9a-fA-F]{3,6}\b(?!-)|rgb|hsl", svg.replace("url(#", ""))
    assert set(re.findall(r'(?:fill|stroke)="([^"]*)"', svg)) <= {"currentColor", "none"} | set(
        re.findall(r'fill="(url\(#bar-[0-9a-f]{8}-\d+\))"', svg)
    )


@pytest.mark.parametrize("count", [2, 6, 14, 40])
def test_labels_above_a_bar_do_not_overlap(count: int) -> None:
    rows = [[1.0] * count, [0.01] * (count - 1) + [99.0], [99.0] + [0.01] * (count - 1)]
    for row in rows:
        tree = drawn(stacked_bar("many", [f"thing {i}" for i in range(count)], {"": row}).svg)
        labels = [
            (float(text.attrib["x"]), len(text.text or ""))
            for text in tree.iter(f"{SVG}text")
            if text.get("text-anchor") == "middle"
        ]
        for (left, long), (right, longer) in pairwise(labels):
            assert right - left >= (long + longer) / 2 * 6.7


def test_the_smallest_of_many_are_gathered_and_named() -> None:
    labels = [f"thing {i}" for i in range(20)]
    picture = stacked_bar("many", labels, {"": [float(20 - i) for i in range(20)]})
    words = " ".join(text.text or "" for text in drawn(picture.svg).iter(f"{SVG}text"))
    assert "7 others:" in words
    assert "thing 19" in words
    assert "thing 19" in picture.text


def test_it_is_the_same_each_time_and_its_ids_are_its_own() -> None:
    first, other = stacked_bar("a", LABELS, SHARES), stacked_bar("b", LABELS, SHARES)
    assert first == stacked_bar("a", LABELS, SHARES)
    ids = [set(re.findall(r'id="([^"]+)"', picture.svg)) for picture in (first, other)]
    assert not ids[0] & ids[1]


def test_hostile_words_stay_words() -> None:
    svg = stacked_bar("<script>a</script>", ['"><img src=x>'], {"</svg>": [1.0]}).svg
    assert drawn(svg).find(f"{SVG}title").text == "<script>a</script>"  # type: ignore[union-attr]
    assert "<img" not in svg


@pytest.mark.parametrize("row", [[1.0], [1.0, -1.0], [1.0, float("nan")]])
def test_what_cannot_be_drawn_is_an_error(row: list[float]) -> None:
    with pytest.raises(InputError, match="one figure of 0 or more"):
        stacked_bar("a", ["one", "two"], {"": row})


def test_nothing_at_all_is_drawn_as_nothing() -> None:
    assert stacked_bar("a", ["one"], {"": [0.0]}).text == "nothing"
    drawn(stacked_bar("a", [], {}).svg)


def test_a_range_is_drawn_and_said_alike() -> None:
    picture = range_plot("Cold cream", ["white wax", "borax <1>"], [(12.1, 12.6, 13.6), (0.8, 0.8, 0.8)], "%")
    assert picture.text == "white wax 12.6 % (12.1 to 13.6), borax <1> 0.8 %"
    assert "borax &lt;1&gt;" in picture.svg
    assert picture.svg.count("<circle") == 2


def test_a_range_out_of_order_is_refused() -> None:
    with pytest.raises(InputError, match="lowest, taken and highest"):
        range_plot("Cold cream", ["white wax"], [(13.0, 12.6, 13.6)], "%")


def test_a_drawing_becomes_a_png_of_the_width_asked_for() -> None:
    image = range_plot("Cold cream", ["white wax"], [(12.1, 12.6, 13.6)], "%").png(width=480)
    assert image.startswith(b"\x89PNG\r\n")
    assert int.from_bytes(image[16:20], "big") == 480
