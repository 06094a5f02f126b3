"""The only door to pint: closed lists on both sides of it."""

import pickle
import subprocess
import sys
from contextlib import suppress

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reconlab.errors import InputError, ReconlabError
from reconlab.units import MODERN, PINT_NAMES, modern, quantity


@pytest.mark.parametrize(
    ("unit", "to", "number"),
    [
        ("g", "milligram", 1000.0),
        ("mL", "liter", 0.001),
        ("mg", "gram", 0.001),
        ("g/mL", "kilogram / liter", 1.0),
        ("% w/w", "dimensionless", 0.01),
        ("part", "dimensionless", 1.0),
        ("1", "dimensionless", 1.0),
    ],
)
def test_each_unit_of_ours_is_the_one_pint_means(unit: str, to: str, number: float) -> None:
    assert quantity(1.0, unit).to(to).magnitude == pytest.approx(number, rel=1e-12)


def test_every_unit_of_ours_is_tried_above() -> None:
    assert set(PINT_NAMES) == {"g", "mL", "mg", "g/mL", "% w/w", "part", "1"}


def test_a_quantity_belongs_to_the_registry_the_person_works_with() -> None:
    ours, theirs = quantity(1.5, "g"), pint.Quantity(500, "milligram")
    assert (ours + theirs).to("gram").magnitude == pytest.approx(2.0)
    assert pickle.loads(pickle.dumps(ours)) == ours  # noqa: S301 - our own bytes


@pytest.mark.parametrize("unit", ["", "gram", "oz", "fl oz", "G", "g ", "percent"])
def test_no_other_unit_goes_through(unit: str) -> None:
    with pytest.raises(InputError, match="is not one the library makes"):
        quantity(1.0, unit)


@pytest.mark.parametrize(
    ("text", "kind", "wanted"),
    [
        ("60 mL", "volume", 60.0),
        ("60ml", "volume", 60.0),
        ("0,5 kg", "mass", 500.0),
        (" 2.5 g ", "mass", 2.5),
        ("10 mg", "mass", 0.01),
        ("5 cL", "volume", 50.0),
        ("0.25 L", "volume", 250.0),
    ],
)
def test_modern_amounts_are_read_in_grams_and_millilitres(text: str, kind: str, wanted: float) -> None:
    assert modern(text, kind) == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["", "60", "mL", "-5 g", "0 g", "0.0 g", "1e3 g", "2 oz", "2 fl oz", "½ g", "5 g 2 mg"]
)
@pytest.mark.parametrize("kind", ["mass", "volume"])
def test_anything_else_is_refused_with_the_units_that_are_read(text: str, kind: str) -> None:
    with pytest.raises(InputError) as refused:
        modern(text, kind)
    named = [unit for unit, (unit_kind, _) in MODERN.items() if unit_kind == kind]
    assert all(unit in refused.value.remedy for unit in named)


def test_a_mass_is_no_volume() -> None:
    with pytest.raises(InputError, match="is not a modern volume"):
        modern("60 g", "volume")
    with pytest.raises(InputError, match="is not a modern mass"):
        modern("60 mL", "mass")


@given(st.text(max_size=20), st.sampled_from(["mass", "volume"]))
def test_any_text_is_an_amount_above_zero_or_an_error_of_ours(text: str, kind: str) -> None:
    with suppress(ReconlabError):
        assert modern(text, kind) > 0


def test_pint_is_loaded_only_when_a_quantity_is_made() -> None:
    # Whoever makes no quantity must not wait for it: the import alone takes some tenths of a second.
    program = (
        "import sys, reconlab.units as u; u.modern('5 g', 'mass'); print('pint' in sys.modules); "
        "u.quantity(1, 'g'); print('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "True"]
