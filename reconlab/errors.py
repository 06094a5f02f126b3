"""Errors a practitioner can act on: what was found, where, and what to do."""

from collections.abc import Iterable


class ReconlabError(Exception):
    """Base of every error this library raises on purpose.

    Parameters
    ----------
    found : str
        What was found, in the words of the person or the page.
    where : str
        The file, line, field or argument it was found in; empty if it stands alone.
    remedy : str
        What to do about it.

    Examples
    --------
    >>> print(ReconlabError("no text", "page.txt", "Paste the receipt, one line an ingredient."))
    page.txt: no text. Paste the receipt, one line an ingredient.
    """

    def __init__(self, found: str, where: str, remedy: str) -> None:
        super().__init__(found, where, remedy)  # all three, so that the error survives pickling
        self.found, self.where, self.remedy = found, where, remedy

    def _render_traceback_(self) -> list[str]:
        """Let a notebook show the sentence, not the way through the code."""
        return [str(self)]

    def __str__(self) -> str:
        """Say what was found, where, and what to do."""
        place = f"{self.where}: " if self.where else ""
        return f"{place}{self.found}. {self.remedy}"


def nearest(word: str, known: Iterable[str]) -> str:
    """Return a hint at what a person may have meant, or nothing.

    Parameters
    ----------
    word : str
        What was given.
    known : iterable of str
        What there is.

    Returns
    -------
    str
        ``" Nearest: ..."`` with at most three words, or an empty text.

    Examples
    --------
    >>> nearest("cold craem", ["cold cream", "hair oil"])
    ' Nearest: cold cream.'
    """
    from difflib import get_close_matches  # noqa: PLC0415 - only for a message

    near = get_close_matches(word.lower(), sorted(known), n=3)
    return f" Nearest: {', '.join(near)}." if near else ""


class InputError(ReconlabError, ValueError):
    """A word or figure a person gave cannot be used."""


def text_given(given: object, where: str) -> str:
    """Return what a person gave, where it is text.

    Parameters
    ----------
    given : object
        What stands for a word.
    where : str
        The argument it was given for.

    Returns
    -------
    str
        The same.

    Raises
    ------
    InputError
        If it is anything but text.

    Examples
    --------
    >>> text_given("1 oz.", "text")
    '1 oz.'
    """
    if not isinstance(given, str):
        raise InputError(
            f"{given!r} is no text", where, 'Write it in quotes, such as "1890"; "" where it is not known.'
        )
    return given


class NoIngredientError(InputError):
    """A page holds no ingredient with an amount."""


class SeveralReceiptsError(InputError):
    """A page holds more than one receipt where one is asked for."""


class UnknownNameError(ReconlabError, LookupError):
    """Nothing on file answers to this name."""


class AmbiguousError(ReconlabError, LookupError):
    """More than one thing answers to these words."""


class FileError(ReconlabError, OSError):
    """A file cannot be read or written."""

    def __init__(self, found: str, where: str, remedy: str) -> None:
        ReconlabError.__init__(self, found, where, remedy)

    __str__ = ReconlabError.__str__  # OSError would print its own three arguments


class RecordError(ReconlabError, ValueError):
    """A record does not keep its format."""


class TableError(ReconlabError, ValueError):
    """A row of a reference table does not keep its schema."""
