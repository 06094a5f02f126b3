"""What a name of spirit meant, there and then."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache

from reconlab.errors import UnknownNameError, nearest
from reconlab.reasons import Option, Question, Reason, Standing, Value, in_order
from reconlab.receipts import Setting
from reconlab.spirit.mixtures import SIXTY_F, by_weight, by_weight_from_gravity
from reconlab.spirit.scales import from_degrees, scale_row
from reconlab.tables import DensityCoefficient, Strength, StrengthScale, by_id, rows

_UNIT = "% w/w"


def spirit_question(name: str, setting: Setting) -> Question:
    """Return how strong a spirit of this name was, there and then.

    Parameters
    ----------
    name : str
        Name as printed, such as ``"Rectified spirit"`` or ``"trois-six"``.
    setting : Setting
        When and where the book was printed, and its kind.

    Returns
    -------
    Question
        Every strength on file is an answer, by its id; none is likely where year or place are not known.
        `named_strength` gives the figure of an answer.

    Raises
    ------
    UnknownNameError
        If no strength of that name is on file.

    Examples
    --------
    >>> spirit_question("Rectified spirit", Setting("1911", "England")).chosen.key
    'rectified_spirit'
    """
    wanted = _folded(name)
    found = [row for row in rows(Strength) if wanted in row.names]
    if not found:
        hint = nearest(wanted, {each for row in rows(Strength) for each in row.names})
        remedy = f"Give its strength, as printed, or add a row with its source to your own tables.{hint}"
        raise UnknownNameError(f"no strength of {name!r} is on file", "spirit", remedy)
    return Question(f"spirit: {wanted}", f"How strong was {name}?", in_order(spirit_options(found, setting)))


def spirit_options(found: Iterable[Strength], setting: Setting) -> list[Option]:
    """Return strengths of one name as answers, with their standing there and then.

    Parameters
    ----------
    found : iterable of Strength
        Every strength on file the name had.
    setting : Setting
        When and where the book was printed, and its kind.

    Returns
    -------
    list of Option
        Where a source speaks for this year and place, a strength of elsewhere is no answer, but the proof of another
        country's law an unlikely one. Where none does, those of
        the country and nearest in time come first, and one later than the book is unlikely.

    Examples
    --------
    >>> found = [row for row in rows(Strength) if "brandy" in row.names]
    >>> [option.key for option in spirit_options(found, Setting("1900", "United States"))]
    ['brandy_usp_1890', 'brandy_cognac_goddard']
    """
    found = tuple(found)
    known = setting.span is not None and bool(setting.region)
    here = [row for row in found if known and _speaks_for(row, setting)]
    rest = sorted(found, key=lambda row: _far(row, setting)) if known else found
    own = any(setting.within(row.regions, None, None) for row in rest)
    options = [_option(row, setting, known=known, here=bool(here), own=own) for row in here or rest]
    return options + [_foreign_proof(row, setting) for row in found if here and _is_proof_abroad(row, setting)]


def _is_proof_abroad(row: Strength, setting: Setting) -> bool:
    """Return whether a strength is the proof that the law of another country fixed at that time."""
    by_law = row.standing == "likely" and not row.books and not _proof_words().isdisjoint(row.names)
    in_time = setting.within((), row.from_year, row.to_year)
    return by_law and in_time and not setting.within(row.regions, None, None)


@cache
def _proof_words() -> frozenset[str]:
    return frozenset(word for row in rows(StrengthScale) if row.form == "proof" for word in row.said)


def _foreign_proof(row: Strength, setting: Setting) -> Option:
    says = f"{row.label}, unlikely for {setting}: only where the receipt is taken over from a book of another country"
    return Option(row.id, "unlikely", Reason(says, (), (named_strength(row.id).reason,)), row.label)


def _far(row: Strength, setting: Setting) -> tuple[bool, int]:
    """Return how far a row that does not speak for a time and place lies off: in another country, by how many years."""
    first, last = setting.of_text.span or (0, 0)
    late = max(0, (row.from_year or first) - last)
    early = max(0, first - (row.to_year or first))
    return not setting.within(row.regions, None, None), late + early


def _is_later(row: Strength, setting: Setting) -> bool:
    span = setting.of_text.span
    return span is not None and row.from_year is not None and row.from_year > span[1]


def _option(row: Strength, setting: Setting, *, known: bool, here: bool, own: bool) -> Option:
    because = (named_strength(row.id).reason,)
    if not here:
        later = known and _is_later(row, setting)
        missing = "no source on file speaks for this year and place" if known else "year or place is not given"
        foreign = known and own and not setting.within(row.regions, None, None)
        why = f", and this one, of {row.from_year}, is later than the book" if later else ""
        why += ", and this one is of another country" if foreign else ""
        standing: Standing = "unlikely" if later or foreign else "possible"
        return Option(row.id, standing, Reason(f"{row.label}: {missing}{why}", (), because), row.label)
    says = row.reason(f"{row.label}, {row.standing} for {setting}: {row.because}", *because)
    return Option(row.id, row.standing, says, row.label)


def _speaks_for(row: Strength, setting: Setting) -> bool:
    return setting.of_kind(row.books) and setting.within(row.regions, row.from_year, row.to_year)


def named_strength(answer: str) -> Value:
    """Return the strength by weight of one answer to `spirit_question`.

    Parameters
    ----------
    answer : str
        Key of the answer: the id of a row of ``strengths.csv``.

    Returns
    -------
    Value
        Ethanol by weight, with its range [% w/w].

    Raises
    ------
    UnknownNameError
        If there is no such row.

    Examples
    --------
    >>> print(named_strength("rectified_spirit_bp_1885"))
    84 % w/w
    """
    if answer not in by_id(Strength):
        hint = nearest(answer, by_id(Strength))
        raise UnknownNameError(f"no spirit {answer!r} is on file", "strengths.csv", f"Ask spirit_question first.{hint}")
    return _named_strength(answer)


@cache
def _named_strength(answer: str) -> Value:
    row = by_id(Strength)[answer]
    turn, chain = _turn(row.unit, row.reference_c)
    ends = [turn(figure) for figure in (row.low, row.value, row.high) if figure is not None]
    says = f"{row.label}: {row.as_printed or 'no page was read'}, {turn(row.value):.1f} {_UNIT}"
    return Value(turn(row.value), min(ends), max(ends), _UNIT, row.reason(says, *chain))


def nearest_names(words: str, solute: str = "") -> str:
    """Return a hint at what is on file where words name no strength: names like them, or with their longest word.

    Parameters
    ----------
    words : str
        A name as printed.
    solute : str, optional
        Only names of solutions of this, such as ``"ethanol"``.

    Returns
    -------
    str
        ``" Nearest: ..."``, or an empty text.

    Examples
    --------
    >>> nearest_names("rectifyed spirit").startswith(" Nearest: rectified spirit")
    True
    """
    called = sorted({each for row in rows(Strength) if solute in ("", row.solute) for each in row.names})
    wanted = _folded(words)
    longest = max(wanted.split(), key=len, default="")
    with_it = [name for name in called if longest and longest in name.split()]
    return nearest(wanted, called) or (f" On file: {', '.join(with_it[:3])}." if with_it else "")


def _turn(unit: str, reference_c: float | None) -> tuple[Callable[[float], float], tuple[Reason, ...]]:
    """Return how figures of a unit become % w/w, and on what that rests."""
    temperature = SIXTY_F if reference_c is None else reference_c
    turns: dict[str, tuple[Callable[[float], float], tuple[Reason, ...]]] = {
        "percent_w_w": (float, ()),
        "percent_v_v": (lambda figure: float(by_weight(figure, temperature)), (formula_reason(),)),
        "sp_gr": (lambda figure: float(by_weight_from_gravity(figure, temperature)), (formula_reason(),)),
        "over_proof": _scale("uk_over_proof"),
        "cartier": _scale("cartier"),
    }
    return turns[unit]


def _scale(scale: str) -> tuple[Callable[[float], float], tuple[Reason, ...]]:
    row = scale_row(scale)
    return lambda figure: float(from_degrees(figure, scale)), (
        row.reason(f"{row.label}: {row.as_printed}"),
        formula_reason(),
    )


def formula_reason() -> Reason:
    """Return what every density of ethanol and water rests on.

    Returns
    -------
    Reason
        The international formula.

    Examples
    --------
    >>> formula_reason().says
    'density of ethanol and water by the international formula'
    """
    return rows(DensityCoefficient)[0].reason("density of ethanol and water by the international formula")


def _folded(name: str) -> str:
    return " ".join(name.lower().replace(".", " ").replace("\N{RIGHT SINGLE QUOTATION MARK}", "'").split())
