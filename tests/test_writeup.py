"""Every figure of a page opens by keyboard and ends at a reference; nothing is loaded; nothing hostile gets through."""

import re
from dataclasses import dataclass, field, replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import pytest

from reconlab.errors import FileError
from reconlab.formula import Replacement
from reconlab.reasons import Decision
from reconlab.receipts import Use
from reconlab.record import Batch, Inquiry, Observation, Plan, Reconstruction, Source, Version
from reconlab.screening import RESEARCH_AID
from reconlab.writeup import write
from reconlab.writeup.blocks import Weighing, Weighings
from reconlab.writeup.matter import gathered
from reconlab.writeup.sheet import bench_sheet

VOID = {"meta", "link", "br", "img", "input", "hr", "col", "wbr"}
NUMBER = re.compile(r"(?<![\w.])\d+(?:[.,]\d+)?\s*(?:%|(?:k|m)?g\b|m[Ll]\b|drops?\b)|(?<![\w.])\d+\.\d+(?![\w.]*\d)")

# An invented book and invented people.
SOURCE = Source(
    book="The Lighthouse Chemist's Day-book",
    author="N. Quill",
    years="1911",
    place="England",
    kind="dispensing",
    page="leaf 9",
    note="a stain over the third line",
)
WHITE = """Gull White
Flake white, 1 oz.
Oxide of zinc, ½ oz.
French chalk, 2 dr.
Glycerine, 3 fl. dr.
Rose water, to 8 fl. oz.
Shake the bottle."""
POWDER = """Harbour Powder
Starch, finely powdered, 10 oz.
Orris root, powdered, 2 oz.
Dew of Saturnalia, 3 oz.
Oil of bergamot, oil of lemon, of each 20 drops.
Carmine, q.s. to tint."""
SAFE = Version(
    name="safe",
    changes=(
        Replacement(
            out="flake white",
            into={"zinc oxide": 1.0},
            kind="safety",
            because="no lead is handled; 10 % of it stood in the page",
            expected="the same cover",
            sources=("her own notebook, p. 3",),
        ),
    ),
)
MADE = Batch(
    version="safe",
    made_on="2026-10-10",
    plan=Plan(
        lines={"1": "5.23", "2": "2.62", "3": "1.44", "4": "2.48", "5": "38.23"}, balance="0.01 g", container="60 mL"
    ),
    weighed={"1": 5.24, "2": 2.61},
    notes="2 drops more water",
)
RECORD = Reconstruction(
    title="Gull White",
    invented=True,
    transcriber="P. Sand",
    source=SOURCE,
    transcription=WHITE,
    question=Inquiry(asked="Does a white without lead cover?", success="an even white from 50 g", touches="a hand"),
    decisions=(
        Decision(question="weights", option="avoirdupois", because="the preface says so", who="P. Sand"),
        Decision(question="name: lost word", option="zinc oxide", because="an older reading"),
    ),
    use=Use("liquid face white", law="EU", on="2026-11-01"),
    versions=(SAFE,),
    batches=(MADE,),
    observations=(Observation(of="batch 1", what="3 mm of sediment", on="2026-10-11", after="1 day"),),
)
RECORDS = {
    "white": RECORD,
    "powder": Reconstruction(
        title="Harbour Powder", source=SOURCE, transcription=POWDER, use=Use("violet powder", "EU")
    ),
    "bare": Reconstruction(transcription="Starch, 3 oz.\nOrris root, 1 oz."),
    "parts": Reconstruction(
        title="Parts", transcription="Starch, 3 parts\nOrris root, 1 part", use=Use("violet powder")
    ),
    "unweighed": Reconstruction(title="None", transcription="Starch, as much as you please, q.s.\nWhite lead, q.s."),
}


@dataclass
class Seen(HTMLParser):
    """What a reader of a page meets, in order."""

    open: list[str] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    loads: list[str] = field(default_factory=list)
    tags: list[str] = field(default_factory=list)
    notes: list[list[str]] = field(default_factory=list)
    figures: list[tuple[str, bool]] = field(default_factory=list)
    cells: list[str] = field(default_factory=list)
    heads: list[int] = field(default_factory=list)
    text: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Begin as every parser does."""
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {key: value or "" for key, value in attrs}
        self.tags.append(tag)
        self.ids += [found["id"]] if "id" in found else []
        self.loads += [found[key] for key in ("src", "srcset", "poster", "action") if key in found]
        self.loads += [found["href"]] if tag == "link" else []
        assert not [key for key in found if key.startswith("on")]
        if tag == "a":
            self.links.append(found["href"])
            if self.notes and "note" in self.open:
                self.notes[-1].append(found["href"])
        if tag == "details":
            self.notes.append([])
        if tag == "data":
            float(found["value"])
            self.figures.append((found["value"], self.open[-1] == "summary"))
        if re.fullmatch("h[1-6]", tag):
            self.heads.append(int(tag[1]))
        if tag == "td":
            self.cells.append("")
        if tag not in VOID:
            self.open.append("note" if found.get("class") == "note" else tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() in (tag, "note")

    def handle_data(self, data: str) -> None:
        self.text.append(data)
        if "td" in self.open and not {"data", "note"} & set(self.open):
            self.cells[-1] += data


def read(page: str) -> Seen:
    seen = Seen()
    seen.feed(page)
    seen.close()
    assert seen.open == []
    return seen


@cache
def pages(name: str) -> dict[str, str]:
    from tempfile import TemporaryDirectory  # noqa: PLC0415 - kept for the whole run

    with TemporaryDirectory() as folder:
        return {path.name: path.read_text(encoding="utf-8") for path in write(RECORDS[name], Path(folder), made="2026")}


HTML = [(name, page) for name in RECORDS for page in pages(name) if page.endswith(".html")]
every_page = pytest.mark.parametrize(("name", "page"), HTML, ids=str)


def test_which_pages_there_are() -> None:
    assert list(pages("white")) == [
        "gull-white.html",
        "gull-white.md",
        "gull-white-not-made-literal.html",
        "gull-white-bench-safe.html",
    ]
    assert list(pages("powder")) == [
        "harbour-powder.html",
        "harbour-powder.md",
        "harbour-powder-not-made-literal.html",  # nothing unidentified is weighed out
    ]


@every_page
def test_every_figure_opens_by_keyboard_and_ends_at_a_reference(name: str, page: str) -> None:
    seen = read(pages(name)[page])
    assert all(in_summary for _, in_summary in seen.figures)
    listed = {f"#{one}" for one in seen.ids if one.startswith("ref-")}
    for note in seen.notes:
        assert note
        assert set(note) <= listed


@every_page
def test_no_measured_figure_of_a_table_stands_outside_data(name: str, page: str) -> None:
    assert [cell for cell in read(pages(name)[page]).cells if NUMBER.search(cell)] == []


@every_page
def test_every_reference_is_cited_and_every_citation_listed(name: str, page: str) -> None:
    seen = read(pages(name)[page])
    cited = {link for link in seen.links if link.startswith("#ref-")}
    assert cited == {f"#{one}" for one in seen.ids if one.startswith("ref-")}


@every_page
def test_only_a_figure_and_its_point_are_kept_on_one_line(name: str, page: str) -> None:
    kept = re.findall(r'<span class="keep">(.*?)</details>', pages(name)[page], re.DOTALL)
    assert all(one.count("<details") == 1 for one in kept)  # more would push the page wider than the paper


@every_page
def test_nothing_is_loaded_from_elsewhere(name: str, page: str) -> None:
    text = pages(name)[page]
    seen = read(text)
    assert [load for load in seen.loads if load != "data:,"] == []
    assert not {"script", "iframe", "object", "embed", "form", "base", "img"} & set(seen.tags)
    assert "@import" not in text
    assert not re.search(r"url\((?!#bar-)", text)
    assert all(link.startswith(("#", "https://", "http://")) for link in seen.links)


@every_page
def test_a_page_is_built_for_everyone(name: str, page: str) -> None:
    text = pages(name)[page]
    seen = read(text)
    assert '<html lang="en">' in text
    assert {"header", "main", "footer"} <= set(seen.tags)
    assert seen.links[0] == "#main"  # the skip link
    assert seen.heads[0] == 1
    assert seen.heads.count(1) == 1
    assert all(after - before <= 1 for before, after in zip(seen.heads, seen.heads[1:], strict=False))
    assert len(set(seen.ids)) == len(seen.ids)
    assert seen.tags.count("caption") == seen.tags.count("table")
    assert text.count("<th ") == text.count('scope="col"') + text.count('scope="row"')
    assert all(f"{link[1:]}" in seen.ids for link in seen.links if link.startswith("#"))


def test_the_article_says_what_it_must() -> None:
    text = "".join(read(pages("white")["gull-white.html"]).text).replace("\N{NO-BREAK SPACE}", " ")
    for words in (
        "Invented source",
        "Does a white without lead cover?",
        "N. Quill, The Lighthouse Chemist's Day-book",
        RESEARCH_AID,
        "What was “Flake white”?",
        "bismuth subnitrate (possible)",
        "the preface says so",
        "no longer asks it",
        "literal: described, not made",
        "nothing found that stops the bench",
        "3 mm",
        "no published source was read",
        "How to cite this page",
        "2026-08-18",
        "Try a little on the inner arm",
        "Never breathe",
    ):
        assert words in text


def test_the_page_stands_as_printed() -> None:
    assert WHITE in "".join(read(pages("white")["gull-white.html"]).text)
    assert WHITE in pages("white")["gull-white.md"]


def test_a_refused_version_is_described_and_not_made() -> None:
    page = "".join(read(pages("white")["gull-white-not-made-literal.html"]).text)
    assert "Described, not made" in page
    assert "What could stand in for white lead" in page
    assert "taken, g" not in page
    assert "literal: described, not made" in pages("white")["gull-white.md"]


def test_a_refusal_in_the_record_is_kept(tmp_path: Path) -> None:
    refused = replace(RECORD, batches=(Batch(version="safe", refused="the mask was missing"),))
    found = {path.name: path.read_text(encoding="utf-8") for path in write(refused, tmp_path)}
    assert "the mask was missing" in found["gull-white-not-made-safe.html"]


def test_the_bench_sheet_has_big_figures_boxes_and_lines_to_sign() -> None:
    page = pages("white")["gull-white-bench-safe.html"]
    text = "".join(read(page).text)
    assert "38.23" in text
    assert page.count('class="blank"') == 5 + 4
    assert text.index("Never breathe") < text.index("38.23") < text.index("Try a little on the inner arm")
    assert text.index("First the powders, sifted.") < text.index("Now the waters.")
    assert RESEARCH_AID in text


def test_the_plan_is_shown_as_kept_not_as_reckoned_now(tmp_path: Path) -> None:
    older = replace(MADE, plan=replace(MADE.plan, lines={**MADE.plan.lines, "1": "5.99"}))
    paths = write(replace(RECORD, batches=(older,)), tmp_path)
    assert '<data value="5.99">5.99</data>' in paths[-1].read_text(encoding="utf-8")


def test_what_is_not_known_is_said() -> None:
    text = "".join(read(pages("powder")["harbour-powder.html"]).text)
    assert "Not identified" in text
    assert "Dew of Saturnalia" in text
    assert "Not weighed: Carmine" in text
    assert "% w/w of the weighed lines" in text


def words_of(name: str, page: str) -> str:
    return "".join(read(pages(name)[page]).text).replace("\N{NO-BREAK SPACE}", " ").split("}\n")[-1]


def test_the_pages_own_directions_are_the_method() -> None:
    article, sheet = words_of("white", "gull-white.html"), words_of("white", "gull-white-bench-safe.html")
    asked = article.split("\nWhat the page says to do\n")[1].split("\nWhat each thing was\n")[0]
    assert "Shake the bottle." in asked
    assert "Words that were not read" not in article
    mix = sheet.split("\nMix\n")[1].split("\nFill and label\n")[0]
    assert mix.index("The page says: Shake the bottle.") < mix.index("Begin with the powders, sifted: French chalk.")
    assert "End with the waters: Rose water." in mix


def test_a_run_in_method_is_not_called_unread(tmp_path: Path) -> None:
    record = Reconstruction(
        title="Salve",
        transcription="White wax, 1 oz.; almond oil, 4 oz. Melt the wax in the oil.",
        use=Use("cold cream"),
    )
    text = write(record, tmp_path)[0].read_text(encoding="utf-8")
    assert "Melt the wax in the oil." in text.split("What the page says to do</h2>")[1].split("<h2>")[0]
    assert "Words that were not read" not in text


def test_what_is_not_identified_is_not_called_likely() -> None:
    text = words_of("powder", "harbour-powder.html")
    assert "(not identified)" not in text
    row = text.split("What was Dew of Saturnalia?")[1].split("What was")[0]
    assert "not identified" in row
    assert "likely" not in row
    assert "nothing else on file" not in row
    assert text.count("Not identified: ") == 1


def test_what_is_not_identified_stops_the_bench_and_says_what_to_do() -> None:
    text = words_of("powder", "harbour-powder.html")
    assert "is not identified: it is not weighed out before someone has said what it is" in text
    assert "say what dew of saturnalia is and how you know" in text
    assert "as printed it is not to be made" not in text


def test_a_thing_that_is_not_weighed_is_not_shown_as_nothing(tmp_path: Path) -> None:
    other = Version(name="no root", changes=(Replacement(out="orris root", into={"kaolin": 1.0}),))
    record = replace(RECORDS["powder"], versions=(other,), transcription=POWDER.replace("Dew of Saturnalia", "Kaolin"))
    text = write(record, tmp_path)[0].read_text(encoding="utf-8")
    row = text.split('scope="row">carmine')[-1].split("</tr>")[0]
    assert row.count("not weighed") == 2
    assert '<data value="0">' not in row


def test_nothing_found_says_what_is_not_known(tmp_path: Path) -> None:
    uses = replace(RECORD, use=Use("liquid face white", law="US", on="2026-11-01"))
    text = write(uses, tmp_path)[0].read_text(encoding="utf-8")
    said = text.split("this is not a finding that it is safe.")[1].split("<")[0]
    assert "Not looked up: " in said


def test_a_version_without_a_plan_says_how_to_get_one(tmp_path: Path) -> None:
    paths = write(replace(RECORD, batches=()), tmp_path)
    assert not [path for path in paths if "-bench-" in path.name]
    command = (
        "reconlab bench RECORD --version &quot;safe&quot; --make &quot;50 g&quot; --balance &quot;0.01 g&quot; --keep"
    )
    assert f"<code>{command}</code>" in paths[0].read_text(encoding="utf-8")


def test_the_sheet_is_one_numbered_list_of_weighings() -> None:
    page = pages("white")["gull-white-bench-safe.html"]
    assert [int(number) for number in re.findall(r'class="weighings" start="(\d+)"', page)] == [1, 2, 4, 5]
    assert page.count('<span class="amount">') == 5
    text = words_of("white", "gull-white-bench-safe.html")
    assert "Now the whites and colours, rubbed smooth." in text
    assert "0.0 % by rounding" not in text
    assert "Figures and sources: see the article “Gull White”." in text
    assert re.search(r"Still open\. What was|Still open\. Whose|Still open\. How", text)


def test_the_sheet_of_a_receipt_in_parts_names_what_is_taken() -> None:
    kept = Plan(lines={"1": "10.00 g", "2": "30.00 g"}, make="40 g", balance="0.01 g")
    record = Reconstruction(
        title="Plain Powder",
        transcription="Talc, 1 part\nStarch, 3 parts",
        use=Use("violet powder"),
        batches=(Batch(plan=kept),),
    )
    sheet = bench_sheet(gathered(record), "literal")
    weighed = [block for section in sheet.sections for block in section.blocks if isinstance(block, Weighings)]
    named = [step.what for block in weighed for step in block.steps if isinstance(step, Weighing)]
    assert named == ["Talc (line 1)", "Starch (line 2)"]


def test_reference_numbers_are_raised_and_stand_in_no_brackets() -> None:
    page = pages("white")["gull-white.html"]
    assert not re.search(r"\[<a href", page)
    assert len(re.findall(r'<sup class="marks">', page)) > 20
    assert '<nav aria-label="On this page">' in page
    assert "<li" not in page.split("<nav")[1].split("</nav>")[0]


def test_an_open_fact_is_said_once() -> None:
    text = words_of("powder", "harbour-powder.html").split("Notes on the figures")[0]
    assert text.count("Not weighed: Carmine") == 1
    assert text.count("A research aid") == 1
    white = words_of("white", "gull-white.html").split("Notes on the figures")[0]
    assert white.count("never handled here") == 1


def test_the_law_table_holds_only_what_asks_something() -> None:
    page = pages("white")["gull-white.html"]
    table = page.split("What the law says of what may be there")[1].split("</table>")[0]
    assert "none found" not in table
    assert "not looked up" not in table
    assert "None found (EU, text of 2026-08-18): " in page


def test_the_markdown_numbers_its_references_and_lists_all() -> None:
    for name in ("white", "powder", "bare"):
        text = next(page for file, page in pages(name).items() if file.endswith(".md"))
        body, references = text.split("\n## References\n")
        listed = [int(number) for number in re.findall(r"^\[(\d+)\] ", references, re.MULTILINE)]
        assert listed == list(range(1, len(listed) + 1))
        cited: set[int] = set()
        for inside in re.findall(r"(?<!\\)\[(\d[^\[\]]*)\]", body):
            for first, last in re.findall(
                r"(\d+)(?:\N{EN DASH}(\d+))?", inside.split(", ")[0] if "\\" in inside else inside
            ):
                cited |= set(range(int(first), int(last or first) + 1)) & set(listed)
        assert cited == set(listed)


HOSTILE = (
    "<script>alert(1)</script>\"'><img src=x onerror=alert(1)> & javascript:alert(1) </pre></style> [x](javascript:1)"
)


def test_hostile_words_stay_words(tmp_path: Path) -> None:
    record = Reconstruction(
        title=HOSTILE,
        transcriber=HOSTILE,
        transcription=f"Starch, 3 oz.\nOrris root, 1 oz.\nShake </pre><b>{'`' * 4} {{x}} & well.",
        question=Inquiry(asked=HOSTILE, success=HOSTILE, departures=(HOSTILE,), touches=HOSTILE),
        source=Source(book=HOSTILE, author=HOSTILE, page=HOSTILE, note=HOSTILE, address="javascript:alert(1)"),
        decisions=(
            Decision(question="name: starch", option="rice starch", because=HOSTILE, who=HOSTILE, sources=(HOSTILE,)),
            Decision(question=HOSTILE, option=HOSTILE, because=HOSTILE),
        ),
        use=Use("violet powder", law="EU"),
        versions=(Version(name=HOSTILE, changes=(Replacement(out="1", into={"kaolin": 1.0}, because=HOSTILE),)),),
        batches=(
            Batch(version=HOSTILE, plan=Plan(lines={HOSTILE: HOSTILE, "1": "3"}, balance="0.1 g", cautions=(HOSTILE,))),
            Batch(version=HOSTILE, weighed={HOSTILE: 1.0}, notes=HOSTILE, made_on="2026"),
        ),
        observations=(Observation(of=HOSTILE, what=HOSTILE, after=HOSTILE),),
    )
    for path in write(record, tmp_path, made=HOSTILE):
        assert path.parent == tmp_path
        assert re.fullmatch(r"[a-z0-9-]+\.(html|md)", path.name)
        text = path.read_text(encoding="utf-8")
        if path.suffix == ".html":
            seen = read(text)
            assert not {"script", "img", "b"} & set(seen.tags)
            assert not [link for link in seen.links if not link.startswith(("#", "http"))]
            assert HOSTILE in "".join(seen.text)
        else:
            outside = re.sub(r"(`{3,})text\n.*?\n\1", "", text, flags=re.DOTALL)
            assert not re.search(r"(?<!\\)\]\(javascript", outside)
            assert not re.search(r"(?<!\\)<", outside)


def test_two_writings_are_the_same_to_the_byte(tmp_path: Path) -> None:
    first = [path.read_bytes() for path in write(RECORD, tmp_path / "a", made="2026-11-25")]
    again = [path.read_bytes() for path in write(RECORD, tmp_path / "b", made="2026-11-25")]
    assert first == again
    assert b"\r" not in b"".join(first)


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(FileError, match="Name another folder"):
        write(RECORD, tmp_path / "file" / "under")


def test_versions_whose_names_look_alike_get_pages_of_their_own(tmp_path: Path) -> None:
    other = replace(SAFE, name="Safe!")
    record = replace(RECORD, versions=(SAFE, other), batches=(MADE, replace(MADE, version="Safe!")))
    names = [path.name for path in write(record, tmp_path)]
    assert len(set(names)) == len(names) == 5


def test_a_plan_without_a_readable_balance_is_still_shown(tmp_path: Path) -> None:
    loose = replace(MADE, plan=replace(MADE.plan, balance="the old brass scales", container="a blue jar"))
    paths = write(replace(RECORD, batches=(loose,)), tmp_path)
    assert "the old brass scales" in paths[-1].read_text(encoding="utf-8")
    assert '<data value="38.23">38.23</data>' in paths[-1].read_text(encoding="utf-8")
