"""Sizes held against general unit libraries and programs, and where those answer wrong or without regard to the year.

pint, UCUM (by way of ucumvert) and GNU units know today's units; each is right for what it names, and each is asked
here what a page prints. The table in DEVELOPERS.md is what they answer, measured, not typed.
"""

import os
import shutil
import subprocess
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pint
import pytest
from ucumvert import PintUcumRegistry

from reconlab.errors import ReconlabError
from reconlab.measures import convert
from reconlab.reasons import figure
from reconlab.tables import Measure, by_id

# our measure -> (pint, UCUM, GNU units): what each calls the same thing
SHARED = {
    "grain": ("grain", "[gr]", "grain"),
    "scruple_apothecaries": ("scruple", "[sc_ap]", "apscruple"),
    "drachm_apothecaries": ("apothecary_dram", "[dr_ap]", "apdram"),
    "ounce_troy": ("apothecary_ounce", "[oz_ap]", "apounce"),
    "pound_troy": ("apothecary_pound", "[lb_ap]", "appound"),
    "dram_avoirdupois": ("dram", "[dr_av]", "dram"),
    "ounce_avoirdupois": ("ounce", "[oz_av]", "ounce"),
    "pound_avoirdupois": ("pound", "[lb_av]", "pound"),
    "hundredweight_imperial": ("UK_hundredweight", "[lcwt_av]", "brhundredweight"),
    "minim_imperial": ("imperial_minim", "[min_br]", "brminim"),
    "fluid_drachm_imperial": ("imperial_fluid_drachm", "[fdr_br]", "brdram"),
    "fluid_ounce_imperial": ("imperial_fluid_ounce", "[foz_br]", "brfluidounce"),
    "gill_imperial": ("imperial_gill", "[gil_br]", "brgill"),
    "pint_imperial": ("imperial_pint", "[pt_br]", "brpint"),
    "quart_imperial": ("imperial_quart", "[qt_br]", "brquart"),
    "gallon_imperial": ("imperial_gallon", "[gal_br]", "brgallon"),
    "minim_wine": ("minim", "[min_us]", "minim"),
    "fluid_drachm_wine": ("fluid_dram", "[fdr_us]", "fluiddram"),
    "fluid_ounce_wine": ("fluid_ounce", "[foz_us]", "usfluidounce"),
    "gill_wine": ("gill", "[gil_us]", "usgill"),
    "pint_wine": ("pint", "[pt_us]", "uspint"),
    "quart_wine": ("quart", "[qt_us]", "usquart"),
    "gallon_wine": ("gallon", "[gal_us]", "usgallon"),
}
DIGITS = 12  # GNU units prints so many, and floats of the others hold them
GNU_VERSION = "2.22"  # another may know other words: then its column is not compared
MISSING = "the program GNU units is not installed"


@cache
def ucum() -> PintUcumRegistry:
    return PintUcumRegistry()


@pytest.fixture(scope="module")
def gnu() -> Callable[[str, str], str | None]:
    """Give a function that asks GNU units, as installed, for an amount in grams or millilitres."""
    program = shutil.which("units")
    if program is None and os.environ.get("CI") == "true":
        pytest.fail(f"{MISSING}; .ci/run installs it")
    if program is None:
        pytest.skip(MISSING)

    def ask(amount: str, unit: str) -> str | None:
        command = [program, "--terse", "--locale", "en_US", "--output-format", f"%.{DIGITS}g", "--", amount, unit]
        ran = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False)
        first = ran.stdout.strip().splitlines()[0] if ran.stdout.strip() else ""
        return first if ran.returncode == 0 and first.replace(".", "").replace("e-", "").isdigit() else None

    return ask


def gnu_version() -> str:
    ran = subprocess.run(["units", "--version"], capture_output=True, text=True, check=False)  # noqa: S607
    return ran.stdout


def digits(number: float) -> str:
    return f"{number:.{DIGITS}g}"


@pytest.mark.parametrize("key", SHARED)
def test_pint_and_ucum_have_the_same_size_to_the_last_digit(key: str) -> None:
    row, (in_pint, in_ucum, _) = by_id(Measure)[key], SHARED[key]
    unit = "gram" if row.kind == "mass" else "milliliter"
    assert digits(pint.Quantity(1, in_pint).to(unit).magnitude) == digits(float(row.size))
    assert digits(ucum().from_ucum(in_ucum).to(unit).magnitude) == digits(float(row.size))


@pytest.mark.parametrize("key", SHARED)
def test_gnu_units_has_the_same_size_to_the_last_digit(key: str, gnu: Callable[[str, str], str | None]) -> None:
    row = by_id(Measure)[key]
    assert gnu(SHARED[key][2], "g" if row.kind == "mass" else "ml") == digits(float(row.size))


# What a page prints, where and when it was printed, what it comes to (its source stands in test_measures.py), and the
# UCUM codes a person may choose among for the unit; UCUM reads no printed words and adds no two units.
ASKED = [
    ("2 \N{OUNCE SIGN}", "1890", "England", "62.2 g", "2 [oz_ap], 2 [oz_av]"),
    ("1½ oz", "1890", "England", "42.5 g", "1.5 [oz_av], 1.5 [oz_ap]"),
    ("2 lb 3 oz", "1890", "England", "992 g", ""),
    ("3 dr", "1890", "England", "11.7 g", "3 [dr_ap], 3 [dr_av]"),
    ("3 drachms", "1855", "Dublin", "10.6 g", "3 [dr_ap], 3 [dr_av]"),
    ("2 fl oz", "1890", "England", "56.8 mL", "2 [foz_br], 2 [foz_us]"),
    ("min 5", "1890", "England", "0.296 mL", "5 [min_br], 5 [min_us]"),
    ("1 pint", "1800", "London", "473 mL", "1 [pt_us], 1 [pt_br]"),
    ("1 pint", "1890", "London", "568 mL", "1 [pt_br], 1 [pt_us]"),
]


def here(text: str, years: str, place: str) -> str:
    book = "dispensing" if place == "Dublin" else ""
    chosen = convert(text, years=years, place=place, book=book).chosen
    return f"{figure(chosen.volume_ml)} mL" if chosen.mass_g is None else f"{figure(chosen.mass_g)} g"


def in_words(quantity: pint.Quantity) -> str:
    for unit, words in (("gram", "g"), ("milliliter", "mL")):
        if quantity.is_compatible_with(unit):
            return f"{figure(quantity.to(unit).magnitude)} {words}"
    return f"{quantity.magnitude:g} {quantity.units:P}".strip()


def of_pint(text: str) -> str:
    try:
        return in_words(pint.Quantity(text))
    except Exception:  # noqa: BLE001 - whatever it refuses with
        return "refused"


def of_ucum(codes: str) -> str:
    each = [code.split() for code in filter(None, codes.split(", "))]
    said = [f"`{unit}` {in_words(float(number) * ucum().from_ucum(unit))}" for number, unit in each]
    return " or ".join(said) or "no code for a sum"


def of_gnu(text: str, gnu: Callable[[str, str], str | None]) -> str:
    for unit, words in (("g", "g"), ("ml", "mL")):
        if found := gnu(text, unit):
            return f"{figure(float(found))} {words}"
    return "refused, or something else"


@pytest.mark.parametrize(("text", "years", "place", "expected", "codes"), ASKED)
def test_what_a_page_prints_comes_to_what_it_meant_there_and_then(
    text: str, years: str, place: str, expected: str, codes: str
) -> None:
    assert here(text, years, place) == expected
    assert not codes or expected in of_ucum(codes) or place == "Dublin"  # no code knows the Dublin drachm


def test_the_table_of_wrong_answers_is_what_the_libraries_answer(
    project: Path, gnu: Callable[[str, str], str | None]
) -> None:
    heads = ("printed", "where", "here", "pint", "UCUM, by the code chosen", "GNU units")
    rows = [
        (text, f"{place} {years}", here(text, years, place), of_pint(text), of_ucum(codes), of_gnu(text, gnu))
        for text, years, place, _, codes in ASKED
    ]
    lines = [f"| {' | '.join(row)} |" for row in (heads, tuple("---" for _ in heads), *rows)]
    printed = (project / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines()
    for line, row in zip(lines, (heads, heads, *rows), strict=True):
        kept = line if GNU_VERSION in gnu_version() else line.removesuffix(f" {row[-1]} |")
        assert any(one.startswith(kept) for one in printed), "put this table there:\n" + "\n".join(lines)
    for _, _, ours, *theirs in rows:  # each row earns its place: someone answers it otherwise
        assert any(ours not in answer or " or " in answer for answer in theirs)


@pytest.mark.parametrize("text", ["10 ft. of string", "1 d", "∞ oz"])
def test_what_a_library_takes_for_something_else_is_refused(text: str) -> None:
    # pint: feet, a day. Here no weight comes of any of them.
    with pytest.raises(ReconlabError):
        convert(text, years="1890", place="England")


def test_drachmas_of_a_thing_nobody_knows_are_left_open() -> None:
    # GNU units: Greek currency.
    assert convert("3 drachmas of silver coin", years="1890", place="England").chosen is None
