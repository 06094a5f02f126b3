"""Whole columns of printed quantities, and the factor of one unit: the same answers as `convert`, many at a time."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import mul
from pathlib import Path
from typing import TYPE_CHECKING

from reconlab.errors import FileError, InputError, ReconlabError
from reconlab.measures.conversion import (
    Conversion,
    amount_figures,
    amount_words,
    answered,
    converted,
    fluid_of,
    named,
)
from reconlab.measures.own_rule import check_rule
from reconlab.measures.printed import DOUBTFUL, gramme_standing
from reconlab.measures.readings import Reading, Units, place_of_chosen, readings, units_of
from reconlab.measures.sizes import parse_quantity
from reconlab.reasons import Value
from reconlab.receipts import Setting
from reconlab.units import LARGEST

if TYPE_CHECKING:
    import pandas as pd

ASKED = ("years", "place", "book", "of", "rule", "text_years", "text_place")
_SHORT = {"year": "years", "text_year": "text_years"}
COLUMNS = ("text", "mass_g", "volume_ml", "low", "high", "standing", "custom", "others", "reason", "fault")
# A plain number and what stands behind it, in which no other number hides: only the number differs from row to row.
_PLAIN = re.compile(r"(?P<number>[0-9]{1,9}(?:\.[0-9]{1,9})?)(?P<rest> ?[^\W\d_][^\d]*)")
_NOTHING_CHOSEN = (
    "nothing chosen: the answers are equally well founded; year, town, kind of book or the author's rule may decide"
)


def convert_table(
    quantities: pd.DataFrame | pd.Series[str] | Sequence[str] | str | Path,
    *,
    column: str = "text",
    years: str = "",
    place: str = "",
    book: str = "",
    of: str = "",
    rule: str = "",
    text_years: str = "",
    text_place: str = "",
) -> pd.DataFrame:
    """Return what every quantity of a column comes to, a row for each; what cannot be read is a fault of its row.

    Parameters
    ----------
    quantities : pandas.DataFrame, pandas.Series, sequence of str, or path of a CSV file
        The quantities as printed. A frame or file may have columns years, place, book, of, rule, text_years and
        text_place; an empty cell takes what is said for all.
    column : str
        The column of a frame or file that holds the quantities.
    years, place, book, of, rule, text_years, text_place : str
        As in `convert`, for every row.

    Returns
    -------
    pandas.DataFrame
        With the index of the frame: text, mass [g], volume [mL], lowest and highest figure (of the mass, else of the
        volume), standing and custom of the chosen answer, the other answers, the reason, and the fault. Where nothing
        is chosen the figures are empty.

    Raises
    ------
    InputError
        If there is no such column.
    FileError
        If the file cannot be read.

    Examples
    --------
    >>> table = convert_table(["2 g", "much"])
    >>> float(table.mass_g[0]), table.fault[1][:41]
    (2.0, "much: 'much' is not an amount with its un")
    """
    import pandas as pd  # noqa: PLC0415 - slow to load, so only when a table is asked for

    given = dict(zip(ASKED, (years, place, book, of, rule, text_years, text_place), strict=True))
    asked_of = _frame(quantities, column)
    texts, asked = _columns(asked_of, column, given)
    plans: dict[tuple[str, ...], _Plan | ReconlabError] = {}
    found = []
    for text, words in zip(texts, asked, strict=True):
        if words not in plans:
            plans[words] = _plan(words)
        found.append(_row(text, plans[words]))
    frame = pd.DataFrame.from_records(found, columns=list(COLUMNS), index=asked_of.index)
    return frame.astype(dict.fromkeys(("mass_g", "volume_ml", "low", "high"), "float64"))  # a column may be empty


def factor(
    unit: str,
    *,
    years: str = "",
    place: str = "",
    book: str = "",
    of: str = "",
    rule: str = "",
    text_years: str = "",
    text_place: str = "",
) -> Value:
    """Return what one of a unit comes to, to multiply a whole array by; with its reason.

    Parameters
    ----------
    unit : str
        As printed, such as ``"oz."`` or ``"ʒ"``.
    years, place, book, of, rule, text_years, text_place : str
        As in `convert`.

    Returns
    -------
    Value
        Grams where the mass is known, else millilitres; ``.number`` is the factor [g or mL].

    Raises
    ------
    InputError
        If this is no unit, or no answer is preferred.

    Examples
    --------
    >>> factor("drachms", years="1890", place="England").number * 3
    11.6638038
    """
    setting = Setting(years, place, book, rule, text_years, text_place)
    check_rule(rule)
    try:
        quantity = parse_quantity(f"1 {unit}")
    except InputError as fault:
        raise InputError(
            f"{unit!r} is no unit on file", "factor", 'Write it as printed, such as "oz." or "ʒ".'
        ) from fault
    answers = converted(quantity, f"1 {unit}", setting, named(of, setting))
    one = answers.chosen
    if one is None:
        others = "; ".join(f"{other.custom} ({other.measure})" for other in answers.others)
        raise InputError(
            f"no source prefers one size of {unit!r} for {setting}", "factor", f"Say more; it may be: {others}."
        )
    kind, usual = ("mL", one.volume_ml) if one.mass_g is None else ("g", one.mass_g)
    return Value(usual or 0.0, *(one.limits or (0.0, 0.0)), kind, one.reason)


def _columns(frame: pd.DataFrame, column: str, given: Mapping[str, str]) -> tuple[list[str], list[tuple[str, ...]]]:
    import pandas as pd  # noqa: PLC0415

    if column not in frame:
        raise InputError(f"no column {column!r}", "convert_table", f"The columns are: {', '.join(map(str, frame))}.")
    # the shell says "year": a column so called is never passed over
    frame = frame.rename(columns={short: each for short, each in _SHORT.items() if each not in frame})
    texts = ["" if text is None or text is pd.NA or text != text else str(text) for text in frame[column]]  # noqa: PLR0124
    cells = [_cells(frame[name], given[name]) if name in frame else [given[name]] * len(texts) for name in ASKED]
    return texts, list(zip(*cells, strict=True))


def _cells(cells: pd.Series[str], otherwise: str) -> list[str]:
    words = cells.astype("object").where(cells.notna(), "").map(_word)
    return [word or otherwise for word in words]


def _word(cell: object) -> str:
    """Return a cell as a word: a spreadsheet makes the year 1890 a number, and of a gap in the column 1890.0."""
    return str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell).strip()


def _frame(quantities: pd.DataFrame | pd.Series[str] | Sequence[str] | str | Path, column: str) -> pd.DataFrame:
    import pandas as pd  # noqa: PLC0415

    if isinstance(quantities, pd.DataFrame):
        return quantities
    if not isinstance(quantities, str | Path):
        index = quantities.index if isinstance(quantities, pd.Series) else None
        return pd.DataFrame({column: list(quantities)}, dtype="object", index=index)
    try:
        return pd.read_csv(quantities, dtype=str, keep_default_na=False, encoding="utf-8-sig")
    except (OSError, ValueError) as fault:  # no file, no CSV, no UTF-8
        said = getattr(fault, "strerror", None) or str(fault).splitlines()[0]
        raise FileError(f"the file cannot be read ({said})", str(quantities), "Give a CSV file in UTF-8.") from fault


@dataclass(slots=True)
class _Plan:
    """What is the same for all rows of one setting and substance."""

    setting: Setting
    key: str
    of: str  # the name of the substance, which may mean a liquid where it is told by drops
    grammes: bool  # whether "gr." may be grammes there and then


def _plan(words: tuple[str, ...]) -> _Plan | ReconlabError:
    asked = dict(zip(ASKED, words, strict=True))
    of = asked.pop("of")
    try:
        setting = Setting(**asked)
        check_rule(setting.rule)
        return _Plan(setting, named(of, setting), of, grammes=gramme_standing(setting) != "unlikely")
    except ReconlabError as fault:
        return fault


_Row = tuple[str, float | None, float | None, float | None, float | None, str, str, str, str, str]


def _row(text: str, plan: _Plan | ReconlabError) -> _Row:
    try:
        if isinstance(plan, ReconlabError):
            raise plan  # said of every row it holds for
        read = None if DOUBTFUL.match(text) else _read(text)
        if read is None:
            return _row_of_answers(answered(text, plan.setting, plan.of))
        amounts, units = read
        # Nothing of an ounce is nothing of any; and gr. may have two meanings.
        if not any(amounts[0]) or (plan.grammes and ("grain", "abbreviation") in units):
            return _row_of_answers(answered(text, plan.setting, plan.of))
        return _row_of(text, amounts, units, plan)
    except ReconlabError as fault:
        return (text, None, None, None, None, "", "", "", "", str(fault))


def _row_of_answers(found: Conversion) -> _Row:
    one, others = found.chosen, "; ".join(f"{amount_words(a)} ({a.custom}, {a.standing})" for a in found.others)
    if one is None:
        return (found.text, None, None, None, None, "", "", others, _NOTHING_CHOSEN, "")
    says, (low, high) = one.reason.says, one.limits or (None, None)
    return (found.text, one.mass_g, one.volume_ml, low, high, one.standing, one.custom, others, says, "")


def _row_of(text: str, amounts: _Amounts, units: Units, plan: _Plan) -> _Row:
    usual, low, high = amounts
    shown = _shown(units, plan.setting, fluid_of(plan.key, plan.of, plan.setting, units))
    others = "; ".join([other.words(usual) for other in shown.others])
    chosen = shown.chosen
    if chosen is None:
        return (text, None, None, None, None, "", "", others, _NOTHING_CHOSEN, "")
    mass, volume = _times(chosen.grams, usual), _times(chosen.millilitres, usual)
    if max(mass or 0.0, volume or 0.0) > LARGEST:
        raise InputError("no receipt holds so much", text, "Check the figures.")
    lowest, highest = _times(chosen.lowest, low), _times(chosen.highest, high)
    return (text, mass, volume, lowest, highest, chosen.standing, chosen.custom, others, shown.reason, "")


_Amounts = tuple[Sequence[float], Sequence[float], Sequence[float]]  # usual, lowest, highest, of each part


def _read(text: str) -> tuple[_Amounts, Units] | None:
    """Return the parts of a plain quantity; None where it is spoilt print, or has the name of its thing."""
    plain = _PLAIN.fullmatch(text)
    units = _units_behind(plain["rest"]) if plain else None
    if plain is not None and units is not None:
        amount = (float(plain["number"]),)
        return (amount, amount, amount), units
    try:
        quantity = parse_quantity(text)
    except ReconlabError:
        return None
    usual, low, high = zip(*(amount_figures(part.amount, quantity) for part in quantity.parts), strict=True)
    return (usual, low, high), units_of(quantity)


@lru_cache(maxsize=4096)
def _units_behind(rest: str) -> Units | None:
    """Return the unit behind a plain number, where the number is all of the amount and the rest all of its unit."""
    found = []
    for trial in (2.0, 3.0):
        try:
            quantity = parse_quantity(f"{trial:g}{rest}")
        except ReconlabError:
            return None
        amount = quantity.parts[0].amount
        if len(quantity.parts) > 1 or not amount.value == amount.low == amount.high == trial:
            return None
        found.append(units_of(quantity))
    return found[0] if found[0] == found[1] else None


@dataclass(frozen=True, slots=True)
class _Factors:
    """What one of each unit comes to under one reading, ready to be multiplied."""

    grams: tuple[float, ...] | None
    millilitres: tuple[float, ...] | None
    lowest: tuple[float, ...] | None
    highest: tuple[float, ...] | None
    standing: str
    custom: str

    def words(self, amounts: Sequence[float]) -> str:
        """Return what it comes to, as it stands among the others."""
        mass = _times(self.grams, amounts)
        figures = f"{_times(self.millilitres, amounts):.6g} mL" if mass is None else f"{mass:.6g} g"
        return f"{figures} ({self.custom}, {self.standing})"


@dataclass(frozen=True, slots=True)
class _Shown:
    chosen: _Factors | None
    others: tuple[_Factors, ...]
    reason: str


@lru_cache(maxsize=4096)
def _shown(units: Units, setting: Setting, key: str) -> _Shown:
    found = readings(units, setting, key)
    factors = [_factors_of(reading) for reading in found]
    at = place_of_chosen([reading.standing for reading in found])
    if at is None:
        return _Shown(None, tuple(factors), "")
    others = tuple(one for place, one in enumerate(factors) if place != at)
    steps = (*(one.reason for one in found[at].sized), *found[at].because)
    return _Shown(factors[at], others, "; ".join(dict.fromkeys(step.says for step in steps)))


def _factors_of(reading: Reading) -> _Factors:
    def each(which: int, *, mass: bool) -> tuple[float, ...] | None:
        triples = [one.g if mass else one.ml for one in reading.sized]
        return None if None in triples else tuple(triple[which] for triple in triples if triple)

    weighed = each(0, mass=True) is not None
    return _Factors(
        each(0, mass=True),
        each(0, mass=False),
        each(1, mass=weighed),
        each(2, mass=weighed),
        reading.standing,
        reading.custom,
    )


def _times(factors: Sequence[float] | None, amounts: Sequence[float]) -> float | None:
    return None if factors is None else sum(map(mul, factors, amounts))
