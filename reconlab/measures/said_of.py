"""What an author's own rule says an amount of: "half an ounce of water", "in syrups half an ounce"."""

from __future__ import annotations

from functools import lru_cache

from reconlab.errors import AmbiguousError, InputError, UnknownNameError
from reconlab.materia import folded, identify, substance_id, thing
from reconlab.reading.rules import read_rule
from reconlab.receipts import Setting


def check_substances(rule: str) -> None:
    """Refuse a rule that speaks of what nobody knows: a word that was not understood.

    Parameters
    ----------
    rule : str
        The author's words.

    Raises
    ------
    InputError
        If a substance in it is not on file.

    Examples
    --------
    >>> check_substances("a teaspoonful is one drachm of water")
    """
    for claim in read_rule(rule):
        if claim.substance and not kind_said(claim.substance) and not substance_said(claim.substance):
            found = f"{claim.substance!r} in the author's rule {rule!r} is not understood"
            raise InputError(found, "rule", "Name a substance on file, or leave it out.")


_KINDS = {"syrup", "water", "oil", "powder", "solid", "liquid", "fluid", "spirit", "tincture", "wine", "vinegar"}


def kind_said(words: str) -> str:
    """Return the kind of thing that a plural names.

    Parameters
    ----------
    words : str
        What an amount is said of.

    Returns
    -------
    str
        Its kind; empty where one thing is meant.

    Examples
    --------
    >>> kind_said("distilled waters"), kind_said("water")
    ('water', '')
    """
    last = words.rsplit(maxsplit=1)[-1]
    return last.removesuffix("s") if last.endswith("s") and last.removesuffix("s") in _KINDS else ""


@lru_cache(maxsize=256)
def substance_said(words: str) -> str:
    """Return the id of the thing an amount is said of.

    Parameters
    ----------
    words : str
        Its name.

    Returns
    -------
    str
        Empty where nothing on file is called so.

    Examples
    --------
    >>> substance_said("water"), substance_said("florble")
    ('water', '')
    """
    question = identify(words, Setting())
    if question is not None:
        return (question.chosen or question.options[0]).key
    try:
        return substance_id(words)
    except (UnknownNameError, AmbiguousError):
        return ""


def is_such(kind: str, key: str) -> bool:
    """Return whether a thing is of a kind a rule speaks of.

    Parameters
    ----------
    kind : str
        As `kind_said` gives it.
    key : str
        Id of the thing.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> is_such("water", "rose_water"), is_such("powder", "glycerin")
    (True, False)
    """
    what = thing(key)
    if kind in ("powder", "solid", "liquid", "fluid"):
        return what.on_file and what.liquid == (kind in ("liquid", "fluid"))
    return kind in (what.state, *what.class_.split(), *folded(what.name).split())
