"""Hold the shell to its promises: the same as the library, as text or JSON, and never a traceback."""

import csv
import json
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from unittest import mock

import pytest
from click.testing import CliRunner
from hypothesis import example, given
from hypothesis import strategies as st

import reconlab
from reconlab import cli
from reconlab.record import open_record
from reconlab.screening import RESEARCH_AID

ZINC = ("--version", "zinc for lead")
WEIGHED = ("--make", "50 g", "--balance", "0.01 g")
PAGE = "Violet powder.\nStarch, 10 oz.\nOrris root, 2 oz.\nOil of lemon, 20 drops.\n"
SETTING = ("--year", "1911", "--place", "England")
NUMBER = {"value", "low", "high", "unit"}
AS_PRINTED = {"value", "low", "high", "printed"}  # an amount of the page has words, and no unit of ours


@dataclass(frozen=True)
class Ran:
    """What a run at the shell gave."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> dict[str, object]:
        return json.loads(self.out, parse_constant=pytest.fail)  # NaN and Infinity are no JSON

    @property
    def result(self) -> dict[str, object]:
        return self.json["result"]


def shell(*words: str, piped: str | bytes = "") -> Ran:
    """Run the program as the shell does, errors and exit code with it; what is no clean exit fails the test."""
    with CliRunner().isolation(input=piped) as (out, err, _), mock.patch.object(sys, "argv", ["reconlab", *words]):
        code = 0
        try:
            cli.main()
        except SystemExit as left:
            code = int(left.code or 0)
        sys.stdout.flush()
        sys.stderr.flush()
        return Ran(code, out.getvalue().decode(), err.getvalue().decode())


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory, project: Path) -> Path:
    """Return a folder with the demo's records, a page and a label."""
    made = tmp_path_factory.mktemp("shell")
    for record in (project / "notebooks" / "demo").glob("*.yaml"):
        (made / record.name).write_bytes(record.read_bytes())
    (made / "violet.txt").write_text(open_record(made / "pellsea-violet-powder.yaml").transcription, encoding="utf-8")
    (made / "cream.csv").write_text(
        "ingredient,percent_w_w\nalmond oil,55\nwhite beeswax,15\nwater,29\nborax,1\n", encoding="utf-8"
    )
    (made / "names.csv").write_text("name,year,place\nflake white,1911,England\nmoonstuff,,\n", encoding="utf-8")
    (made / "amounts.csv").write_text('text,year,place\n1 oz.,1890,England\n"ʒiij",1890,England\n', encoding="utf-8")
    return made


@pytest.fixture(autouse=True)
def at_home(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder)


EVERY_VERB = {
    "convert": ("convert", "ʒiij", "--year", "1890", "--place", "England"),
    "convert --file": ("convert", "--file", "amounts.csv"),
    "read": ("read", "violet.txt", *SETTING),
    "identify": ("identify", "flake white", *SETTING),
    "identify --file": ("identify", "--file", "names.csv"),
    "reconstruct": ("reconstruct", "violet.txt", *SETTING, "--form", "violet powder", "--law", "EU"),
    "reconstruct record": ("reconstruct", "parade-white.yaml"),
    "screen": ("screen", "cream.csv", "--form", "cold cream", "--law", "EU", "--on", "2026-11-01"),
    "screen record": ("screen", "parade-white.yaml"),
    "substitutes": ("substitutes", "spermaceti", "--form", "cold cream", "--law", "EU"),
    "bench": ("bench", "parade-white.yaml", *ZINC, *WEIGHED, "--jar", "60 mL"),
    "bench refused": ("bench", "parade-white.yaml", *WEIGHED),
    "compare": ("compare", "parade-white.yaml", "literal", "zinc for lead"),
    "write": ("write", "pier-water.yaml", "--to", "pages"),
    "check": ("check", "parade-white.yaml", "pier-water.yaml"),
    "tables": ("tables",),
    "demo": ("demo", "--to", "my-demo"),
}
KEYS = {
    "convert": {"chosen", "others", "density_used"},
    "read": {"receipts", "questions"},
    "identify": {"candidates", "settles_by", "cautions"},
    "reconstruct": {"title", "version", "substances", "unweighed", "questions", "open", "findings", "cautions"},
    "screen": {"findings", "not_looked_up"},
    "substitutes": {"substitutes"},
    "bench": {"refused", "instead", "lines", "unweighed", "law", "doubts", "container", "cautions"},
    "compare": {"versions", "substances", "changes", "stops"},
    "write": {"written"},
    "check": {"records"},
    "tables": {"tables", "overlay"},
    "demo": {"written"},
}


def inside(found: object) -> Iterator[object]:
    """Yield everything inside a JSON document."""
    yield found
    for part in found.values() if isinstance(found, dict) else found if isinstance(found, list) else ():
        yield from inside(part)


# Every verb, as text and as JSON.


@pytest.mark.parametrize("words", EVERY_VERB.values(), ids=EVERY_VERB)
def test_every_verb_says_something_in_text(words: tuple[str, ...]) -> None:
    ran = shell(*words)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.strip()


@pytest.mark.parametrize("name", EVERY_VERB)
def test_every_verb_gives_one_json_document_of_the_same_make(name: str) -> None:
    ran = shell(*EVERY_VERB[name], "--json")
    assert ran.code == 0
    assert list(ran.json) == ["reconlab", "format", "asked", "result", "notes", "citations"]
    assert ran.json["reconlab"] == reconlab.__version__
    assert ran.json["format"] == 1
    results = ran.result if isinstance(ran.result, list) else [ran.result]
    for result in results:
        assert set(result) == KEYS[name.split(maxsplit=1)[0]]


@pytest.mark.parametrize("name", EVERY_VERB)
def test_every_source_named_has_its_citation_in_words(name: str) -> None:
    document = shell(*EVERY_VERB[name], "--json").json
    named = {key for part in inside(document["result"]) if isinstance(part, dict) for key in part.get("sources", ())}
    assert named <= set(document["citations"])
    for key, citation in document["citations"].items():
        assert set(citation) == {"text", "from_memory"}
        assert len(citation["text"]) > 5
        assert citation["from_memory"] == key.startswith("from_memory")


@pytest.mark.parametrize("name", sorted(set(EVERY_VERB) - {"tables"}))  # there the numbers are counts
def test_a_number_is_always_given_with_its_range_and_unit(name: str) -> None:
    for part in inside(shell(*EVERY_VERB[name], "--json").result):
        if not isinstance(part, dict):
            continue
        if {"value", "low", "high"} <= set(part):
            assert set(part) in (NUMBER, AS_PRINTED)
            assert part["low"] is None or part["value"] is None or part["low"] <= part["value"] <= part["high"]
            assert part.get("unit", "g") in ("g", "mL", "g_per_mL", "percent_w_w", "part", "1")
        else:
            assert not [key for key, number in part.items() if isinstance(number, float)]


@pytest.mark.parametrize("name", ["reconstruct", "compare"])
def test_figures_are_not_rounded(name: str) -> None:
    substances = shell(*EVERY_VERB[name], "--json").result["substances"]
    shares = [s["share"] if "share" in s else s["shares"][0] for s in substances if s["certain"]]
    assert sum(share["value"] for share in shares if share) == pytest.approx(100, abs=1e-9)


# NIST Handbook 44, Appendix C: 1 dram apothecaries = 60 grains of 64.79891 mg; three of them are 11.6638038 g.
def test_three_drachms_by_their_sign_are_those_of_nist_handbook_44() -> None:
    chosen = shell("convert", "ʒiij", "--year", "1890", "--place", "England", "--json").result["chosen"]
    assert chosen["mass"]["unit"] == "g"
    assert chosen["mass"]["value"] == pytest.approx(11.6638038, rel=1e-12)
    assert chosen["because"]
    assert chosen["sources"]


def test_without_year_and_place_every_answer_is_shown_and_none_is_chosen() -> None:
    ran = shell("convert", "1 oz.", "--json")
    assert ran.code == 0
    assert ran.result["chosen"] is None
    assert len(ran.result["others"]) > 1
    assert {other["standing"] for other in ran.result["others"]} <= {"likely", "possible", "unlikely"}
    assert ran.json["notes"]


def test_a_line_as_read_has_the_words_of_the_design() -> None:
    lines = shell("read", "-", "--json", piped=PAGE).result["receipts"][0]["lines"]
    line = next(line for line in lines if line["items"])
    assert set(line) == {"id", "text", "kind", "unread", "items"}
    item = line["items"][0]
    assert {
        "name",
        "preparation",
        "strength",
        "purpose",
        "each",
        "certain",
        "relative_to",
        "quantities",
        "spans",
    } <= set(item)
    part = item["quantities"][0]["parts"][0]
    assert set(part["amount"]) == AS_PRINTED
    assert part["unit"] == "ounce"
    for spans in item["spans"].values():
        for start, end in spans:
            assert line["text"][start:end].strip()


def test_a_candidate_has_the_words_of_the_design() -> None:
    result = shell(*EVERY_VERB["identify"], "--json").result
    assert {c["substance"] for c in result["candidates"]} == {"white_lead", "bismuth_subnitrate"}
    for candidate in result["candidates"]:
        assert set(candidate) == {
            "substance", "kind", "name", "inci", "cas", "standing", "found_by", "part_of_plant", "strength", "because",
            "sources",
        }  # fmt: skip
    assert any("never handled" in words for words in result["cautions"])


def test_a_finding_has_the_words_of_the_design() -> None:
    findings = shell(*EVERY_VERB["screen"], "--json").result["findings"]
    first = findings[0]
    assert set(first) == {
        "substance", "rule", "here", "gate", "law", "found", "limit", "reckoned_as", "entry", "law_read_as_of",
        "conditions", "warnings", "if_it_is", "because", "sources",
    }  # fmt: skip
    assert (first["substance"], first["rule"], first["here"], first["gate"]) == (
        "borax",
        "forbidden",
        "not allowed",
        "law",
    )
    assert first["found"] == {"value": 1.0, "low": 1.0, "high": 1.0, "unit": "percent_w_w"}
    assert first["law_read_as_of"] == "2026-08-18"
    assert first["limit"] is None


def test_the_use_asked_about_and_the_day_are_kept_in_the_answer() -> None:
    asked = shell("screen", "cream.csv", "--form", "cold cream", "--law", "EU", "--json").json["asked"]
    assert (asked["form"], asked["law"]) == ("cold cream", "EU")
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", asked["on"])  # today, where no day is given


def test_what_is_given_here_goes_before_what_the_record_says() -> None:
    ran = shell("reconstruct", "borax-cold-cream.yaml", "--law", "US", "--json")
    assert {f["law"] for f in ran.result["findings"] if f["gate"] != "never handled"} == {"US"}


def test_a_refusal_at_the_bench_is_an_answer_and_not_an_error() -> None:
    ran = shell(*EVERY_VERB["bench refused"], "--json")
    assert ran.code == 0
    assert ran.result["refused"][0]["gate"] == "never handled"
    assert ran.result["instead"]
    assert ran.result["lines"] == []


def test_the_last_line_of_care_stands_under_every_plan() -> None:
    for name in ("reconstruct", "screen", "bench", "bench refused", "demo"):
        assert RESEARCH_AID in shell(*EVERY_VERB[name]).out


# Partial results, and --strict.


@pytest.mark.parametrize(
    ("words", "piped"),
    [
        (("read", "-"), "Starch, 3 oz.\nStarch, powdred, blorped, 3 oz. of xx yy 4 5 6\n"),
        (("reconstruct", "-"), "Starch, 3 oz.\nFlowers of Jupiter, 1 oz.\n"),
        (("convert", "1 oz."), ""),
        (("identify", "moonstuff"), ""),
        (("screen", "cream.csv", "--form", "cold cream", "--law", "US"), ""),
    ],
)
def test_a_partial_result_exits_with_0_and_with_1_where_strict(words: tuple[str, ...], piped: str) -> None:
    assert shell(*words, piped=piped).code == 0
    assert shell(*words, "--strict", piped=piped).code == 1
    strict = shell(*words, "--strict", "--json", piped=piped)
    assert strict.code == 1
    assert strict.result


def test_a_whole_result_exits_with_0_though_strict() -> None:
    assert shell(*EVERY_VERB["convert"], "--strict").code == 0
    assert shell(*EVERY_VERB["identify"], "--strict").code == 0


def test_a_table_of_amounts_comes_back_as_a_table_with_each_fault_in_its_row(tmp_path: Path) -> None:
    # England 1890: 1 oz. in trade is 28.349523125 g; a pint of 16 fluid ounces 473.176473 mL
    given = tmp_path / "amounts.csv"
    given.write_text("text,years,rule\n1 oz.,,\n1 pint,,the pint is of 16 ounces\nmuch,,\n@1 oz.,,\n", encoding="utf-8")
    ran = shell("convert", "--csv", str(given), "--year", "1890", "--place", "England", "--book", "trade")
    assert ran.code == 0
    found = list(csv.DictReader(ran.out.splitlines()))
    assert [float(row["mass_g"]) for row in found[:1]] == [pytest.approx(28.349523125)]
    assert float(found[1]["volume_ml"]) == pytest.approx(473.176473)
    assert "is not an amount" in found[2]["fault"]
    assert found[3]["text"] == "'@1 oz."  # a spreadsheet would run it
    assert shell("convert", "--csv", str(given), "--strict").code == 1
    assert shell("convert", "--csv", "nosuch.csv").code == 2
    assert shell("convert", "--csv", str(given), "--json").code == 2


def test_the_authors_rule_and_the_texts_year_are_options_of_every_verb_that_reads() -> None:
    ruled = shell("convert", "1 pint", "--rule", "the pint is of 16 ounces", "--json").result
    assert ruled["chosen"]["volume"]["value"] == pytest.approx(473.176473)
    reprint = shell("convert", "1 pint", "--year", "1890", "--place", "England", "--text-year", "1820", "--json").result
    assert reprint["chosen"]["volume"]["value"] == pytest.approx(473.176473)
    piped = "Violet powder\nStarch, 10 oz.\nOrris root, 2 oz.\n"
    troy = shell("reconstruct", "-", "--rule", "all weights troy", "--json", piped=piped).result
    masses = {one["substance"]: one["mass"]["value"] for one in troy["substances"]}
    assert masses["orris_root"] == pytest.approx(2 * 31.1034768)
    assert shell("read", "-", "--rule", "as usual", piped=piped).code == 2
    assert shell("identify", "talc", "--text-year", "soon").code == 2


# What is given wrongly: one message, exit code 2, and with --json one object.

WRONG = {
    "missing file": ("read", "nosuch.txt"),
    "a folder": ("read", "."),
    "missing record": ("check", "nosuch.yaml"),
    "record is a folder": ("check", "."),
    "missing csv": ("screen", "nosuch.csv", "--form", "cold cream"),
    "unknown unit": ("convert", "3 blorps"),
    "nothing to convert": ("convert",),
    "empty amount": ("convert", ""),
    "negative amount": ("convert", "-3 oz."),
    "absurd amount": ("convert", "9" * 5000 + " oz."),
    "year in the far future": ("convert", "1 oz.", "--year", "99999"),
    "year that is none": ("convert", "1 oz.", "--year", "soon"),
    "years the wrong way round": ("convert", "1 oz.", "--year", "1890-1880"),
    "unknown place": ("convert", "1 oz.", "--place", "Atlantis"),
    "unknown book": ("convert", "1 oz.", "--book", "novel"),
    "unknown substance": ("substitutes", "moonstuff"),
    "rule not understood": ("convert", "1 fl. oz.", "--rule", "ounces of the moon"),
    "minims of a solid": ("convert", "3 minims", "--of", "talc"),
    "no name": ("identify",),
    "unknown form": ("screen", "cream.csv", "--form", "toast"),
    "no form": ("screen", "cream.csv", "--law", "EU"),
    "unknown law": ("screen", "cream.csv", "--form", "cold cream", "--law", "FR"),
    "unknown law for substitutes": ("substitutes", "talc", "--form", "cold cream", "--law", "FR"),
    "law without a form": ("substitutes", "talc", "--law", "EU"),
    "day that is none": ("screen", "cream.csv", "--form", "cold cream", "--law", "EU", "--on", "2026-13-45"),
    "unknown to substitute": ("substitutes", "moonstuff"),
    "unknown version": ("bench", "parade-white.yaml", "--version", "nosuch", *WEIGHED),
    "batch without a unit": ("bench", "parade-white.yaml", *ZINC, "--make", "50", "--balance", "0.01 g"),
    "batch below nought": ("bench", "parade-white.yaml", *ZINC, "--make", "-3 g", "--balance", "0.01 g"),
    "batch in ounces": ("bench", "parade-white.yaml", *ZINC, "--make", "3 oz", "--balance", "0.01 g"),
    "batch without end": ("bench", "parade-white.yaml", *ZINC, "--make", "9" * 400 + " g", "--balance", "0.01 g"),
    "jar by weight": ("bench", "parade-white.yaml", *ZINC, *WEIGHED, "--jar", "60 g"),
    "one version": ("compare", "parade-white.yaml", "literal"),
    "folder is a file": ("write", "pier-water.yaml", "--to", "cream.csv"),
    "demo onto a file": ("demo", "--to", "cream.csv"),
    "missing overlay": ("--overlay", "nosuch", "tables"),
    "unknown verb": ("transmute",),
    "unknown option": ("tables", "--gold"),
    "option without its value": ("convert", "1 oz.", "--year"),
    "missing argument": ("read",),
    "missing option": ("bench", "parade-white.yaml"),
}  # fmt: skip


@pytest.mark.parametrize("words", WRONG.values(), ids=WRONG)
def test_what_is_given_wrongly_is_one_message_or_one_object_and_exit_code_2(words: tuple[str, ...]) -> None:
    ran = shell(*words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("reconlab: ")
    for_programs = shell(*words, "--json")
    assert (for_programs.code, list(for_programs.json)) == (2, ["error"])
    error = for_programs.json["error"]
    assert set(error) == {"found", "where", "remedy"}
    assert error["found"]
    assert error["remedy"]


BAD_FILES = {
    "empty page": ("read", "bad.txt", b""),
    "blank page": ("read", "bad.txt", b" \n\t\n"),
    "undecodable page": ("read", "bad.txt", b"Starch, \xff\xfe 3 oz."),
    "page in the code of DOS": ("read", "bad.txt", "Cr\N{LATIN SMALL LETTER E WITH GRAVE}me, 3 oz.".encode("cp850")),
    "Word document": ("read", "bad.docx", b"PK\x03\x04\x14\x00\x06\x00"),
    "PDF": ("read", "bad.pdf", b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"),
    "rich text": ("read", "bad.rtf", b"{\\rtf1\\ansi Starch, 3 oz.}"),
    "story": ("read", "bad.txt", b"They drank two glasses of wine, and he ate half a pound of cherries."),
    "web page": ("read", "bad.txt", b"<!DOCTYPE html><html><body><p>Starch, 3 oz.</p></body></html>"),
    "picture": ("read", "bad.txt", b"\x89PNG\r\n\x1a\n\x00\x00"),
    "empty record": ("check", "bad.yaml", b""),
    "open bracket": ("check", "bad.yaml", b"format: 1\ntitle: [a, b"),
    "tab": ("check", "bad.yaml", b"format: 1\n\ttitle: x"),
    "tags": ("check", "bad.yaml", b'!!python/object/apply:os.system ["true"]\n'),
    "aliases": ("check", "bad.yaml", b"format: 1\na: &a [x]\nb: [*a, *a]\n"),
    "deep": ("check", "bad.yaml", b"format: 1\na: " + b"[" * 50_000),
    "unknown key": ("check", "bad.yaml", b"format: 1\ntitel: x\n"),
    "other format": ("check", "bad.yaml", b"format: 99\ntitle: x\n"),
    "a list": ("check", "bad.yaml", b"- format: 1\n"),
    "web page as record": ("check", "bad.yaml", b"<html></html>"),
    "undecodable record": ("check", "bad.yaml", b"format: 1\ntitle: \xff\n"),
    "empty csv": ("screen", "bad.csv", b""),
    "csv without rows": ("screen", "bad.csv", b"ingredient,percent_w_w\n"),
    "csv without its columns": ("screen", "bad.csv", b"name,share\ntalc,100\n"),
    "csv with a negative share": ("screen", "bad.csv", b"ingredient,percent_w_w\ntalc,-3\n"),
    "csv with words for a share": ("screen", "bad.csv", b"ingredient,percent_w_w\ntalc,much\n"),
    "csv over a hundred": ("screen", "bad.csv", b"ingredient,percent_w_w\ntalc,90\nkaolin,40\n"),
    "csv without a name": ("screen", "bad.csv", b"ingredient,percent_w_w\n,50\ntalc,50\n"),
    "csv with too few cells": ("screen", "bad.csv", b"ingredient,percent_w_w\ntalc\n"),
    "csv with a huge cell": ("screen", "bad.csv", b"ingredient,percent_w_w\n" + b"x" * 200_000 + b",3\n"),
}


@pytest.mark.parametrize(("verb", "name", "content"), BAD_FILES.values(), ids=BAD_FILES)
def test_a_bad_file_is_one_object_that_names_the_fault(tmp_path: Path, verb: str, name: str, content: bytes) -> None:
    bad = tmp_path / name
    bad.write_bytes(content)
    more = ("--form", "cold cream", "--law", "EU") if verb == "screen" else ()
    ran = shell(verb, str(bad), *more, "--json")
    assert ran.code == 2
    assert set(ran.json["error"]) == {"found", "where", "remedy"}
    assert bad.read_bytes() == content  # nothing is lost by a wrong guess


def test_a_page_may_be_piped_in() -> None:
    assert shell("read", "-", piped=PAGE).out == shell("read", "-", piped="\ufeff" + PAGE).out
    assert "Violet powder" in shell("reconstruct", "-", *SETTING, piped=PAGE).out
    assert shell("read", "-", "--json", piped=b"\xff").code == 2


def test_a_cell_of_a_csv_may_hold_a_comma_and_a_line_break(tmp_path: Path) -> None:
    table = tmp_path / "names.csv"
    table.write_text('name,note\n"flake white","bought\nin Pellsea, 1911"\ntalc,\n', encoding="utf-8")
    assert len(shell("identify", "--file", str(table), "--json").result) == 2


def test_the_bare_word_and_help_say_what_there_is() -> None:
    bare, asked = shell(), shell("--help")
    assert asked.code == 0
    assert bare.out.strip() == asked.out.strip()
    for verb in cli.shell.commands:
        assert verb in asked.out
    assert reconlab.__version__ in shell("--version").out


# The example in each verb's help runs as it stands.


@pytest.mark.parametrize("verb", sorted(cli.shell.commands))
def test_the_example_in_the_help_runs_as_it_is_printed(verb: str) -> None:
    said = re.findall(r"^\s*Example: reconlab (.*)$", shell(verb, "--help").out, flags=re.MULTILINE)
    assert len(said) == 1
    words = shlex.split(said[0])
    assert words[0] == verb
    ran = shell(*words)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.strip()


# Whatever is typed.

anything = st.text(max_size=40) | st.text(alphabet="0123456789½¼/.,- ʒ℥℞ijvxss oz.drlbfpt", max_size=40)


@given(text=anything)
@example(text="\x00")
@example(text="1/0 oz.")
@example(text="3½½ oz")
@example(text="--json")
def test_any_text_to_convert_gives_an_answer_or_a_message(text: str) -> None:
    ran = shell("convert", "--json", "--", text)
    assert ran.code in (0, 2)
    assert set(ran.json) & {"result", "error"}


@given(text=anything)
@example(text="<html>")
def test_any_text_to_read_gives_an_answer_or_a_message(text: str) -> None:
    ran = shell("read", "-", "--json", piped=text)
    assert ran.code in (0, 2)
    assert set(ran.json) & {"result", "error"}


@given(text=anything)
def test_any_text_to_reconstruct_gives_an_answer_or_a_message(text: str) -> None:
    assert shell("reconstruct", "-", "--json", piped=f"Starch, 3 oz.\n{text}").code in (0, 2)


@given(text=anything)
@example(text="")
def test_any_text_to_identify_gives_an_answer_or_a_message(text: str) -> None:
    ran = shell("identify", "--json", "--", text)
    assert ran.code in (0, 2)
    assert set(ran.json) & {"result", "error"}


# The program itself.


def program(*words: str, **how: object) -> subprocess.CompletedProcess[bytes]:
    start = "from reconlab.cli import main; main()"
    return subprocess.run([sys.executable, "-c", start, *words], capture_output=True, check=False, **how)


def test_the_program_exits_as_promised() -> None:
    good = program("convert", "ʒiij", "--year", "1890", "--place", "England")
    assert (good.returncode, good.stderr) == (0, b"")
    assert "11.7 g" in good.stdout.decode()
    bad = program("convert", "3 blorps", "--json")
    assert (bad.returncode, bad.stderr) == (2, b"")
    assert set(json.loads(bad.stdout)) == {"error"}


def test_bytes_that_are_no_text_and_a_poor_terminal_give_no_traceback() -> None:
    ran = program("identify", "flake \udcff white", "--json", env={"PYTHONIOENCODING": "ascii"})
    assert ran.returncode in (0, 2)
    assert b"Traceback" not in ran.stderr


def test_a_reader_that_goes_away_is_no_fault_of_ours() -> None:
    start = [sys.executable, "-c", "from reconlab.cli import main; main()", "tables", "--json"]
    with subprocess.Popen(start, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        running.stdout.close()
        assert running.stderr.read() == b""


def test_a_mistyped_option_of_convert_is_named_with_the_nearest() -> None:
    found = shell("convert", "1 oz.", "--yaer", "1880")
    assert found.code == 2
    assert "--year" in found.err


def test_a_bad_row_is_named_and_the_others_are_answered(tmp_path: Path) -> None:
    table = tmp_path / "quantities.csv"
    table.write_text("text,year,place\n1 pint,1880,London\n5 blorp,1880,London\n", encoding="utf-8")
    found = shell("convert", "--file", str(table))
    assert "1 pint: 568 mL" in found.out
    assert "row 2, 5 blorp" in found.err
