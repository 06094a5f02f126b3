"""What a person gives to be read: whether it is a page's words, and whether what is said beside it can be used."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, TypeVar

from reconlab.errors import InputError, nearest

_P = ParamSpec("_P")
_Read = TypeVar("_Read")

_CONTROL = re.compile(r"[\x00-\x08\x0e-\x1b\x7f-\x84\x86-\x9f]+|\N{REPLACEMENT CHARACTER}{3,}")
_SAMPLE = 100_000  # characters that tell what a text is
_MOST_CONTROLS = 0.05  # share of signs that no page prints
_TAG = re.compile(r"<\s*(?:!doctype|html|head|body|div|p|table|span|br)\b[^>]*>", re.IGNORECASE)
_FILE = re.compile(
    r"[^\n,;]{0,200}[^\s,;.]\.(?:txt|text|md|csv|docx?|odt|rtf|pdf|html?|ya?ml|json|png|jpe?g|tiff?|bmp|webp)",
    re.IGNORECASE,
)
_OF_FILE = (
    "Give its words: rl.read(open(name, encoding='utf-8').read()); at the shell: reconlab read NAME. "
    "A picture of a page is read by rl.read_image."
)
_ALSO = {"year": "years", "text_year": "text_years"}  # what columns and the shell call them
_YEARS = tuple(_ALSO.values())


def in_known_words(reads: Callable[_P, _Read]) -> Callable[_P, _Read]:
    """Let a function say what it takes where a word it does not know is given, and take years as numbers too.

    Parameters
    ----------
    reads : callable
        A function with named arguments.

    Returns
    -------
    callable
        The same; ``year`` is ``years`` to it.

    Raises
    ------
    InputError
        By the function given back, where it does not know a word.

    Examples
    --------
    >>> @in_known_words
    ... def told(text: str, *, years: str = "") -> str:
    ...     return f"{text}, {years}"
    >>> told("Starch", year=1890)
    'Starch, 1890'
    >>> told("Starch", yaer="1890")
    Traceback (most recent call last):
    reconlab.errors.InputError: told: 'yaer' is nothing it takes. Nearest: year, years. It takes: text, years.
    """
    known = tuple(name for name in inspect.signature(reads).parameters if name != "self")

    @wraps(reads)
    def given(*args: _P.args, **kwargs: _P.kwargs) -> _Read:
        for word in [word for word in kwargs if word not in known]:
            meant = _ALSO.get(word, "")
            if meant not in known or meant in kwargs:
                hint = nearest(word, {*known, *_ALSO}).strip()
                raise InputError(
                    f"{word!r} is nothing it takes", reads.__name__, f"{hint} It takes: {', '.join(known)}.".lstrip()
                )
            kwargs[meant] = kwargs.pop(word)
        for word in _YEARS:
            if isinstance(kwargs.get(word), int):
                kwargs[word] = str(kwargs[word])
        return reads(*args, **kwargs)

    return given


def check_text(text: str) -> None:
    """Refuse what is no page: nothing, the code of a web page, or the bytes of another kind of file.

    Parameters
    ----------
    text : str
        What was given.

    Raises
    ------
    InputError
        If it is none of a page's words.

    Examples
    --------
    >>> check_text("<html><body>")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    reconlab.errors.InputError: receipt: this is the code of a web page. Copy the words of the page as you see them, ...
    """
    if not isinstance(text, str):
        raise InputError(f"{text!r} is no text", "receipt", _OF_FILE)
    if not text.strip():
        raise InputError("there is no text", "receipt", "Paste the receipt as printed, one line an ingredient.")
    if _FILE.fullmatch(text.strip()):
        raise InputError(f"{text.strip()!r} is the name of a file, not the words in it", "receipt", _OF_FILE)
    sample = text.strip()[:_SAMPLE]  # blanks at the ends are no words
    if sum(map(len, _CONTROL.findall(sample))) > _MOST_CONTROLS * len(sample):
        raise InputError(
            "these are the bytes of a file that is no text",
            "receipt",
            "Give the words of the page; a picture of it is read by rl.read_image.",
        )
    if _TAG.search(text):
        raise InputError(
            "this is the code of a web page", "receipt", "Copy the words of the page as you see them, not its code."
        )
