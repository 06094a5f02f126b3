"""Ammonia, acids and other solutions: their strength from their gravity by a published table, and back."""

from __future__ import annotations

import re
from functools import cache

import numpy as np

from reconlab.errors import InputError, ReconlabError
from reconlab.reasons import Option, Question, Reason, Standing, Value
from reconlab.spirit.mixtures import SIXTY_F, Figures, FloatArray, plain, spirit_density, within
from reconlab.spirit.named import named_strength
from reconlab.spirit.printed import PRINTED, spirit_label, spirit_reference_c, strength_of
from reconlab.spirit.printed_words import PER_CENT, gravity_in, named_gravity, printed_figure, without_stops
from reconlab.tables import SolutionDensity, Strength, Substance, by_id, rows

SOLUTION = "solution: "  # starts the key of a solution whose strength is printed: "solution: ammonia, .880 (1)"
SPIRIT = "ethanol"  # what spirits are solutions of
_UNIT = "% w/w"
_SAME = 1e-9  # two lines that meet at one strength
_BARE_GRAVITY = re.compile(r"(?:(?:s ?g|density)\s*)?(?:of|=|:)?\s*(?P<figure>\d?[.,]\d+)")
_SHARE = re.compile(rf"(?P<figure>\d+(?:[.,]\d+)?){PER_CENT}\s*,?\s*(?:by weight|w/w)?")


def has_table(substance: str) -> bool:
    """Return whether a table of the densities of its solutions is on file.

    Parameters
    ----------
    substance : str
        Id of a substance.

    Returns
    -------
    bool
        Whether there is one.

    Examples
    --------
    >>> has_table("ammonia"), has_table("talc")
    (True, False)
    """
    return any(row.substance == substance for row in rows(SolutionDensity))


@cache
def _table(substance: str) -> tuple[FloatArray, FloatArray, float]:
    found = sorted((row for row in rows(SolutionDensity) if row.substance == substance), key=lambda r: r.percent_w_w)
    percents, gravities = (np.array([getattr(row, name) for row in found]) for name in ("percent_w_w", "sp_gr"))
    celsius = found[0].reference_c
    return percents, gravities, SIXTY_F if celsius is None else celsius


def solution_gravity(substance: str, percent_w_w: Figures) -> Figures:
    """Return the specific gravity of a solution: straight between the lines of its table, refused outside it.

    Parameters
    ----------
    substance : str
        Id of what is dissolved, such as ``"ammonia"``.
    percent_w_w : float or array
        How much of it by weight [% w/w].

    Returns
    -------
    float or array
        Specific gravity at the temperature of the table [1].

    Raises
    ------
    InputError
        If there is no table of the substance, or it does not reach so far.

    References
    ----------
    .. [1] Tables of aqua ammonia by degrees Baumé. Key ``aqua_ammonia_conversions``.
    .. [2] Dick, no. 3897, acetic acid (Mohr). Key ``dick_1872``.
    .. [3] The Encyclopaedic Dictionary of Photography, hydrochloric acid. Key ``dictionary_of_photography``.
    .. [4] Beringer, sulphuric acid. Key ``beringer_assaying_tables``.
    .. [5] Simmons and Appleton, caustic soda and potash, from Hurst. Key ``simmons_appleton_soap``.

    Examples
    --------
    >>> round(solution_gravity("ammonia", 28), 3)  # U.S.P. 1890: 0.901
    0.902
    """
    percents, gravities, _ = _known(substance)
    found = within(percent_w_w, float(percents[0]), float(percents[-1]), f"solution of {substance}, % w/w")
    return plain(np.asarray(np.interp(found, percents, gravities)))


def solution_density(substance: str, percent_w_w: Figures) -> Figures:
    """Return the density of a solution at the temperature of its table.

    Parameters
    ----------
    substance : str
        Id of what is dissolved.
    percent_w_w : float or array
        How much of it by weight [% w/w].

    Returns
    -------
    float or array
        Density [g/mL].

    Raises
    ------
    InputError
        As `solution_gravity`.

    References
    ----------
    .. [1] As `solution_gravity`. Key ``aqua_ammonia_conversions``.

    Examples
    --------
    >>> round(solution_density("ammonia", 10), 3)
    0.959
    """
    gravity = solution_gravity(substance, percent_w_w)
    return plain(np.asarray(gravity * np.asarray(spirit_density(0.0, _known(substance)[2]))))


def percents_from_gravity(substance: str, gravity: float) -> tuple[float, ...]:
    """Return the strengths at which a solution has a specific gravity, by its table.

    Acetic acid is heaviest at about 80 per cent, so that one gravity may mean two strengths.

    Parameters
    ----------
    substance : str
        Id of what is dissolved.
    gravity : float
        Specific gravity [1].

    Returns
    -------
    tuple of float
        Each strength, the least first [% w/w].

    Raises
    ------
    InputError
        If there is no table of the substance, or no line of it is so heavy or so light.

    References
    ----------
    .. [1] As `solution_gravity`. Key ``aqua_ammonia_conversions``.

    Examples
    --------
    >>> [round(percent, 1) for percent in percents_from_gravity("ammonia", 0.88)]
    [35.8]
    """
    percents, gravities, celsius = _known(substance)
    found: list[float] = []
    for first in range(len(percents) - 1):
        low, high = sorted(gravities[first : first + 2])
        if low <= gravity <= high and low < high:
            ends = slice(first, first + 2)
            order = np.argsort(gravities[ends])
            percent = float(np.interp(gravity, gravities[ends][order], percents[ends][order]))
            if not any(abs(percent - old) < _SAME for old in found):
                found.append(percent)
    if not found:
        between = f"{gravities.min():g} to {gravities.max():g} at {celsius:.1f} C"
        raise InputError(f"{gravity:g} is outside the table", f"solution of {substance}", f"It reaches from {between}.")
    return tuple(found)


def _known(substance: str) -> tuple[FloatArray, FloatArray, float]:
    if not has_table(substance):
        on_file = ", ".join(dict.fromkeys(row.substance for row in rows(SolutionDensity)))
        raise InputError(f"no table of solutions of {substance}", "solution_densities.csv", f"There is: {on_file}.")
    return _table(substance)


def solution_question(substance: str, text: str) -> Question:
    """Return a printed strength of a solution as a question; one gravity may be two strengths.

    Parameters
    ----------
    substance : str
        Id of what is dissolved.
    text : str
        The strength as printed: a specific gravity or per cents by weight.

    Returns
    -------
    Question
        Each answer's key gives its strength again by `content_of`.

    Raises
    ------
    InputError
        If the words are no strength of it, or outside its table.

    Examples
    --------
    >>> [option.key for option in solution_question("ammonia", ".880").options]
    ['solution: ammonia, .880 (1)']
    """
    words = _plain_words(text)
    found = _contents(substance, words)
    standing: Standing = "likely" if len(found) == 1 else "possible"
    options = (
        Option(f"{SOLUTION}{substance}, {words} ({number})", standing, value.reason, f"{value.number:.1f} {_UNIT}")
        for number, value in enumerate(found, start=1)
    )
    return Question(f"strength: {substance} {words}", f"How strong was {substance} of {words}?", tuple(options))


def _plain_words(text: str) -> str:
    return re.sub(r"^(?:of the|of|containing)\s+", "", without_stops(text))


@cache
def _contents(substance: str, words: str) -> tuple[Value, ...]:
    if match := _SHARE.fullmatch(words):
        number = printed_figure(match["figure"]).value
        solution_gravity(substance, number)  # refused outside the table
        return (Value(number, number, number, _UNIT, Reason(f"{number:g} per cent by weight")),)
    match = _BARE_GRAVITY.fullmatch(words)
    printed = gravity_in(words) or (match["figure"] if match else "")
    if not printed:
        raise InputError(f"{words!r} is no strength of {substance}", "strength", 'Write it as "sp. gr. .880".')
    gravity = printed_figure(printed).value
    row = next(row for row in rows(SolutionDensity) if row.substance == substance)
    celsius = _known(substance)[2]
    said = f"sp. gr. {gravity:g} at {celsius:.1f} C, by a table of its solutions"
    percents = percents_from_gravity(substance, gravity)
    return tuple(Value(p, p, p, _UNIT, row.reason(f"{said}: {p:.1f} {_UNIT}")) for p in percents)


def solute_of(key: str) -> str:
    """Return what a thing is a solution of: a spirit of ethanol, liquor ammoniae of ammonia.

    Parameters
    ----------
    key : str
        Id of a row of ``strengths.csv``, or a key of a printed strength.

    Returns
    -------
    str
        Id of the substance; empty where it is no solution.

    Examples
    --------
    >>> solute_of("rectified_spirit"), solute_of("solution: ammonia, .880 (1)"), solute_of("talc")
    ('ethanol', 'ammonia', '')
    """
    row = by_id(Strength).get(key)
    if row is not None:
        return row.solute
    if key.startswith(PRINTED):
        return SPIRIT if strength_of(key) is not None else ""
    match = _key(key) if key.startswith(SOLUTION) else None
    return match["substance"] if match and content_of(key) is not None else ""


def _key(key: str) -> re.Match[str] | None:
    return re.fullmatch(rf"{SOLUTION}(?P<substance>[a-z0-9_]+), (?P<words>.+) \((?P<number>\d)\)", key)


def content_of(key: str) -> Value | None:
    """Return how much of its substance a spirit or another solution holds.

    Parameters
    ----------
    key : str
        Id of a row of ``strengths.csv``, or a key of a printed strength.

    Returns
    -------
    Value or None
        Share by weight [% w/w]; None where the key is no solution.

    Examples
    --------
    >>> print(content_of("solution: ammonia, .880 (1)"))
    35.8 % w/w
    """
    if key in by_id(Strength):
        return named_strength(key)
    match = _key(key) if key.startswith(SOLUTION) else None
    if match is None:
        return strength_of(key)
    try:
        found = _contents(match["substance"], match["words"])
    except ReconlabError:
        return None
    number = int(match["number"])
    return found[number - 1] if 1 <= number <= len(found) else None


def content_density(key: str, percent_w_w: Figures) -> Figures:
    """Return the density of a spirit or another solution at the temperature of its source.

    Parameters
    ----------
    key : str
        As in `content_of`.
    percent_w_w : float or array
        How much of its substance it holds by weight [% w/w].

    Returns
    -------
    float or array
        Density [g/mL]; where no table reaches, that of the gravity its source prints.

    Raises
    ------
    InputError
        If neither a table nor its source tells.

    Examples
    --------
    >>> round(content_density("rectified_spirit", 85.68), 3)
    0.833
    """
    solute = solute_of(key)
    if solute == SPIRIT:
        return spirit_density(percent_w_w, spirit_reference_c(key))
    try:
        return solution_density(solute, percent_w_w)
    except InputError:
        gravity = printed_gravity(key)
        if gravity is None:
            raise
        return plain(np.full_like(np.asarray(percent_w_w, float), gravity * float(spirit_density(0.0, density_c(key)))))


def printed_gravity(key: str) -> float | None:
    """Return the specific gravity the source of a solution on file prints.

    Parameters
    ----------
    key : str
        Id of a row of ``strengths.csv``.

    Returns
    -------
    float or None
        Specific gravity [1]; None where none is printed.

    Examples
    --------
    >>> printed_gravity("liquor_potassae_bp")
    1.058
    """
    row = by_id(Strength).get(key)
    found = named_gravity(without_stops(row.as_printed)) if row else None
    return found.value if found else None


def density_c(key: str) -> float:
    """Return the temperature `content_density` holds for.

    Parameters
    ----------
    key : str
        As in `content_of`.

    Returns
    -------
    float
        Temperature [degrees Celsius].

    Examples
    --------
    >>> round(density_c("solution: ammonia, .880 (1)"), 1)
    15.6
    """
    solute = solute_of(key)
    return _table(solute)[2] if solute != SPIRIT and has_table(solute) else spirit_reference_c(key)


def content_label(key: str) -> str:
    """Return how a person reads a spirit or another solution.

    Parameters
    ----------
    key : str
        As in `content_of`.

    Returns
    -------
    str
        Its name.

    Examples
    --------
    >>> content_label("solution: ammonia, .880 (1)")
    'solution of ammonia, .880'
    """
    match = _key(key) if key.startswith(SOLUTION) else None
    if match is None:
        return spirit_label(key)
    row = by_id(Substance).get(match["substance"])
    name = row.name.split(",")[0] if row else match["substance"]
    return f"solution of {name}, {match['words']}"
