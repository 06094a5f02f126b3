"""A name with a strength in it, as a person types it: "alcool à 60°", "spirit of wine, 60 o.p."."""

from __future__ import annotations

from collections.abc import Sequence

from reconlab.errors import InputError, UnknownNameError
from reconlab.materia import ETHANOL, identify
from reconlab.reading.quantities import quantity_at
from reconlab.reading.strengths import basis_after, is_gravity, links_before, strength_at
from reconlab.reading.tokens import Token, tokens
from reconlab.receipts import Setting
from reconlab.spirit import strength_of, strength_question


def spirit_of(name: str, setting: Setting) -> str:
    """Return the key of a spirit whose strength stands beside its name.

    Parameters
    ----------
    name : str
        As printed.
    setting : Setting
        When and where.

    Returns
    -------
    str
        Empty where no strength is printed, the thing is no spirit, or the figure may mean several strengths.

    Examples
    --------
    >>> spirit_of("spirit of wine, 60 o.p.", Setting("1857", "England"))
    'spirit: 60 o p (uk_over_proof)'
    >>> spirit_of("rose water", Setting())
    ''
    """
    line = tokens(name)
    for at in range(1, len(line)):
        after = _strength_after(line, at)
        if after is None:
            continue
        first = links_before(line, at)
        words, said = name[: line[first].start].rstrip(" ,("), name[line[at].start : line[after - 1].end]
        question = identify(words, setting) if words else None
        keys = [option.key for option in question.options] if question is not None else []
        if not keys or not all(key == ETHANOL or strength_of(key) is not None for key in keys):
            return ""
        try:
            chosen = strength_question(said, setting, words).chosen
        except (InputError, UnknownNameError):
            return ""
        return chosen.key if chosen is not None else ""
    return ""


def without_strength(line: Sequence[Token]) -> list[Token]:
    """Return the words of a name without how strong the thing is.

    Parameters
    ----------
    line : sequence of Token
        The words as printed.

    Returns
    -------
    list of Token
        Those of the name alone.

    Examples
    --------
    >>> [token.text for token in without_strength(tokens("ammonia .880"))]
    ['ammonia']
    """
    told: list[Token] = []
    at = 0
    while at < len(line):
        after = _strength_after(line, at)
        if after is None and not (line[at].text == "," or is_gravity(line[at].text)):
            told.append(line[at])
        at = at + 1 if after is None else after
    return told


def _strength_after(line: Sequence[Token], at: int) -> int | None:
    """Return the token behind a strength that starts here: degrees, proof, gravity or a per cent."""
    strong = strength_at(line, at)
    if strong is not None:
        return strong.after
    share = quantity_at(line, at)
    if share is None or share.quantity.parts[0].unit != "percent":
        return None
    return basis_after(line, share.after)
